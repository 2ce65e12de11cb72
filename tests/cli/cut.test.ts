import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { pathOffsetPoint } from '../../src/core/geom/index.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import type { RailLine } from '../../src/core/track/types.ts'
import type { RailJoint, RailPiece, RailRun } from '../../src/core/rails/types.ts'
import type { Shopping } from '../../src/core/shopping/index.ts'
import type { CutPlan } from '../../src/core/sticks/index.ts'
import { planFromFile } from '../../src/cli/planFile.ts'
import { csvRead } from '../support/csvRead.ts'
import { pdfRead } from '../support/pdfPages.ts'
import { waybench, waybenchJson } from '../support/waybench.ts'

const folder = mkdtempSync(join(tmpdir(), 'waybench-cut-'))
const demo = 'public/demo/fennimore.json'

/** A rail measured as a tape would, by chords of 2 mm: short of it by no more than a part in a million at 300 mm radius. */
function taped({ path, offsetMm, fromMm, toMm }: RailLine): number {
  const steps = Math.max(1, Math.ceil((toMm - fromMm) / 2))
  const points = Array.from({ length: steps + 1 }, (_, i) => pathOffsetPoint(path, fromMm + ((toMm - fromMm) * i) / steps, offsetMm))
  return points.slice(1).reduce((sum, { x, y }, i) => sum + Math.hypot(x - (points[i]?.x ?? 0), y - (points[i]?.y ?? 0)), 0)
}

