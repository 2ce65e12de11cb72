import { describe, expect, test } from 'vitest'
import type { Finding } from '../../../src/core/checks/index.ts'
import type { LineClass, Plan, Roadbed, Track } from '../../../src/core/plan/index.ts'
import { planFindings } from '../../support/checks.ts'
import { aMaker, planMade } from '../../support/makers.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'

/** Main on cork 5 mm thick and 36 wide at its top, yard on half of that; both with shoulders of 45 degrees. */
function onRoadbed(plan: Plan, main: Partial<Roadbed> = {}, yard: Partial<Roadbed> = {}): Plan {
  const laid = (id: string, change: Partial<Roadbed>, thicknessMm: number): LineClass => {
    const lineClass = plan.lineClasses[id] as LineClass
    return {
      ...lineClass,
      roadbed: { ...(lineClass.roadbed as Roadbed), topWidthMm: 36, shoulderRun: 1, thicknessMm, ...change },
    }
  }
  return { ...plan, lineClasses: { ...plan.lineClasses, main: laid('main', main, 5), yard: laid('yard', yard, 2.5) } }
}
const overlaps = (plan: Plan): readonly Finding[] => planFindings(plan, []).filter(({ rule }) => rule === 'roadbed-overlap')
const beside = (centresMm: number, change: Partial<Track> = {}): Track =>
  aTrack({
    id: 'track-2',
    name: 'Beside',
    start: { kind: 'free', x: 400, y: centresMm },
    end: { kind: 'free', x: 1500, y: centresMm },
    ...change,
  })
const parallel = (centresMm: number, change: Partial<Track> = {}): Plan =>
  onRoadbed(planWith({ tracks: [aTrack(), beside(centresMm, change)] }))

