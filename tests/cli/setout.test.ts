import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { planWrite } from '../../src/formats/planjson.ts'
import { aBenchwork, aCorner, aTrack, planWith } from '../support/plans.ts'
import { numberOf, waybench, waybenchJson } from '../support/waybench.ts'

const folder = mkdtempSync(join(tmpdir(), 'waybench-setout-'))
const file = (name: string): string => join(folder, name)

/** A bend of 60 degrees, R 1000, easements of 150 mm, on a bench of 3.2 by 2 m in a room that is not much larger. */
const plan = planWith({
  walls: [
    {
      id: 'w1',
      name: 'North wall',
      thicknessMm: 100,
      isClosed: true,
      points: [
        { x: -200, y: -200 },
        { x: 3300, y: -200 },
        { x: 3300, y: 2000 },
        { x: -200, y: 2000 },
      ],
    },
  ],
  benchworks: [
    aBenchwork({
      id: 'b1',
      name: 'Table',
      outline: [
        { x: -100, y: -150 },
        { x: 3200, y: -150 },
        { x: 3200, y: 1900 },
        { x: -100, y: 1900 },
      ],
      holes: [
        [
          { x: 100, y: 400 },
          { x: 700, y: 400 },
          { x: 700, y: 900 },
        ],
      ],
    }),
  ],
  tracks: [
    aTrack({
      id: 'bend',
      name: 'Bend',
      start: { kind: 'free', x: 0, y: 0 },
      corners: [aCorner({ id: 'c1', x: 2000, y: 0, radius: 1000, easementIn: 150, easementOut: 150 })],
      end: { kind: 'free', x: 3000, y: 1000 * Math.tan(Math.PI / 3) },
    }),
    aTrack({ id: 'straight', name: 'Quay', start: { kind: 'free', x: 0, y: 500 }, end: { kind: 'free', x: 2000, y: 500 } }),
  ],
})
const planPath = file('plan.json')
writeFileSync(planPath, planWrite(plan))

const setout = (...typed: readonly string[]): ReturnType<typeof waybenchJson> =>
  waybenchJson('setout', planPath, '--track', 'bend', ...typed)

