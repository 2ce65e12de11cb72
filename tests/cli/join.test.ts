import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { planWrite } from '../../src/formats/planjson.ts'
import { aTrack, aTurnout, planWith } from '../support/plans.ts'
import { numberOf, waybench, waybenchJson } from '../support/waybench.ts'

const folder = mkdtempSync(join(tmpdir(), 'waybench-'))
const bareMain = {
  id: 'main',
  name: 'Main',
  minRadiusMm: 600,
  usualRadiusMm: 700,
  easement: { kind: 'none' },
  minFrog: 6,
  usualFrog: 6,
  trackCentresMm: 50,
  tieSpacingMm: 7,
  maxGrade: 0.02,
  cars: [],
  minCurveMm: 0,
  widening: [],
  rules: {},
  curveCarLengths: 0,
  couplingCarLengths: 0,
  rail: 'railway',
  tie: 'railway',
  jointTieSpacingMm: null,
  roadbed: null,
  superelevationMm: 0,
} as const

/** Two quays that end free, 500 mm apart and 1500 mm along; a spur that ends across; a turnout on the first quay. */
const records = {
  tracks: [
    aTrack({ id: 'west', name: 'West quay', start: { kind: 'free', x: -2000, y: 0 }, end: { kind: 'free', x: 0, y: 0 } }),
    aTrack({ id: 'east', name: 'East quay', start: { kind: 'free', x: 1500, y: 500 }, end: { kind: 'free', x: 5500, y: 500 } }),
    aTrack({ id: 'dock', name: 'Dock', start: { kind: 'free', x: 1200, y: 1000 }, end: { kind: 'free', x: 1200, y: 3000 } }),
  ],
  turnouts: [aTurnout({ id: 'ice', name: 'Icehouse', track: 'west', stationMm: 900 })],
}
const plan = planWith({ ...records, lineClasses: [bareMain] })
const path = join(folder, 'plan.json')
writeFileSync(path, planWrite(plan))

const run = (...typed: readonly string[]): Promise<Readonly<Record<string, unknown>>> => waybenchJson('join', path, ...typed)