describe('roadbed of two tracks', () => {
  test('is told from where to where it lies in the other, by how much, and that a sheet does', () => {
    // Two tops of 36 mm at centres of 33: 3 mm. The end of the second track is cut off square.
    const [finding, ...more] = overlaps(parallel(33))
    expect(more).toEqual([])
    expect(finding).toMatchObject({
      severity: 'warning',
      stage: 'roadbed',
      record: 'track-1',
      otherRecord: 'track-2',
      limit: 0,
      source: 'class:main',
      problem: { kind: 'roadbedsMeet', isOneSheet: true },
    })
    expect(finding?.measured).toBeCloseTo(-3, 6)
    expect(finding?.stationFromMm).toBeCloseTo(400, 2)
    expect(finding?.stationToMm).toBeCloseTo(1500, 2)
  })

  test('may share their shoulders: tops that touch, or overlap by what a knife takes off, are not told', () => {
    expect(overlaps(parallel(36))).toEqual([])
    expect(overlaps(parallel(35.6))).toEqual([])
    expect(overlaps(parallel(35.4))).toHaveLength(1)
  })

  test('is held at the height of the lower top, which the shoulder of the higher one reaches: 18 + 2.5 + 18', () => {
    expect(overlaps(parallel(38.1, { lineClass: 'yard' }))).toEqual([])
    const [finding] = overlaps(parallel(37, { lineClass: 'yard' }))
    expect(finding).toMatchObject({ problem: { isOneSheet: false } })
    expect(finding?.measured).toBeCloseTo(-1.5, 6)
    // Upright shoulders leave both their whole tops.
    const tracks = [aTrack(), beside(37, { lineClass: 'yard' })]
    expect(overlaps(onRoadbed(planWith({ tracks }), { shoulderRun: 0 }))).toEqual([])
  })

  test('wider than cars ask for is found as well, and none where a class has none', () => {
    const wide = { topWidthMm: 90 }
    const plan = onRoadbed(planWith({ tracks: [aTrack(), beside(80)] }), wide)
    expect(overlaps(plan)[0]?.measured).toBeCloseTo(-10, 6)
    const main = { ...(plan.lineClasses['main'] as LineClass), roadbed: null }
    expect(overlaps({ ...plan, lineClasses: { ...plan.lineClasses, main } })).toEqual([])
  })

  test('of a stub that points at the other one reaches to its end and no farther', () => {
    const stub = (toY: number): Plan => parallel(0, { start: { kind: 'free', x: 900, y: 800 }, end: { kind: 'free', x: 900, y: toY } })
    expect(overlaps(stub(19))).toEqual([])
    // 8 mm within the other's; how deep is measured square to the second track, the stub.
    const [finding] = overlaps(stub(10))
    expect(finding).toMatchObject({ record: 'track-1', otherRecord: 'track-2' })
    expect(finding?.stationFromMm).toBeGreaterThan(880)
    expect(finding?.stationToMm).toBeLessThan(920)
  })

  test('is laid with its host up to where both have parted, and told from where they stop to part', () => {
    // Where the leg of a No. 6 ends and how it heads, as the turnout's own tests have them.
    const [legEnd, legRad] = [{ x: 686.9097, y: 21.6053 }, 0.166282]
    const spur = (centresMm: number): Plan =>
      onRoadbed(
        planWith({
          tracks: [
            aTrack({ end: { kind: 'free', x: 2500, y: 0 } }),
            aTrack({
              id: 'track-2',
              lineClass: 'main',
              start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
              corners: [
                aCorner({
                  x: legEnd.x + (centresMm - legEnd.y) / Math.tan(legRad),
                  y: centresMm,
                  radius: 700,
                  easementIn: 0,
                  easementOut: 0,
                }),
              ],
              end: { kind: 'free', x: 2400, y: centresMm },
            }),
          ],
          turnouts: [aTurnout()],
        }),
      )
    expect(overlaps(spur(40))).toEqual([])
    const [finding, ...more] = overlaps(spur(33))
    expect(more).toEqual([])
    expect(finding?.measured).toBeCloseTo(-3, 2)
    // The curve of 700 mm ends 58 mm behind its corner at 755 mm; a little before that both do not part any more.
    expect(finding?.stationFromMm).toBeGreaterThan(795)
    expect(finding?.stationFromMm).toBeLessThan(815)
    expect(finding?.stationToMm).toBeGreaterThan(2300)
  })

  test('goes on from one track to the next, and across another', () => {
    expect(
      overlaps(
        onRoadbed(
          planWith({ tracks: [aTrack(), beside(0, { start: { kind: 'free', x: 2000, y: 0 }, end: { kind: 'free', x: 3000, y: 0 } })] }),
        ),
      ),
    ).toEqual([])
    expect(overlaps(parallel(0, { start: { kind: 'free', x: 500, y: -300 }, end: { kind: 'free', x: 1500, y: 400 } }))).toEqual([])
  })

  test('of one line that comes back beside itself is told of the line alone', () => {
    const back = (radius: number): Plan =>
      onRoadbed(
        planWith({
          tracks: [
            aTrack({
              corners: [
                aCorner({ x: 2000, y: 0, radius, easementIn: 0, easementOut: 0 }),
                aCorner({ id: 'pi-2', x: 2000, y: 400, radius: 200, easementIn: 0, easementOut: 0 }),
                aCorner({ id: 'pi-3', x: 1500, y: 400, radius: 180, easementIn: 0, easementOut: 0 }),
                aCorner({ id: 'pi-4', x: 1300, y: 33, radius: 180, easementIn: 0, easementOut: 0 }),
              ],
              end: { kind: 'free', x: 300, y: 33 },
            }),
          ],
        }),
      )
    const found = overlaps(back(180))
    expect(found).toHaveLength(1)
    expect(found[0]).toMatchObject({ record: 'track-1', otherRecord: 'track-1' })
    expect(found[0]?.measured).toBeCloseTo(-3, 6)
  })

  test('beside a siding that a maker laid is cured by its centres: 18 + 2.5 + 18', () => {
    const laid = onRoadbed(planWith({ tracks: [aTrack({ end: { kind: 'free', x: 3000, y: 0 } })] }))
    const plan = planMade(
      laid,
      aMaker({
        kind: 'siding',
        track: 'track-1',
        fromMm: 300,
        toMm: 2600,
        side: 'left',
        centresMm: 34,
        curveCentresMm: 34,
        frogFrom: 6,
        frogTo: 6,
      }),
    )
    const [finding] = overlaps(plan)
    expect(finding?.cure).toMatchObject({ kind: 'setNumbers', name: 'centresMm', lengthMm: 38.5 })
    expect(finding?.measured).toBeCloseTo(-4.5, 1)
  })
})

describe('a track that crosses another', () => {
  test('and then runs beside it, too near, is told of the stretch beside it', () => {
    // Across at 20 degrees, then along the main 33 mm beside it.
    const plan = parallel(33, {
      start: { kind: 'free', x: 0, y: -300 },
      corners: [aCorner({ x: 900, y: 33, radius: 500, easementIn: 0, easementOut: 0 })],
      end: { kind: 'free', x: 1900, y: 33 },
    })
    const found = planFindings(plan, []).filter(({ rule }) => rule === 'track-clearance' || rule === 'roadbed-overlap')
    expect(found.map(({ rule, severity }) => `${rule} ${severity}`)).toEqual(['roadbed-overlap warning', 'track-clearance error'])
    for (const { stationFromMm, stationToMm } of found) {
      expect(stationFromMm).toBeGreaterThan(850)
      expect(stationFromMm).toBeLessThan(1050)
      expect(stationToMm).toBeGreaterThan(1890)
    }
  })
})
