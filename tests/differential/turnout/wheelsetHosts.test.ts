import { describe, expect, it } from 'vitest'
import { pathOffset, pathSlice } from '../../../src/core/geom/index.ts'
import { turnoutSolve } from '../../../src/core/turnout/index.ts'
import { crossed, crossingRequest } from '../../support/crossings.ts'
import { hostOf, hostOfCurvature, requestOfScale } from '../../support/turnouts.ts'
import { wheelsets } from '../../support/wheelsets.ts'
import { walkGround } from '../../support/wheelsetGround.ts'
import type { WalkPlan } from '../../support/wheelsetGround.ts'
import { wheelsetWalk } from '../../support/wheelsetWalk.ts'
import type { WalkFault } from '../../support/wheelsetWalk.ts'

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

  it('through three-way turnouts with both switches at one place, all ways', () => {
    let walked = 0
    for (const [frog, secondFrog] of [
      [5, 5],
      [6, 6],
      [8, 8],
      [10, 10],
    ] as const) {
      for (const points of ['straight', 'curved'] as const) {
        const base = requestOfScale(scale, frog, points)
        const solved = turnoutSolve({ ...base, kind: { kind: 'three-way', secondFrog, secondAfterMm: 0 } })
        if (!solved.ok) continue
        walked++
        expect(faultsOf(scale, solved.turnout), `No. ${frog} and ${secondFrog}, ${points}`).toEqual([])
      }
    }
    expect(walked > 0).toBe(true)
  })

  it('through gauntlets, both tracks', () => {
    for (const frog of [5, 6, 8]) {
      const solved = turnoutSolve({ ...requestOfScale(scale, frog, 'straight'), kind: { kind: 'gauntlet' } })
      if (!solved.ok) throw new Error(solved.problem.kind)
      expect(faultsOf(scale, solved.turnout), `No. ${frog}`).toEqual([])
    }
  })

  it('through stub turnouts set for the diverging route: the moved rails lie over', () => {
    for (const points of ['straight', 'curved'] as const) {
      const request = requestOfScale(scale, 6, points, 'left', { kind: 'stub' })
      const solved = turnoutSolve(request)
      if (!solved.ok) throw new Error(solved.problem.kind)
      const { routes, rails, throwMm } = solved.turnout
      const route = routes.find(({ name }) => name === 'curved')
      if (!route) throw new Error('no diverging route')
      // Held at PS and thrown over, the host's rails lie along the route: half a gauge off it as far as they reach.
      const thrown = rails.map((rail) =>
        rail.role === 'point-straight'
          ? { ...rail, gaugeLine: pathOffset(pathSlice(route.centre, 0, rail.gaugeLine.lengthMm), (rail.headSide * route.gaugeMm) / 2) }
          : rail,
      )
      expect(faultsOf(scale, { rails: thrown, throwMm, routes: [route] })).toEqual([])
    }
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

describe('dual gauge in HO, 16.5 and 10.5 mm', () => {
  it.each(['wide', 'narrow', 'both'] as const)(
    '%s diverging: runs where every frog is guarded in full, and fails only at frogs that say otherwise',
    (diverging) => {
      for (const common of ['left', 'right'] as const) {
        for (const frog of [6, 8]) {
          const kind = { kind: 'dual-gauge', narrowGaugeMm: 10.5, common, diverging } as const
          const solved = turnoutSolve({ ...requestOfScale('HO', frog, 'straight'), kind })
          if (!solved.ok) throw new Error(solved.problem.kind)
          const { routes, rails, throwMm, frogs, request } = solved.turnout
          const open = frogs.filter(({ unguardedMm }) => unguardedMm > 0)
          const faults = routes.flatMap((route) => {
            const narrower = request.gaugeMm - route.gaugeMm
            const ground = walkGround({ route, rails, throwMm })
            return wheelsets.HO.flatMap(
              (wheels) => wheelsetWalk(ground, { ...wheels, backToBackMm: wheels.backToBackMm - narrower }).faults,
            )
          })
          expect(faults.length > 0).toBe(open.length > 0)
          // A flange leaves what holds it no farther from the frog than the guarded part would have reached.
          for (const { at } of faults) {
            const near = Math.min(...open.map((one) => Math.hypot(one.at.x - at.x, one.at.y - at.y)))
            expect(near).toBeLessThan(2 * request.gaugeMm)
          }
        }
      }
    },
  )
})
