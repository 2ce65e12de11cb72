import { describe, expect, it } from 'vitest'
import { corridorParting, traverseSolve } from '../../../src/core/alignment/index.ts'
import type { Path, Point } from '../../../src/core/geom/types.ts'
import { fairRequest, pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { FairOptions } from '../../../src/core/pipeline/index.ts'
import { aBenchwork, aCorner, aTrack, planWith } from '../../support/plans.ts'

const at = (x: number, y: number): Point => ({ x, y })

function straight(from: Point, to: Point): Path {
  const solved = traverseSolve({ start: { kind: 'free', at: from }, corners: [], end: { kind: 'free', at: to } })
  if (!solved.ok) throw new Error('a straight solves')
  return solved.path
}

/** Two tables of a metre square with a bridge between them from x = 1000 to 1600, as wide as said, its middle at y = 500. */
const tables = (widthMm: number): readonly Point[] => [
  at(0, 0),
  at(1000, 0),
  at(1000, 500 - widthMm / 2),
  at(1600, 500 - widthMm / 2),
  at(1600, 0),
  at(2600, 0),
  at(2600, 1000),
  at(1600, 1000),
  at(1600, 500 + widthMm / 2),
  at(1000, 500 + widthMm / 2),
  at(1000, 1000),
  at(0, 1000),
]
const line = straight(at(100, 500), at(2500, 500))

describe('benchwork less its margins', () => {
  it('is in one piece where the bridge is wider than two margins, else parted on the bridge', () => {
    expect(corridorParting([tables(120)], line, 59)).toBeNull()
    const parting = corridorParting([tables(120)], line, 61)
    // The tables less 61 mm end at x = 939 and begin again at 1661; stations count from x = 100, in steps of at most 5 mm.
    expect(parting?.fromMm).toBeGreaterThan(834)
    expect(parting?.fromMm).toBeLessThanOrEqual(839)
    expect(parting?.toMm).toBeGreaterThanOrEqual(1561)
    expect(parting?.toMm).toBeLessThan(1566)
    expect(parting?.at.x).toBeCloseTo(1300, -1)
    expect(parting?.askedMm).toBe(61)
    // A bridge of 120 mm has room for a line with not quite 60 mm on both sides, told rounded down to 0.1.
    expect(parting?.mostMm).toBeGreaterThan(59.7)
    expect(parting?.mostMm).toBeLessThanOrEqual(60)
    expect(corridorParting([tables(120)], line, parting?.mostMm ?? 0)).toBeNull()
  })

  it('is in two where the tables are', () => {
    const apart = [
      [at(0, 0), at(1000, 0), at(1000, 1000), at(0, 1000)],
      [at(1600, 0), at(2600, 0), at(2600, 1000), at(1600, 1000)],
    ]
    expect(corridorParting(apart, line, 50)).toMatchObject({ mostMm: null })
  })

  it('counts an end at the very edge to the table that it stands on, and knows an island in a hole', () => {
    expect(corridorParting([tables(120)], straight(at(0, 500), at(2600, 500)), 61)).not.toBeNull()
    expect(corridorParting([tables(120)], straight(at(0, 500), at(950, 500)), 61)).toBeNull()
    // An operating pit of 1600 by 600 mm, turned the other way, with a lift-out of 800 by 200 mm standing in it.
    const pit = [at(500, 200), at(500, 800), at(2100, 800), at(2100, 200)]
    const island = [at(900, 400), at(1700, 400), at(1700, 600), at(900, 600)]
    const around = [at(0, 0), at(2600, 0), at(2600, 1000), at(0, 1000)]
    expect(corridorParting([around, pit, island], straight(at(100, 500), at(1300, 500)), 50)).toMatchObject({ mostMm: null })
    expect(corridorParting([around, pit, island], straight(at(100, 500), at(2500, 500)), 50)).toBeNull()
  })
})

describe('easing over a bridge', () => {
  const plan = planWith({
    benchworks: [aBenchwork({ outline: [...tables(120)] })],
    tracks: [
      aTrack({
        start: { kind: 'free', x: 200, y: 800 },
        corners: [
          aCorner({ id: 'a', x: 700, y: 500, radius: 300, easementIn: 0, easementOut: 0 }),
          aCorner({ id: 'b', x: 1900, y: 500, radius: 300, easementIn: 0, easementOut: 0 }),
        ],
        end: { kind: 'free', x: 2400, y: 800 },
      }),
    ],
  })
  const options: FairOptions = { edgeMarginMm: 80, centresMm: null, nearness: 'refuse', roundsMost: 10 }
  const asked = (change: Partial<FairOptions>) => fairRequest(pipelineCreate().derive(plan), 'track-1', { ...options, ...change })

  it('is refused with the place and the margin that would do, where the line may be no nearer', () => {
    const refused = asked({})
    expect(refused).toMatchObject({ ok: false, problem: { kind: 'corridorParted', parting: { askedMm: 80 } } })
    if (refused.ok || refused.problem.kind !== 'corridorParted') return
    const { mostMm, at: place } = refused.problem.parting
    expect(place.x).toBeGreaterThan(1000)
    expect(place.x).toBeLessThan(1600)
    expect(asked({ edgeMarginMm: mostMm })).toMatchObject({ ok: true, parting: null })
  })

  it('is told beside the answer, where the line may stay as near as it is', () => {
    expect(asked({ nearness: 'asGiven' })).toMatchObject({ ok: true, parting: { askedMm: 80 } })
    expect(asked({ nearness: 'asGiven', edgeMarginMm: 40 })).toMatchObject({ ok: true, parting: null })
  })
})
