import { pathNearest, pathPoseAt } from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import type { FrogLine, TurnoutRail, WorkFrog, WorkRoute } from '../types.ts'
import { faceDistance, partOf, stationsBetween, worstAlong } from './faces.ts'
import type { Measured } from './faces.ts'

/** Over so many flangeways behind a nose it is measured, at so many places. */
const behindFlangeways = 2
const places = 8
/** A rail lies on its line to this, mm: rounding. */
const onLineMm = 1e-3

/** What guides a wheel through a steep crossing on one of its lines; null: a face is missing. */
export interface SteepMeasures {
  readonly checkGauge: Measured | null
  readonly span: Measured | null
  readonly guardFlangeway: Measured | null
  readonly wingFlangeway: Measured | null
}

/**
 * Measured where the line begins again behind the other track's flangeway, over the first flangeways of it: from its face to that of the check rail
 * across the gauge, and between the check rails on both sides; the check rail's own flangeway beside it; and what the heads of the
 * line leave to the other one.
 */
export function steepMeasure(
  frog: WorkFrog,
  line: FrogLine,
  other: { readonly route: WorkRoute; readonly side: FrogLine['side'] },
  route: WorkRoute,
  rails: readonly TurnoutRail[],
  flangewayMm: number,
): SteepMeasures {
  const own = rails.filter((rail) => !['check', 'guard', 'wing'].includes(partOf(rail)) && liesOn(rail.gaugeLine, route, line.side))
  const nose = noseOf(own, route, frog, flangewayMm)
  const checks = rails.filter(({ role }) => role === `check-${route.name}`)
  const ofSide = (side: FrogLine['side']): readonly TurnoutRail[] =>
    checks.filter(
      ({ gaugeLine }) => pathNearest(route.centre, pathPoseAt(gaugeLine, gaugeLine.lengthMm / 2)).offsetMm > 0 === (side === 'left'),
    )
  const across = ofSide(line.side === 'left' ? 'right' : 'left')
  const beside = ofSide(line.side)
  const measure = (of: (at: Point) => number | null, worse: 'least' | 'most'): Measured | null =>
    nose === null ? null : worstAlong(nose.path, stationsBetween(nose.fromMm, nose.toMm, places), of, worse)
  const least = (faces: readonly TurnoutRail[], at: Point): number | null => {
    const abreast = faces.flatMap(({ gaugeLine }) => faceDistance(gaugeLine, at) ?? [])
    return abreast.length === 0 ? null : Math.min(...abreast)
  }
  return {
    checkGauge: measure((at) => least(across, at), 'least'),
    span: measure((at) => {
      const [far, near] = [least(across, at), least(beside, at)]
      return far === null || near === null ? null : far - near
    }, 'most'),
    guardFlangeway: measure((at) => least(beside, at), 'least'),
    wingFlangeway: nose === null ? null : endClearance(nose, other),
  }
}

/** The rail that begins again behind the flangeway: over which stations of its path, and its end that faces the other line. */
interface Nose {
  readonly rail: TurnoutRail
  readonly path: Path
  readonly fromMm: number
  readonly toMm: number
  readonly endMm: number
}

/** Of the two ends that face each other over a crossing the one that stands farther off it is the nose. */
function noseOf(rails: readonly TurnoutRail[], { centre }: WorkRoute, frog: WorkFrog, flangewayMm: number): Nose | null {
  const at = pathNearest(centre, frog.at).stationMm
  const ends = rails.flatMap((rail) =>
    [0, rail.gaugeLine.lengthMm].map((endMm) => ({
      rail,
      endMm,
      offMm: pathNearest(centre, pathPoseAt(rail.gaugeLine, endMm)).stationMm - at,
    })),
  )
  const nearest = (isAhead: boolean): (typeof ends)[number] | undefined =>
    ends
      .filter(({ endMm, offMm }) => (endMm === 0) === isAhead && (isAhead ? offMm > -onLineMm : offMm < onLineMm))
      .toSorted((a, b) => Math.abs(a.offMm) - Math.abs(b.offMm))[0]
  const [behind, ahead] = [nearest(false), nearest(true)]
  if (behind === undefined || ahead === undefined) return null
  const nose = Math.abs(behind.offMm) > Math.abs(ahead.offMm) ? behind : ahead
  const { rail, endMm } = nose
  const reachMm = Math.min(behindFlangeways * flangewayMm, rail.gaugeLine.lengthMm)
  return { rail, path: rail.gaugeLine, fromMm: endMm === 0 ? 0 : endMm - reachMm, toMm: endMm === 0 ? reachMm : endMm, endMm }
}

/** What the cut end of a rail's head leaves to a line: from the nearer of its corners. */
function endClearance(
  { rail, path, endMm }: Nose,
  { route, side }: { readonly route: WorkRoute; readonly side: FrogLine['side'] },
): Measured {
  const { x, y, headingRad } = pathPoseAt(path, endMm)
  const reach = rail.headSide * rail.headWidthMm
  const corners = [
    { x, y },
    { x: x - reach * Math.sin(headingRad), y: y + reach * Math.cos(headingRad) },
  ]
  const lineMm = ((side === 'left' ? 1 : -1) * route.gaugeMm) / 2
  return { mm: Math.min(...corners.map((corner) => Math.abs(pathNearest(route.centre, corner).offsetMm - lineMm))), at: { x, y } }
}

function liesOn(path: Path, { centre, gaugeMm }: WorkRoute, side: FrogLine['side']): boolean {
  const { offsetMm } = pathNearest(centre, pathPoseAt(path, path.lengthMm / 2))
  return Math.abs(offsetMm - ((side === 'left' ? 1 : -1) * gaugeMm) / 2) < onLineMm
}
