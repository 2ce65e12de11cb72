import { describe, expect, it } from 'vitest'
import { turnoutSolve } from '../../../src/core/turnout/index.ts'
import { crossed, crossingRequest } from '../../support/crossings.ts'
import { hostOf, hostOfCurvature, requestOfScale } from '../../support/turnouts.ts'
import { wheelsets } from '../../support/wheelsets.ts'
import { walkGround, wheelsetWalk } from '../../support/wheelsetWalk.ts'
import type { WalkFault, WalkPlan } from '../../support/wheelsetWalk.ts'

type Work = Pick<WalkPlan, 'rails' | 'throwMm'> & { readonly routes: readonly WalkPlan['route'][] }

function faultsOf(scale: 'HO' | 'N' | 'S' | 'O', { rails, routes, throwMm }: Work): readonly WalkFault[] {
  return routes.flatMap((route) => {
    const ground = walkGround({ route, rails, throwMm })
    return wheelsets[scale].flatMap((wheels) => wheelsetWalk(ground, wheels).faults)
  })
}

/** Radii of the host in HO, mm; the same curve in scale elsewhere. A host too sharp for the number is refused, and said so. */
describe.each(['HO', 'N'] as const)('wheelsets on curved hosts in %s', (scale) => {
  it.each([450, 900, 2000])('of R %d, to either side', (radius) => {
    let walked = 0
    for (const frog of [5, 6, 8]) {
      for (const hostSide of [1, -1]) {
        for (const points of ['straight', 'curved'] as const) {
          const base = requestOfScale(scale, frog, points)
          const solved = turnoutSolve({ ...base, host: hostOfCurvature((hostSide * base.ratio) / (radius * 87.1)) })
          if (!solved.ok) expect(solved.problem.kind).toBe('hostTooSharp')
          else {
            walked++
            expect(faultsOf(scale, solved.turnout), `No. ${frog} ${points} ${hostSide}`).toEqual([])
          }
        }
      }
    }
    expect(walked).toBeGreaterThanOrEqual(9)
  })
})

describe('wheelsets in HO', () => {
  const base = requestOfScale('HO', 6, 'straight')

  it('on a host that is eased beneath the points', () => {
    for (const k of [1 / 600, -1 / 600]) {
      const eased = [
        { lengthMm: 500, k0: 0, k1: 0 },
        { lengthMm: 200, k0: 0, k1: k },
        { lengthMm: 500, k0: k, k1: k },
      ]
      const solved = turnoutSolve({ ...base, host: hostOf(eased, 550) })
      expect(solved.ok && faultsOf('HO', solved.turnout)).toEqual([])
    }
  })

  it('through wyes, even and uneven', () => {
    for (const share of [0.5, 0.3]) {
      const solved = turnoutSolve({ ...base, kind: { kind: 'wye', share } })
      expect(solved.ok && faultsOf('HO', solved.turnout)).toEqual([])
    }
  })

  const diamond = (number: number, slip: 'none' | 'single-left' | 'double' = 'none') =>
    crossed(crossingRequest(2 * Math.atan(1 / (2 * number)), { slip }, base))

  it.each([0.5, 0.8, 1, 1.2, 2, 3, 4, 5])('through a diamond No. %d', (number) => {
    expect(faultsOf('HO', { ...diamond(number), throwMm: 0 })).toEqual([])
  })

  it.each([3, 4, 5])('through single and double slips No. %d, all ways', (number) => {
    for (const slip of ['single-left', 'double'] as const) {
      const crossing = diamond(number, slip)
      expect(crossing.slips.length).toBeGreaterThan(0)
      expect(faultsOf('HO', { ...crossing, throwMm: crossing.slips[0]?.throwMm ?? 0 })).toEqual([])
    }
  })

  it.each([4, 5, 6, 8, 10, 14])('are held in the elbows of a fixed diamond No. %d as long as it says so', (number) => {
    const crossing = diamond(number)
    const isGuided = crossing.unguardedMm <= crossing.guidedMm
    expect(faultsOf('HO', { ...crossing, throwMm: 0 }).length === 0).toBe(isGuided)
  })
})

describe.each(['HO', 'N', 'S', 'O'] as const)('wheelsets in %s', (scale) => {
  it('through three-way turnouts with their switches lapped, all ways', () => {
    let walked = 0
    for (const [frog, secondFrog] of [
      [6, 6],
      [8, 8],
      [8, 6],
      [10, 8],
    ] as const) {
      const base = requestOfScale(scale, frog, 'straight')
      const at = (secondAfterMm: number) => turnoutSolve({ ...base, kind: { kind: 'three-way', secondFrog, secondAfterMm } })
      const refused = at(base.gaugeMm / 4)
      if (refused.ok || refused.problem.kind !== 'noRoomForSecond') throw new Error('expected the laps that have room')
      const { leastMm, mostMm } = refused.problem
      if (leastMm === null || mostMm === null) continue
      for (const lap of [leastMm + 0.001, (leastMm + mostMm) / 2, mostMm - 0.001]) {
        const solved = at(lap)
        walked++
        expect(solved.ok && faultsOf(scale, solved.turnout), `No. ${frog} and ${secondFrog}, ${lap}`).toEqual([])
      }
    }
    // In N flangeways are so wide for the gauge that none of these has a lap with room.
    expect(walked > 0).toBe(scale !== 'N')
  })

  it('through stub turnouts set for the through route', () => {
    for (const points of ['straight', 'curved'] as const) {
      const solved = turnoutSolve(requestOfScale(scale, 6, points, 'left', { kind: 'stub' }))
      if (!solved.ok) throw new Error(solved.problem.kind)
      const { routes, ...work } = solved.turnout
      expect(faultsOf(scale, { ...work, routes: routes.filter(({ name }) => name === 'straight') })).toEqual([])
    }
  })
})