describe('waybench setout', () => {
  it('by offset: along the tangent from TS, rounded and exact, with the place in the plan', async () => {
    const answer = await setout('--by', 'offset', '--every', '200mm')
    const rows = answer['rows'] as readonly Readonly<Record<string, unknown>>[]
    expect(rows[0]).toMatchObject({ base: 0, name: 'TS', alongMm: 0, offsetMm: 0, errorMm: 0 })
    const sc = rows.findIndex(({ name }) => name === 'SC')
    // Cubic: 150^2 / 6000 = 3.75 at the end of the easement; the exact one is a little less.
    expect(numberOf(rows, sc, 'offsetMm')).toBeGreaterThan(3.74)
    expect(numberOf(rows, sc, 'offsetMm')).toBeLessThan(3.75)
    expect(numberOf(rows, sc, 'offsetRoundedMm')).toBe(3.5)
    // The tangent lies on y = 0, so the offset is y.
    expect(numberOf(rows, sc, 'yMm')).toBeCloseTo(numberOf(rows, sc, 'offsetMm'), 9)
    expect(rows[1]).toMatchObject({ alongRoundedMm: 150 })
    expect(numberOf(answer, 'errorMm')).toBeLessThanOrEqual(0.25 * Math.SQRT2 + 1e-9)
    expect(answer['bases']).toMatchObject([
      { kind: 'tangent', corner: 1, side: 'in', datum: 'TS' },
      { kind: 'tangent', corner: 1, side: 'out', datum: 'ST' },
    ])
  })

  it('by offset from the PI counts back from it', async () => {
    const rows = (await setout('--by', 'offset', '--from', 'PI'))['rows']
    // y = 0 to the left while looking back along the tangent: the curve lies to the right.
    expect(numberOf(rows, 0, 'offsetMm')).toBeLessThan(0)
    expect(numberOf(rows, 0, 'alongMm')).toBeGreaterThan(0)
  })

  it('by chord between two stations, in sixty-fourths', async () => {
    const answer = await setout('--by', 'chord', '--between', '1500mm,2500mm', '--every', '6in', '--round', '1/64in')
    expect(numberOf(answer, 'roundedToMm')).toBeCloseTo(25.4 / 64, 12)
    const rows = answer['rows'] as readonly unknown[]
    for (const [i] of rows.entries()) {
      const ticks = (numberOf(rows, i, 'offsetRoundedMm') * 64) / 25.4
      expect(Math.abs(ticks - Math.round(ticks))).toBeLessThan(1e-9)
    }
    expect(numberOf(answer, 'bases', 0, 'longChordMm')).toBeLessThan(1000)
  })

  it('by edge: the distances square to a side of a wall by its name and number', async () => {
    const answer = await setout('--by', 'edge', '--from', 'north wall:1', '--every', '500mm')
    expect(answer['bases']).toMatchObject([{ kind: 'edge', table: 'walls', id: 'w1', side: 1, hole: null }])
    // That side runs along y = -200 from x = -200; 500 mm on, the line is still straight at y = 0.
    expect((answer['rows'] as readonly unknown[])[0]).toMatchObject({ alongMm: 500, offsetMm: 200, offsetRoundedMm: 200, stationMm: 300 })
    const hole = await setout('--by', 'edge', '--from', 'Table:hole1:1', '--every', '100mm')
    expect(hole['bases']).toMatchObject([{ id: 'b1', hole: 1, side: 1 }])
    // Without a name: the side of the table next to the straight, which most of the line lies near.
    expect((await setout('--by', 'edge', '--between', '0mm,1500mm'))['bases']).toMatchObject([{ table: 'benchworks', id: 'b1', side: 1 }])
  })

  it('by deflection: half the angle of each chord on the arc', async () => {
    const answer = await setout('--by', 'deflection', '--every', '100mm')
    const bases = answer['bases'] as readonly Readonly<Record<string, unknown>>[]
    expect(bases.map(({ at }) => at)).toEqual(['TS', 'SC', 'CS'])
    const rows = answer['rows'] as readonly Readonly<Record<string, unknown>>[]
    const arc = rows.findIndex(({ base }) => base === 1)
    for (const n of [1, 2, 3]) {
      expect(numberOf(rows, arc + n - 1, 'deflectionRad')).toBeCloseTo(n * Math.asin(50 / 1000), 9)
      expect(numberOf(rows, arc + n - 1, 'chordMm')).toBeCloseTo(100, 9)
    }
  })

  it('by trammel: centre, radius, angles, two tapes to the centre, and that it is on the table', async () => {
    const answer = await setout('--by', 'trammel')
    const base = (answer['bases'] as readonly unknown[])[0]
    expect(base).toMatchObject({ kind: 'centre', isReachable: true, reach: { kind: 'benchwork', name: 'Table' }, barBlockedBy: null })
    const rows = answer['rows']
    expect(numberOf(rows, 0, 'radiusMm')).toBeCloseTo(1000, 9)
    // The centre stands the shift of 150^2 / 24000 = 0.94 above R, on the square over k past TS.
    expect(numberOf(rows, 0, 'centreYMm')).toBeCloseTo(1000.94, 1)
    expect(numberOf(rows, 0, 'endAngleRad') - numberOf(rows, 0, 'startAngleRad')).toBeCloseTo(Math.PI / 3 - 0.15, 9)
    const [x, y] = [numberOf(rows, 0, 'centreXMm'), numberOf(rows, 0, 'centreYMm')]
    for (const [i, key] of ['tieAMm', 'tieBMm'].entries()) {
      const pin = (base as { readonly pins: readonly { readonly xMm: number; readonly yMm: number }[] }).pins[i]
      expect(Math.hypot((pin?.xMm ?? 0) - x, (pin?.yMm ?? 0) - y)).toBeCloseTo(numberOf(rows, 0, key), 9)
    }
  })

  it('by tie-in, stick and lath', async () => {
    const ties = await setout('--by', 'tie-in', '--every', '300mm')
    const pins = (ties['bases'] as readonly { readonly pins: readonly { readonly xMm: number; readonly yMm: number }[] }[])[0]?.pins
    expect(numberOf(ties, 'rows', 0, 'tieAMm')).toBeCloseTo(Math.hypot((pins?.[0]?.xMm ?? 0) - 0, pins?.[0]?.yMm ?? 0), 9)
    const stick = await setout('--by', 'stick', '--stick', '300mm', '--between', '1700mm,2000mm')
    // R - sqrt(R^2 - 150^2) = 11.314 on the arc.
    expect(numberOf(stick, 'rows', 2, 'ordinateMm')).toBeCloseTo(1000 - Math.sqrt(1e6 - 22500), 6)
    const lath = await setout('--by', 'lath', '--pinned', '6in')
    expect(numberOf(lath, 'bases', 0, 'freeLengthMm')).toBeCloseTo(150, 9)
    expect(numberOf(lath, 'bases', 0, 'shiftMm')).toBeCloseTo(150 ** 2 / 24000, 2)
    expect((lath['rows'] as readonly { readonly name: string }[]).map(({ name }) => name).slice(0, 6)).toEqual([
      'pin',
      'pin',
      'TS',
      'SC',
      'pin',
      'pin',
    ])
  })

  it('speaks in words without --json, and draws what to measure', async () => {
    const { code, out } = await waybench(
      'setout',
      planPath,
      '--track',
      'bend',
      '--by',
      'offset',
      '--round',
      '1/64in',
      '--figure',
      file('f.svg'),
    )
    expect(code).toBe(0)
    expect(out).toContain('Rounded to 1/64 in: no point comes more than')
    expect(out).toMatch(/SC\s+5\S* in/)
    const svg = readFileSync(file('f.svg'), 'utf8')
    expect(svg.startsWith('<svg')).toBe(true)
    expect(svg).toContain('>TS<')
  })

  const wrong: readonly (readonly [typed: readonly string[], says: string])[] = [
    [['--by', 'ofset'], 'Did you mean offset?'],
    [['--by', 'offset', '--every', '0mm'], 'above zero'],
    [['--by', 'offset', '--every', '100'], 'needs its unit'],
    [['--by', 'offset', '--round', '1/8in'], 'one of'],
    [['--by', 'offset', '--between', '100mm'], 'two stations'],
    [['--by', 'offset', '--between', '100mm,99m'], 'lies outside the line'],
    [['--by', 'offset', '--between', '900mm,100mm'], 'no length'],
    [['--by', 'offset', '--between', '0mm,100mm'], 'No corner turns'],
    [['--by', 'chord', '--from', 'Table'], 'belongs to'],
    [['--by', 'offset', '--stick', '6in'], 'belongs to'],
    [['--by', 'edge', '--from', 'Tabel'], 'Did you mean Table?'],
    [['--by', 'edge', '--from', 'Table:9'], 'sides 1 to 4'],
    [['--by', 'edge', '--from', 'Table:hole2:1'], 'no hole 2'],
    [['--by', 'edge', '--from', 'Table:hole1:1', '--between', '0mm,50mm'], 'No part of this stretch lies square to Table, hole 1, side 1'],
    [['--by', 'stick', '--stick', '40m'], 'does not fit on'],
    [['--by', 'stick', '--stick', '2.5m'], 'too long for a radius'],
    [['--by', 'trammel', '--between', '0mm,500mm'], 'no arc'],
    [['--by', 'offset', '--every', '0.001mm'], 'longer step'],
  ]
  for (const [typed, says] of wrong) {
    it(`${typed.join(' ')} is refused in words`, async () => {
      const { code, out, err } = await waybench('setout', planPath, '--track', 'bend', ...typed)
      expect(err).toContain(says)
      expect(code).toBe(2)
      expect(out).toBe('')
    })
  }

  it('a straight has no deflections, a plan without corners no tapes', async () => {
    const straight = (...typed: readonly string[]) => waybench('setout', planPath, '--track', 'quay', ...typed)
    expect((await straight('--by', 'deflection')).err).toContain('straight')
    expect((await straight('--by', 'lath')).err).toContain('no easement')
    writeFileSync(file('bare.json'), planWrite(planWith({ tracks: [aTrack()] })))
    const bare = (by: string) => waybench('setout', file('bare.json'), '--track', 'main', '--by', by)
    expect((await bare('tie-in')).err).toContain('has none')
    expect((await bare('edge')).err).toContain('neither wall nor benchwork')
  })
})