describe('waybench cut, the demo added up', async () => {
  const out = join(folder, 'cut.csv')
  const pdf = join(folder, 'cut.pdf')
  const listsCsv = join(folder, 'lists.csv')
  const answer = (await waybenchJson('cut', demo, '--csv', out, '--lists', listsCsv, '--out', pdf, '--date', '2026-11-26')) as unknown as {
    readonly rails: {
      readonly pieces: readonly RailPiece[]
      readonly runs: readonly RailRun[]
      readonly joints: readonly RailJoint[]
      readonly sticks: readonly (CutPlan & { readonly code: number })[]
    }
    readonly roadbed: {
      readonly pieces: readonly { readonly id: string }[]
      readonly sheets: readonly { readonly strips: readonly { readonly pieces: readonly { readonly id: string }[] }[] }[]
    }
    readonly ties: {
      readonly count: number
      readonly sticks: readonly CutPlan[]
      readonly byOwner: readonly {
        readonly owner: {
          readonly kind: 'track' | 'turnout' | 'crossing'
          readonly track?: string
          readonly turnout?: string
          readonly crossing?: string
        }
        readonly count: number
      }[]
    }
    readonly shopping: Shopping
    readonly problems: readonly string[]
  }
  const { pieces, runs, joints, sticks } = answer.rails
  const plan = planFromFile(demo)
  const { trackwork } = pipelineCreate().derive(plan)

  it('pieces, gaps of joints and half the gaps at the ends are as long as each rail', () => {
    const of = new Map(pieces.map((piece) => [piece.id, piece]))
    for (const run of runs) {
      const laid = run.pieces.reduce((sum, id) => sum + (of.get(id)?.laidMm ?? Number.NaN), 0)
      const slips = joints.filter((joint) => joint.run === run.id).reduce((sum, { gapMm }) => sum + gapMm, 0)
      const isRing = run.isClosed && joints.some((joint) => joint.run === run.id)
      const ends = isRing ? 0 : (run.start.gapMm + run.end.gapMm) / 2
      expect(laid + slips + ends).toBeCloseTo(run.lengthMm, 6)
    }
  })

  it('rails of plain track are together as long as those drawn on the plan, measured with a tape', () => {
    const drawn = [...trackwork.tracks.values()].flatMap(({ rails }) => rails).reduce((sum, { gaugeLine }) => sum + taped(gaugeLine), 0)
    const listed = runs
      .flatMap(({ stretches }) => stretches)
      .reduce((sum, { owner, fromMm, toMm }) => sum + (owner.kind === 'track' ? toMm - fromMm : 0), 0)
    expect(drawn).toBeGreaterThan(20000)
    expect(Math.abs(listed - drawn)).toBeLessThan(0.5)
  })

  it('every piece lies on one stick, with a cut between any two, and the sticks are no fewer than the length asks for', () => {
    const all = sticks.flatMap((code) => code.sticks)
    expect(all.flatMap((stick) => stick.pieces.map(({ id }) => id)).toSorted()).toEqual(pieces.map(({ id }) => id).toSorted())
    for (const stick of all) {
      const cuts = 0.5 * (stick.pieces.length - 1)
      expect(stick.pieces.reduce((sum, { lengthMm }) => sum + lengthMm, cuts)).toBeLessThanOrEqual(914.4 + 1e-3)
    }
    const total = pieces.reduce((sum, { lengthMm }) => sum + lengthMm, 0)
    expect(all.length).toBeGreaterThanOrEqual(Math.ceil(total / 914.4))
    expect(
      sticks.every(({ isProven, gap, firstFit, stickCount }) => isProven && gap === 0 && stickCount <= (firstFit?.stickCount ?? Infinity)),
    ).toBe(true)
  })

  it('ties are as many as lie on the plan, each cut once; only the class that closes them up at joints may have one more or less at each', () => {
    const { tracks, turnouts, crossings } = trackwork
    for (const { owner, count } of answer.ties.byOwner) {
      const drawn = { track: tracks, turnout: turnouts, crossing: crossings }[owner.kind].get(
        owner.track ?? owner.turnout ?? owner.crossing ?? '',
      )
      const lineClass = plan.lineClasses[plan.tracks[owner.track ?? '']?.lineClass ?? '']
      const closedUp =
        (lineClass?.jointTieSpacingMm ?? null) === null ? 0 : joints.filter(({ place }) => place.track === owner.track).length
      expect(Math.abs(count - (drawn?.ties.length ?? Number.NaN))).toBeLessThanOrEqual(closedUp)
    }
    const owners = [tracks, turnouts, crossings].flatMap((all) => [...all.values()]).filter(({ ties }) => ties.length > 0)
    expect(answer.ties.byOwner).toHaveLength(owners.length)
    expect(answer.ties.byOwner.reduce((sum, { count }) => sum + count, 0)).toBe(answer.ties.count)
    expect(answer.ties.sticks.flatMap((size) => size.sticks.flatMap((stick) => stick.pieces))).toHaveLength(answer.ties.count)
  })

  it('every strip of roadbed lies on a sheet', () => {
    const placed = new Set(answer.roadbed.sheets.flatMap(({ strips }) => strips.flatMap((strip) => strip.pieces.map(({ id }) => id))))
    expect(answer.roadbed.pieces.length).toBeGreaterThan(10)
    expect(answer.roadbed.pieces.filter(({ id }) => !placed.has(id))).toEqual([])
  })

  it('the shopping list asks for those sticks, and for a joiner at each joint', () => {
    const needed = (what: string): number | undefined => answer.shopping.lines.find((line) => line.what === what)?.needed
    expect(needed('rail')).toBe(sticks.reduce((sum, { stickCount }) => sum + stickCount, 0))
    expect(needed('joiners')).toBe(joints.length)
  })

  it('the PDF, read back, has every rail, the proof and the shopping list', async () => {
    const { pages } = await pdfRead(new Uint8Array(readFileSync(pdf)))
    const texts = new Set(pages.flatMap((page) => page.texts))
    for (const title of ['Rails in the order of laying', 'Joints', 'Ties to cut', 'Shopping list', 'Problems'])
      expect(texts).toContain(title)
    expect(pieces.filter(({ id }) => !texts.has(id))).toEqual([])
    expect([...texts].join(' ')).toContain('proven: no cutting takes less')
  })

  it('the CSV of all lists has each list below its title, the ties and strips among them', () => {
    const rows = csvRead(readFileSync(listsCsv, 'utf8').slice(1))
    const from = (title: string): readonly (readonly string[])[] => {
      const start = rows.findIndex(([first]) => first === title)
      expect(start, title).toBeGreaterThanOrEqual(0)
      const end = rows.findIndex((row, i) => i > start && row.every((cell) => cell === ''))
      return rows.slice(start + 2, end)
    }
    const marks = (title: string): readonly string[] => from(title).map(([mark = '']) => mark)
    expect(marks('Rails in the order of laying').slice(0, pieces.length).toSorted()).toEqual(pieces.map(({ id }) => id).toSorted())
    for (const { id } of answer.roadbed.pieces) expect(marks('Roadbed strips')).toContain(id)
    const ties = from('Ties to cut')
    const total = ties.findIndex(([first]) => first === 'all')
    const count = ties.slice(0, total).reduce((sum, row) => sum + Number(row[6]), 0)
    expect([count, Number(ties[total]?.[6])]).toEqual([answer.ties.count, answer.ties.count])
    expect(from('Shopping list').length).toBeGreaterThanOrEqual(answer.shopping.lines.length)
  })

  it('the CSV has every piece once, on its stick', () => {
    const [heads = [], ...rows] = csvRead(readFileSync(out, 'utf8').slice(1))
    const at = (head: string): number => heads.indexOf(head)
    expect(rows.map((row) => row[at('Piece')]).toSorted()).toEqual(pieces.map(({ id }) => id).toSorted())
    const length = rows.reduce((sum, row) => sum + Number(row[at('Length mm')]), 0)
    expect(length).toBeCloseTo(
      pieces.reduce((sum, { lengthMm }) => sum + lengthMm, 0),
      0,
    )
  })
})

describe('waybench cut refuses', () => {
  it.each([
    [['--budget', '0'], '--budget 0: seconds are needed, above 0 and up to 3600, such as --budget 20.'],
    [['--budget', 'soon'], '--budget soon: seconds are needed'],
    [['--csv', demo], 'that is the plan itself; give another name.'],
    [['--out', 'cut.txt'], '--out cut.txt: the lists come as .pdf'],
    [['--csv', ''], '--csv: a file name is needed, such as --csv cut.csv.'],
  ])('%j', async (typed, says) => {
    const { code, err, out } = await waybench('cut', demo, ...typed)
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(err).toContain(says)
  })

  it('a folder that is not there, by the name of its option', async () => {
    const plan = join(folder, 'empty.json')
    const text = JSON.parse(readFileSync(demo, 'utf8')) as object
    writeFileSync(
      plan,
      JSON.stringify({ ...text, tracks: {}, turnouts: {}, crossings: {}, makers: {}, silences: {}, portals: {}, railJoints: {} }),
    )
    const { code, err } = await waybench('cut', plan, '--csv', join(folder, 'none', 'cut.csv'))
    expect(code).toBe(2)
    expect(err).toMatch(/^--csv .*cannot be written/)
    const empty = await waybench('cut', plan)
    expect(empty.out).toContain('Nothing is needed.')
  })
})
