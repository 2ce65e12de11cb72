import { describe, expect, it } from 'vitest'
import { pathPoseAt, pathSlice, poseToPlan } from '../../../src/core/geom/index.ts'
import type { Point, Pose } from '../../../src/core/geom/types.ts'
import { frogAngle } from '../../../src/core/turnout/index.ts'
import type { TurnoutRail } from '../../../src/core/turnout/types.ts'
import { scissorsLaid, scissorsWays } from '../../support/scissors.ts'
import { wheelsets } from '../../support/wheelsets.ts'
import { walkGround } from '../../support/wheelsetGround.ts'
import type { WalkPlan } from '../../support/wheelsetGround.ts'
import { wheelsetWalk } from '../../support/wheelsetWalk.ts'
import type { WalkFault } from '../../support/wheelsetWalk.ts'

/** Track centres that builders of each scale mostly lay, mm: 2 in in HO, 1 1/4 in in N, 2 3/4 in in S, 4 in in O. Common practice, no source. */
const usual = [
  ['HO', 50.8],
  ['N', 31.75],
  ['S', 69.85],
  ['O', 101.6],
] as const

function faultsOf(scale: (typeof usual)[number][0], ways: readonly WalkPlan[]): readonly WalkFault[] {
  return ways.flatMap((way) => {
    const ground = walkGround(way)
    return wheelsets[scale].flatMap((wheels) => {
      const walk = wheelsetWalk(ground, wheels)
      expect(walk.stations * ground.stepMm).toBeGreaterThan(way.route.centre.lengthMm - wheels.diameterMm)
      return walk.faults
    })
  })
}

describe.each(usual)('wheelsets in %s through a scissors at %d mm centres', (scale, centresMm) => {
  it.each([6, 8])('roll all four ways of a No. %d, facing and trailing', (frog) => {
    const ways = scissorsWays(scissorsLaid(scale, frog, centresMm))
    expect(ways).toHaveLength(4)
    expect(faultsOf(scale, ways)).toEqual([])
  })
})

describe('wheelsets in HO through a scissors', () => {
  it.each([49.4, 50, 53, 56, 60, 64, 65, 70])('roll at %d mm centres too, built in one or apart', (centresMm) => {
    expect(faultsOf('HO', scissorsWays(scissorsLaid('HO', 6, centresMm)))).toEqual([])
  })

  const found = scissorsLaid('HO', 6, 50.8)
  const ways = scissorsWays(found)
  const changed = (change: (rail: TurnoutRail) => readonly TurnoutRail[]): readonly WalkFault[] =>
    faultsOf(
      'HO',
      ways.map((way) => ({ ...way, rails: way.rails.flatMap(change) })),
    )

  it('find a wing that does not go on as the guard rail of the other frog', () => {
    const shared = [...found.network.turnouts.values()].flatMap(({ result }) => (result.ok ? (result.geometry.beside ?? []) : []))
    expect(shared.filter(({ role }) => role.startsWith('guard'))).toHaveLength(4)
    // Of the turnouts and of the diamond: each kind of them cut back to where the other frog begins.
    for (const roles of [['wing-straight'], ['wing-straight', 'wing-other']]) {
      const faults = changed((rail) => {
        const { lengthMm } = rail.gaugeLine
        const isKnuckleFirst = Math.abs(Math.sin(pathPoseAt(rail.gaugeLine, 0).headingRad)) < 1e-6
        if (!roles.includes(rail.role)) return [rail]
        return [
          {
            ...rail,
            gaugeLine: isKnuckleFirst ? pathSlice(rail.gaugeLine, 0, 0.5 * lengthMm) : pathSlice(rail.gaugeLine, 0.5 * lengthMm, lengthMm),
          },
        ]
      })
      expect(faults).not.toEqual([])
    }
  })

  it('cross at the angle of two frogs, with eight frogs of which none is unguarded', () => {
    const [crossing] = [...found.network.crossings.values()]
    if (crossing?.result.ok !== true) throw new Error('no diamond')
    const { frogs, angleRad } = crossing.result.crossing
    expect(angleRad).toBeCloseTo(2 * frogAngle(6, 'isosceles'), 9)
    const turnouts = [...found.network.turnouts.values()].flatMap(({ result }) => (result.ok ? result.geometry.frogs : []))
    expect([...frogs, ...turnouts]).toHaveLength(8)
    expect([...frogs, ...turnouts].filter(({ kind, unguardedMm }) => kind === 'vee' && unguardedMm > 0)).toEqual([])
  })

  it('leave one cut where a frog begins at another one’s end', () => {
    const inPlan = (pose: Pose, gaps: readonly { readonly at: Point }[]): readonly Point[] => gaps.map(({ at }) => poseToPlan(pose, at))
    const turnouts = [...found.network.turnouts.values()].flatMap(({ result }) =>
      result.ok ? inPlan(result.pose, result.geometry.gaps) : [],
    )
    const diamond = [...found.network.crossings.values()].flatMap(({ pose, result }) =>
      result.ok ? inPlan(pose, result.crossing.gaps) : [],
    )
    // Two ends of each of eight frogs on two lines are 32; four diamond ends lie at heels of turnouts.
    expect([turnouts.length, diamond.length]).toEqual([16, 12])
    const apart = diamond.flatMap((a) => turnouts.map((b) => Math.hypot(a.x - b.x, a.y - b.y)))
    expect(Math.min(...apart)).toBeGreaterThan(1)
  })

  it('find the same rails in the mirror', () => {
    const places = (hand: 'left' | 'right', flip: 1 | -1): readonly string[] => {
      const derived = scissorsLaid('HO', 6, 50.8, hand)
      const lengthMm = derived.network.plan.railway.gaugeMm * 400
      return (scissorsWays(derived)[0]?.rails ?? [])
        .flatMap(({ gaugeLine }) => [pathPoseAt(gaugeLine, 0), gaugeLine.end])
        .map(({ x, y }) => `${(flip === 1 ? x : lengthMm - x).toFixed(4)} ${y.toFixed(4)}`)
        .toSorted()
    }
    const near = (a: readonly string[], b: readonly string[]): number =>
      Math.max(...a.map((text, i) => Math.max(...text.split(' ').map((value, k) => Math.abs(Number(value) - Number(b[i]?.split(' ')[k]))))))
    expect(places('right', -1)).toHaveLength(places('left', 1).length)
    expect(near(places('right', -1), places('left', 1))).toBeLessThan(1e-3)
  })
})
