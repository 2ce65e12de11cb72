import { describe, expect, it } from 'vitest'
import { pathOffset, pathSlice } from '../../../src/core/geom/index.ts'
import { turnoutMirror } from '../../../src/core/turnout/index.ts'
import type { RouteName, TurnoutGeometry, TurnoutRail } from '../../../src/core/turnout/types.ts'
import { requestOfScale, solved } from '../../support/turnouts.ts'
import { wheelsets } from '../../support/wheelsets.ts'
import { walkGround } from '../../support/wheelsetGround.ts'
import { wheelsetWalk } from '../../support/wheelsetWalk.ts'
import type { WalkFault } from '../../support/wheelsetWalk.ts'

const scales = ['HO', 'N', 'S', 'O'] as const
type Scale = (typeof scales)[number]
type Work = Pick<TurnoutGeometry, 'rails' | 'routes' | 'throwMm'>

/** What happens to the wheelsets of a scale on the routes of a turnout, both ways. */
function faultsOf(scale: Scale, { rails, routes, throwMm }: Work, only: RouteName | null = null): readonly WalkFault[] {
  return routes
    .filter(({ name }) => only === null || name === only)
    .flatMap((route) => {
      const ground = walkGround({ route, rails, throwMm })
      return wheelsets[scale].flatMap((wheels) => wheelsetWalk(ground, wheels).faults)
    })
}

const kinds = (faults: readonly WalkFault[]): readonly string[] => [...new Set(faults.map(({ kind }) => kind))]

describe.each(scales)('wheelsets in %s', (scale) => {
  it.each([4, 5, 6, 7, 8, 10, 12, 14])('roll through a No. %d, both routes, facing and trailing', (frog) => {
    for (const points of ['straight', 'curved'] as const) {
      expect(faultsOf(scale, solved(requestOfScale(scale, frog, points)))).toEqual([])
    }
  })

  it('roll over the whole length, and no tread sinks between wing and point', () => {
    const turnout = solved(requestOfScale(scale, 6, 'straight'))
    for (const route of turnout.routes) {
      const ground = walkGround({ route, rails: turnout.rails, throwMm: turnout.throwMm })
      for (const wheels of wheelsets[scale]) {
        const { stations, deepestMm } = wheelsetWalk(ground, wheels)
        expect(stations * ground.stepMm).toBeGreaterThan(route.centre.lengthMm - wheels.diameterMm)
        // A hundredth of a millimetre full size would be felt; on a model a wheel rolls over it without a sound.
        expect(deepestMm).toBeLessThan(0.01)
      }
    }
  })
})

/*
 * Work that is wrong, so that the walk itself is proved: each is a mistake of the bench, in HO, and the rest of the turnout is as it should be.
 */
describe('wheelsets find what is wrong', () => {
  const right = solved(requestOfScale('HO', 6, 'straight'))

  const changed = (role: TurnoutRail['role'], change: (rail: TurnoutRail) => readonly TurnoutRail[], work: Work = right): Work => {
    expect(work.rails.some((rail) => rail.role === role)).toBe(true)
    return { ...work, rails: work.rails.flatMap((rail) => (rail.role === role ? change(rail) : [rail])) }
  }
  /** Moved square to itself, the way its head lies or away from it. */
  const moved =
    (mm: number) =>
    (rail: TurnoutRail): readonly TurnoutRail[] => [{ ...rail, gaugeLine: pathOffset(rail.gaugeLine, rail.headSide * mm) }]

  describe.each(['straight', 'curved'] as const)('on the %s route', (route) => {
    const guard = `guard-${route}` as const
    it('nothing, where nothing is', () => {
      expect(faultsOf('HO', right, route)).toEqual([])
      expect(faultsOf('HO', turnoutMirror(right), route)).toEqual([])
    })
    it('a guard rail that is missing', () => {
      expect(
        kinds(
          faultsOf(
            'HO',
            changed(guard, () => []),
            route,
          ),
        ),
      ).toContain('wrong side')
    })
    it('a guard rail half a millimetre too far from its rail', () => {
      expect(faultsOf('HO', changed(guard, moved(0.5)), route)).not.toEqual([])
    })
    it('a guard rail half a millimetre too near to its rail', () => {
      expect(kinds(faultsOf('HO', changed(guard, moved(-0.5)), route))).toContain('climbs')
    })
    it('a guard rail that stops at the throat, and one that begins behind the point', () => {
      const short =
        (from: number, to: number) =>
        (rail: TurnoutRail): readonly TurnoutRail[] => [
          { ...rail, gaugeLine: pathSlice(rail.gaugeLine, from * rail.gaugeLine.lengthMm, to * rail.gaugeLine.lengthMm) },
        ]
      expect(faultsOf('HO', changed(guard, short(0, 0.4)), route)).not.toEqual([])
      expect(faultsOf('HO', changed(guard, short(0.85, 1)), route)).not.toEqual([])
    })
    it('a wing rail that closes the flangeway', () => {
      const wing = route === 'straight' ? 'wing-curved' : 'wing-straight'
      expect(kinds(faultsOf('HO', changed(wing, moved(-0.6)), route))).toContain('climbs')
    })
    it('a gauge that is a millimetre and a half too wide', () => {
      expect(kinds(faultsOf('HO', changed(`stock-${route}`, moved(1.5)), route))).toContain('drops')
    })
    it('a gauge that is half a millimetre too narrow', () => {
      expect(kinds(faultsOf('HO', changed(`stock-${route}`, moved(-0.5)), route))).toContain('climbs')
    })
    it('a closed point whose tip stands off its stock rail', () => {
      expect(faultsOf('HO', changed(`point-${route}`, moved(-0.5)), route)).not.toEqual([])
    })
    it('points that do not open', () => {
      expect(faultsOf('HO', { ...right, throwMm: 0.6 }, route)).not.toEqual([])
    })
    it('a frog whose point reaches a millimetre across the flangeway', () => {
      expect(faultsOf('HO', changed(`frog-${route}`, moved(-1)), route)).not.toEqual([])
    })
  })

  it('a curved point thrown no wider than a straight one', () => {
    const curved = solved(requestOfScale('HO', 6, 'curved'))
    expect(curved.throwMm).toBeGreaterThan(right.throwMm)
    expect(kinds(faultsOf('HO', { ...curved, throwMm: right.throwMm }))).toContain('climbs')
  })
})