describe('waybench join', () => {
  it('joins free ends: a right angle as wide as its shorter side', async () => {
    const answer = await run('--from', 'west:end', '--to', 'dock:start')
    expect(answer['stopped']).toEqual([])
    expect(answer['alternatives']).toMatchObject([
      { family: 'oneCurve', hands: ['left'], meetsLimits: true },
      // Shorter for the straight across the corner, of the longest car, and not as wide.
      { family: 'sameWay', hands: ['left', 'left'], meetsLimits: true },
    ])
    // The PI lies at (1200, 0): 1200 mm before it, 1000 behind.
    expect(numberOf(answer, 'alternatives', 0, 'minRadiusMm')).toBeCloseTo(1000, 6)
    expect(numberOf(answer, 'alternatives', 0, 'lengthMm')).toBeCloseTo(200 + 500 * Math.PI, 6)
    expect(numberOf(answer, 'alternatives', 0, 'corners', 0, 'xMm')).toBeCloseTo(1200, 6)
    expect(numberOf(answer, 'alternatives', 0, 'corners', 0, 'radiusMm')).toBeCloseTo(1000, 6)
    expect(answer['from']).toMatchObject({ xMm: 0, yMm: 0 })
  })

  it('joins parallels by a reverse, and tells by how much the tangent must be shorter', async () => {
    // x^2 + y^2 = 4 R y + t^2: with t = 0 R is 1250, and 600 needs t = sqrt(2 500 000 - 1 200 000).
    const wide = await run('--from', 'west:end', '--to', 'east:start', '--tangent', '0mm')
    expect(numberOf(wide, 'alternatives', 0, 'minRadiusMm')).toBeCloseTo(1250, 6)
    const tight = await run('--from', 'west:end', '--to', 'east:start', '--tangent', '1200mm')
    expect(tight['alternatives']).toMatchObject([{ family: 'reverse', meetsLimits: false }])
    expect(tight['stopped']).toContainEqual({
      limit: 'tangent',
      family: 'reverse',
      askedMm: 1200,
      nearestMm: expect.closeTo(Math.sqrt(1_300_000), 6),
    })
    expect(tight['stopped']).toContainEqual({
      limit: 'radius',
      family: 'reverse',
      askedMm: 600,
      nearestMm: expect.closeTo((2_500_000 - 1_440_000) / 2000, 6),
      isBare: false,
    })
  })

  it('takes the shortest curve of the class as a limit, tells the nearest that would work, and lets --shortest override it', async () => {
    // The dock bends off by a right angle at 1000 mm: 500 pi long. A class that asks 2 m of a curve has none.
    const asking = planWith({ ...records, lineClasses: [{ ...bareMain, minCurveMm: 2000 }] })
    const other = join(folder, 'asking.json')
    writeFileSync(other, planWrite(asking))
    const tight = await waybenchJson('join', other, '--from', 'west:end', '--to', 'dock:start')
    expect(numberOf(tight, 'limits', 'shortestCurveMm')).toBe(2000)
    expect(tight['alternatives']).not.toContainEqual(expect.objectContaining({ family: 'oneCurve', meetsLimits: true }))
    const curve = (tight['stopped'] as readonly { limit: string; askedMm: number; nearestMm: number }[]).find(
      ({ limit }) => limit === 'curve',
    )
    expect(curve).toMatchObject({ askedMm: 2000 })
    // The widest that fits is the longest: the nearest value is the length of the curve of 1000 mm.
    expect(curve?.nearestMm).toBeCloseTo(500 * Math.PI, 3)
    const eased = await waybenchJson('join', other, '--from', 'west:end', '--to', 'dock:start', '--shortest', '1500mm')
    expect(eased['stopped']).toEqual([])
  })

  it('places a turnout at a station of a track, or says why not and where', async () => {
    const there = await run('--from', 'dock:start', '--to', 'east@2000mm')
    for (const line of there['alternatives'] as readonly { stationMm: number }[]) expect(line.stationMm).toBe(2000)
    const { code, err } = await waybench('join', path, '--from', 'dock:start', '--to', 'west@950mm')
    expect(code).toBe(2)
    expect(err).toMatch(
      /cannot have its points at station .*Icehouse takes the track there\. The nearest straight with room has it at station/,
    )
    const off = await waybench('join', path, '--from', 'dock:start', '--to', 'east@9m')
    expect(off.err).toMatch(/station 9000\.00 mm .* is not on the track, which is 4000\.00 mm/)
  })

  it('starts from the leg of a turnout', async () => {
    const answer = await run('--from', 'Icehouse', '--to', 'dock:start')
    const leg = answer['from'] as Readonly<Record<string, number>>
    // A No. 6 turns 2 atan(1/12); its points are 900 mm along the quay from -2000.
    expect(leg['headingRad']).toBeCloseTo(2 * Math.atan(1 / 12), 9)
    expect(leg['xMm']).toBeGreaterThan(-1100)
    expect(numberOf(answer, 'alternatives', 0, 'minRadiusMm')).toBeGreaterThan(600)
  })

  it('places a turnout on a track and says which', async () => {
    const answer = await run('--from', 'west:end', '--to', 'east', '--frog', '8', '--tangent', '0mm')
    const best = (answer['alternatives'] as readonly Readonly<Record<string, unknown>>[])[0]
    expect(best).toMatchObject({ turnout: { track: 'east', frog: 8 }, meetsLimits: true })
    expect(numberOf(best, 'stationMm')).toBeGreaterThan(0)
    expect(numberOf(best, 'stationMm')).toBeLessThan(4000)
  })

  it('places no turnout on another, and leaves out what breaks limits where something keeps them', async () => {
    // The turnout on the west quay takes from 900 mm on; from the dock it is reached round a turn of a right angle and more.
    const answer = await run('--from', 'dock:start', '--to', 'west', '--tangent', '0mm')
    const rows = answer['alternatives'] as readonly Readonly<Record<string, unknown>>[]
    expect(rows.length).toBeGreaterThan(0)
    for (const row of rows) {
      expect(row['meetsLimits']).toBe(true)
      const stationMm = numberOf(row, 'stationMm')
      // A No. 6 in HO is longer than 200 mm from end to end: one whose points stand 100 mm off in the same direction would lie on it.
      if ((row['turnout'] as { facing: string }).facing === 'rising') expect(Math.abs(stationMm - 900)).toBeGreaterThan(150)
    }
  })

  it('says what stops it in words', async () => {
    const { code, out } = await waybench('join', path, '--from', 'west:end', '--to', 'east:start', '--tangent', '1200mm')
    expect(code).toBe(0)
    expect(out).toContain('No line keeps all limits')
    expect(out).toContain('Tangent between the curves 1200.00 mm (47 1/4 in): 1140.18 mm (44 57/64 in) would work.')
    const good = await waybench('join', path, '--from', 'west:end', '--to', 'dock:start')
    expect(good.out).toContain('One curve left: R 1000.00 mm')
    expect(good.out).not.toContain('No line keeps')
  })

  it.each([
    [['--from', 'west', '--to', 'dock:start'], 'west:start or west:end'],
    [['--from', 'wets:end', '--to', 'dock:start'], '--from wets: the plan has no such track'],
    [['--from', 'Icehous', '--to', 'dock:start'], 'Did you mean Icehouse'],
    [['--from', 'west:end', '--to', 'dock:start', '--tangent', '12'], 'needs its unit'],
    [['--from', 'west:end', '--to', 'dock:start', '--class', 'mian'], 'Did you mean Main'],
    [['--from', 'west:end', '--to', 'dock', '--frog', '400'], '--frog: No. 400 cannot be built on it: Frog No. 400 is outside of 2 to 30.'],
  ])('refuses %j', async (typed, words) => {
    const { code, out, err } = await waybench('join', path, ...typed)
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(err).toContain(words)
  })

  it('refuses a leg that is taken and an end that is not free', async () => {
    const taken = planWith({
      lineClasses: [bareMain],
      tracks: [
        aTrack({ id: 'west', name: 'West quay' }),
        aTrack({
          id: 'spur',
          name: 'Spur',
          start: { kind: 'leg', turnout: 'ice', leg: 'diverging' },
          end: { kind: 'free', x: 1500, y: 120 },
        }),
      ],
      turnouts: [aTurnout({ id: 'ice', name: 'Icehouse', track: 'west', stationMm: 600 })],
    })
    const takenPath = join(folder, 'taken.json')
    writeFileSync(takenPath, planWrite(taken))
    expect((await waybench('join', takenPath, '--from', 'ice', '--to', 'west:end')).err).toContain('Spur already runs from this leg')
    expect((await waybench('join', takenPath, '--from', 'spur:start', '--to', 'west:end')).err).toContain('not free')
  })
})

