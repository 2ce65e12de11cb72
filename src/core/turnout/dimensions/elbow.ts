import { pathNearest, pathPoseAt } from '../../geom/index.ts'
import type { FrogLine, TurnoutRail, WorkFrog, WorkMeasures, WorkRoute } from '../types.ts'
import { checkFlangeway } from '../work/checkFlangeway.ts'
import { faceDistance, partOf, railNearest, stationsBetween, worstAlong } from './faces.ts'
import type { Measured } from './faces.ts'

/** Places along the gap of an elbow, and along its check rail, at which it is measured. */
const places = 120
const checkPlaces = 40
/** A check rail holds as long as it stands a flangeway off its own rail to this part of it: its bend, rounded by a rail head, still does. */
const turnedFlangeways = 0.05
/** A check rail is that of an elbow when it comes so near to it. */
const ownFlangeways = 3
/** A nose lies on its line to this, mm: rounding. */
const onLineMm = 1e-3

/** What guides a wheel through an elbow on one of its lines; null: a face is missing. */
export interface ElbowMeasures {
  readonly flangeway: Measured | null
  readonly open: Measured | null
  /** From the face of its check rail to the line across the gauge; null: no check rail. */
  readonly checkGauge: Measured | null
}

/**
 * Measured between faces: the flangeway between the elbow's own check rail and the rails beside it, where it is narrowest; and how much of the
 * gap between corner and point lies where the check rail of the opposite elbow no longer stands a flangeway off its own rail.
 * A wheel spans that much and no more. The check gauge where the check rail holds best: its bend and its flares open from there.
 */
export function elbowMeasure(
  frog: WorkFrog,
  line: FrogLine,
  route: WorkRoute,
  rails: readonly TurnoutRail[],
  measures: Pick<WorkMeasures, 'flangewayMm' | 'checkGaugeMm' | 'checkFlangewayMm'>,
  mainGaugeMm: number,
): ElbowMeasures {
  const checks = rails.filter((rail) => partOf(rail) === 'check')
  const own = railNearest(checks, frog.at)
  const reachMm = (own?.gaugeLine.lengthMm ?? 0) + measures.flangewayMm
  const running = rails.filter(
    (rail) => !['check', 'guard', 'wing', 'point'].includes(partOf(rail)) && pathNearest(rail.gaugeLine, frog.at).distanceMm < reachMm,
  )
  const flangeway =
    own === null
      ? null
      : worstAlong(
          own.gaugeLine,
          stationsBetween(0, own.gaugeLine.lengthMm, checkPlaces),
          (at) => {
            const rail = railNearest(running, at)
            return rail === null ? null : faceDistance(rail.gaugeLine, at)
          },
          'least',
        )
  return {
    flangeway,
    open: openLength(frog, line, route, checks, rails, checkFlangeway(measures, mainGaugeMm)),
    checkGauge: checkGaugeOf(frog, line, route, checks, measures.flangewayMm),
  }
}

function checkGaugeOf(
  frog: WorkFrog,
  line: FrogLine,
  { centre, gaugeMm }: WorkRoute,
  checks: readonly TurnoutRail[],
  flangewayMm: number,
): Measured | null {
  const side = line.side === 'left' ? 1 : -1
  const beside = checks.filter(({ gaugeLine }) => pathNearest(gaugeLine, frog.at).distanceMm < ownFlangeways * flangewayMm)
  const found = beside.flatMap(({ gaugeLine }) => {
    const most = worstAlong(
      gaugeLine,
      stationsBetween(0, gaugeLine.lengthMm, checkPlaces),
      (at) => gaugeMm / 2 + side * pathNearest(centre, at).offsetMm,
      'most',
    )
    return most === null ? [] : [most]
  })
  return found.toSorted((a, b) => b.mm - a.mm)[0] ?? null
}

function openLength(
  frog: WorkFrog,
  line: FrogLine,
  { centre, gaugeMm }: WorkRoute,
  checks: readonly TurnoutRail[],
  rails: readonly TurnoutRail[],
  checkFlangewayMm: number,
): Measured | null {
  const side = line.side === 'left' ? 1 : -1
  const noses = rails.filter(({ role, headTaper }) => role === `frog-${line.route}` && headTaper?.[0]?.headMm === 0)
  const nose = noses
    .filter(({ gaugeLine }) => {
      const { offsetMm } = pathNearest(centre, pathPoseAt(gaugeLine, 0))
      return Math.abs(offsetMm - (side * gaugeMm) / 2) < onLineMm
    })
    .toSorted((a, b) => fromFrog(a, frog) - fromFrog(b, frog))[0]
  if (nose === undefined) return null
  const [corner, point] = [frog.at, pathPoseAt(nose.gaugeLine, 0)].map((at) => pathNearest(centre, at).stationMm)
  if (corner === undefined || point === undefined) return null
  // On the far side of the track: the check rail that holds the other wheel of the axle.
  const stepMm = Math.abs(point - corner) / places
  let openMm = 0
  for (let i = 0; i < places; i++) {
    const { x, y, headingRad } = pathPoseAt(centre, Math.min(corner, point) + (i + 0.5) * stepMm)
    const face = -side * (gaugeMm / 2 - checkFlangewayMm)
    const at = { x: x - face * Math.sin(headingRad), y: y + face * Math.cos(headingRad) }
    if (!checks.some(({ gaugeLine }) => pathNearest(gaugeLine, at).distanceMm < turnedFlangeways * checkFlangewayMm)) openMm += stepMm
  }
  return { mm: openMm, at: frog.at }
}

function fromFrog({ gaugeLine }: TurnoutRail, { at }: WorkFrog): number {
  const tip = pathPoseAt(gaugeLine, 0)
  return Math.hypot(tip.x - at.x, tip.y - at.y)
}
