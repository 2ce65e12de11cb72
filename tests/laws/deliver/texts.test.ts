import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { sheetPlanCorners, sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { DrawItem, Sheet, SheetOptions, SheetSubject, TextItem } from '../../../src/core/deliver/index.ts'
import { pageToPlan } from '../../../src/core/deliver/laidItem.ts'
import { textItemCorners } from '../../../src/core/deliver/text.ts'
import { boxContains, type Point } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { planRead } from '../../../src/formats/planjson.ts'
import { aPaper } from '../../support/paper.ts'

/** The space of a text is judged a tenth too wide: so much less on each side may touch. mm. */
const TOUCH_MM = 0.15

function demo(name: string): Plan {
  const read = planRead(readFileSync(`public/demo/${name}.json`, 'utf8'))
  if (!read.ok) throw new Error(`${name} cannot be read`)
  return read.plan
}

function subjectsOf(plan: Plan): readonly SheetSubject[] {
  return [
    ...Object.keys(plan.turnouts).map((id): SheetSubject => ({ kind: 'turnout', id })),
    ...Object.values(plan.tracks).flatMap((track) =>
      track.corners.map((corner): SheetSubject => ({ kind: 'curve', track: track.id, corner: corner.id })),
    ),
  ]
}

const optionsFor = (paper: string, units: SheetOptions['units']): SheetOptions => ({
  paper: aPaper(paper),
  marginMm: 8,
  overlapMm: 10,
  calibrationX: 1,
  calibrationY: 1,
  units,
  date: '2026-11-25',
})

type Quad = readonly Point[]
type Edge = readonly [Point, Point]

const turn = (a: Point, b: Point, p: Point): number => (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)
const edges = (quad: Quad): readonly Edge[] => quad.map((p, i): Edge => [p, quad[(i + 1) % quad.length] ?? p])
const crosses = ([a, b]: Edge, [c, d]: Edge): boolean => turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0
const holds = (quad: Quad, p: Point): boolean => edges(quad).every(([a, b]) => turn(a, b, p) >= 0)

const overlap = (a: Quad, b: Quad): boolean =>
  a.some((p) => holds(b, p)) || b.some((p) => holds(a, p)) || edges(a).some((e) => edges(b).some((f) => crosses(e, f)))
const runsThrough = (quad: Quad, line: Edge): boolean => holds(quad, line[0]) || edges(quad).some((edge) => crosses(edge, line))

/** Names, stations and tie lengths that the window shows. */
function textsIn(sheet: Sheet): readonly { readonly text: TextItem; readonly quad: Quad }[] {
  return sheet.items.flatMap((item) =>
    item.kind === 'text' && boxContains(sheet.window, item.at) ? [{ text: item, quad: textItemCorners(item, -TOUCH_MM) }] : [],
  )
}

/** Strokes that would make a text across them hard to read: marks, gaps, holes and match marks; not ties, rails or dashes. */
function strokesIn(sheet: Sheet): readonly { readonly role: string; readonly edge: Edge }[] {
  const bold = (item: DrawItem) =>
    item.kind === 'stroke' && ['mark', 'gap', 'hole', 'match'].includes(item.role) && item.segments.length === 1
  return sheet.items.filter(bold).flatMap((item) => {
    const to = item.kind === 'stroke' ? item.segments[0]?.to : undefined
    return item.kind === 'stroke' && to ? [{ role: item.role, edge: [item.start, to] as const }] : []
  })
}

describe.each(['fennimore', 'shelf'])('on the sheets of every turnout and curve of %s', (name) => {
  const plan = demo(name)
  const derived = pipelineCreate().derive(plan)

  it.each([
    ['letter', 'imperial'],
    ['a4', 'metric'],
  ] as const)('no text lies on another one, nor on a mark (%s, %s)', (paper, units) => {
    let looked = 0
    for (const subject of subjectsOf(plan)) {
      for (const sheet of sheetsForSubject(derived, subject, optionsFor(paper, units)).sheets) {
        if (sheet.kind === 'index') continue
        const texts = textsIn(sheet)
        looked += texts.length
        const onTexts = texts.flatMap((a, i) =>
          texts.slice(i + 1).flatMap((b) => (overlap(a.quad, b.quad) ? [`${a.text.text} on ${b.text.text}`] : [])),
        )
        const onStrokes = strokesIn(sheet).flatMap(({ role, edge }) =>
          texts.flatMap(({ text, quad }) => (runsThrough(quad, edge) ? [`${role} through ${text.text}`] : [])),
        )
        expect([sheet.title, sheet.name, ...onTexts, ...onStrokes]).toEqual([sheet.title, sheet.name])
      }
    }
    // Looking at nothing would find nothing.
    expect(looked).toBeGreaterThan(100)
  })

  it('a text that names a place beyond all sheets is left out', () => {
    const tracks = Object.keys(plan.tracks).map((id): SheetSubject => ({ kind: 'track', id }))
    for (const subject of [...subjectsOf(plan), ...tracks]) {
      const sheets = sheetsForSubject(derived, subject, optionsFor('letter', 'imperial')).sheets.filter(({ kind }) => kind === 'full-size')
      const windows = sheets.map(sheetPlanCorners)
      for (const sheet of sheets) {
        for (const item of sheet.items) {
          if (item.kind !== 'text' || item.layer === 'sheet' || item.layer === 'match') continue
          const at = pageToPlan(sheet.toPage, item.at)
          expect(
            windows.some((quad) => holds(quad, at)),
            `${item.text} on ${sheet.title} ${sheet.name}`,
          ).toBe(true)
        }
      }
    }
  })
})