describe('legs of a turnout with two', () => {
  const both = planWith({
    lineClasses: [bareMain],
    tracks: [
      aTrack({ id: 'west', name: 'West quay', start: { kind: 'free', x: -2000, y: 0 }, end: { kind: 'free', x: 0, y: 0 } }),
      aTrack({ id: 'dock', name: 'Dock', start: { kind: 'free', x: 1500, y: -400 }, end: { kind: 'free', x: 3500, y: -400 } }),
    ],
    turnouts: [
      aTurnout({
        id: 'fish',
        name: 'Fish quay',
        track: 'west',
        stationMm: 900,
        kind: { kind: 'three-way', secondFrog: 6, secondAfterMm: 0 },
      }),
    ],
  })
  const bothPath = join(folder, 'both.json')
  writeFileSync(bothPath, planWrite(both))

  it('the second one is named by :other, and leads to its own side', async () => {
    const answer = await waybenchJson('join', bothPath, '--from', 'Fish quay:other', '--to', 'Dock:start')
    const first = await waybenchJson('join', bothPath, '--from', 'Fish quay:diverging', '--to', 'Dock:start')
    const lengthOf = (told: Readonly<Record<string, unknown>>): number => numberOf(told, 'alternatives', 0, 'lengthMm')
    const yOf = (told: Readonly<Record<string, unknown>>): number => numberOf(told, 'from', 'yMm')
    expect(yOf(answer)).toBeCloseTo(-yOf(first), 6)
    // The dock lies on the other leg's side: from the first leg the line has to come back over the track.
    expect(lengthOf(answer)).not.toBe(lengthOf(first))
  })

  it('a turnout with one leg has no other', async () => {
    const { err: said, code } = await waybench('join', path, '--from', 'Icehouse:other', '--to', 'Dock:start')
    expect(code).toBe(2)
    expect(said).toContain('one leg only')
  })
})
