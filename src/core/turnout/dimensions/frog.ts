import { pathNearest, pathPoseAt } from '../../geom/index.ts'
import type { Pose } from '../../geom/types.ts'
import { frogDistances } from '../frog.ts'
import type { FrogLine, TurnoutRail, WorkFrog, WorkMeasures } from '../types.ts'
import { faceAcross, faceDistance, partOf, railNearest, stationsBetween, worstAlong } from './faces.ts'
import type { Measured } from './faces.ts'

/** What stands farther off than so many flangeways stands across the gauge. */
const acrossFlangeways = 3
/** Places at which a frog is measured behind its point. */
const places = 4

/** What guides a wheel through a vee on one of its lines; null: a face is missing. */
export interface FrogMeasures {
  readonly checkGauge: Measured | null
  readonly span: Measured | null
  readonly guardFlangeway: Measured | null
  readonly wingFlangeway: Measured | null
  readonly throatFlangeway: Measured | null
}

/**
 * Measured over the first flangeway behind the actual point, where a wheel that is not held strikes it; the guard's flangeway
 * from the throat on, the throat between the wings where they stand closest.
 */
export function frogMeasure(
  frog: WorkFrog,
  line: FrogLine,
  other: FrogLine,
  rails: readonly TurnoutRail[],
  measures: Pick<WorkMeasures, 'flangewayMm' | 'railHeadMm' | 'ratio'>,
): FrogMeasures {
  const of = (part: string, { route }: FrogLine): readonly TurnoutRail[] => rails.filter(({ role }) => role === `${part}-${route}`)
  const point = railNearest(of('frog', line), frog.actualPoint)
  const wing = railNearest(of('wing', other), frog.actualPoint)
  const ownWing = railNearest(of('wing', line), frog.at)
  const { flangewayMm } = measures
  const guard = point === null ? null : guardOf(pathPoseAt(point.gaugeLine, 0), of('guard', line), flangewayMm)
  const behind = point === null ? [] : stationsBetween(0, Math.min(flangewayMm, point.gaugeLine.lengthMm), places)
  const measured = (rail: TurnoutRail | null, distance: typeof faceAcross): Measured | null =>
    point === null || rail === null ? null : worstAlong(point.gaugeLine, behind, (at) => distance(rail.gaugeLine, at), 'least')
  const reach = frogDistances(frog.angleRad, measures).throat
  const guardMid = guard === null ? 0 : pathNearest(guard.gaugeLine, frog.at).stationMm
  const stocks = rails.filter((rail) => !['guard', 'wing', 'check', 'frog'].includes(partOf(rail)))
  const stock = guard === null ? null : railNearest(stocks, pathPoseAt(guard.gaugeLine, guardMid))
  return {
    checkGauge: measured(guard, faceAcross),
    span:
      wing === null || guard === null || point === null
        ? null
        : worstAlong(
            point.gaugeLine,
            behind,
            (at) => {
              const [toGuard, toWing] = [faceAcross(guard.gaugeLine, at), faceDistance(wing.gaugeLine, at)]
              return toGuard === null || toWing === null ? null : toGuard - toWing
            },
            'most',
          ),
    guardFlangeway:
      guard === null || stock === null
        ? null
        : worstAlong(
            guard.gaugeLine,
            stationsBetween(guardMid - reach, guardMid + reach, 2 * places),
            (at) => faceDistance(stock.gaugeLine, at),
            'least',
          ),
    wingFlangeway: measured(wing, faceDistance),
    throatFlangeway:
      ownWing === null || wing === null
        ? null
        : worstAlong(
            ownWing.gaugeLine,
            stationsBetween(0, ownWing.gaugeLine.lengthMm, 8 * places),
            (at) => faceDistance(wing.gaugeLine, at),
            'least',
          ),
  }
}

/**
 * The guard rail of a frog's line stands across the gauge from its point: the nearest of the route's guards that is abreast of it and no mere
 * flangeway off. That near stands the guard of another frog, beside the very rail.
 */
function guardOf(point: Pose, guards: readonly TurnoutRail[], flangewayMm: number): TurnoutRail | null {
  return railNearest(
    guards.filter(({ gaugeLine }) => (faceAcross(gaugeLine, point) ?? 0) > acrossFlangeways * flangewayMm),
    point,
  )
}
