import { standardCrossingBuild } from '../plan/index.ts'
import type { Crossing, Railway } from '../plan/types.ts'
import type { CrossingRequest, CrossingTrack } from '../turnout/crossing/types.ts'
import { checkFlangewayWithin, checkStandard, turnoutRequest } from '../turnout/index.ts'
import { standardBuild } from './standardBuild.ts'
import { MM_PER_INCH } from '../units/index.ts'

/** The usual wheel of a freight car, inches full size. Common practice, no source. */
const wheelInches = 33

/** Depth of a flange by the flangeway it runs in: model flanges are about half as deep as that is wide. Common practice, no source. */
const flangeByFlangeway = 0.5

/** Frog number by which the points of a slip are proportioned; their length follows from the crossing. */
const usualFrog = 8

/**
 * A crossing with every 'standard' value resolved from the railway.
 *
 * Units:   mm on the model.
 * Outcome: a request; whether it can be built is for crossingSolve to say. Never throws.
 */
export function crossingRequest(
  railway: Railway,
  tieSpacingMm: number,
  record: Crossing | null,
  first: CrossingTrack,
  second: CrossingTrack,
): CrossingRequest {
  const build = record?.build ?? standardCrossingBuild
  const { pointThicknessMm, heelSpreadMm } = build
  const asTurnout = turnoutRequest(
    railway,
    { tieSpacingMm },
    { hand: 'left', frog: usualFrog, build: { ...standardBuild, pointThicknessMm, heelSpreadMm } },
  )
  return {
    gaugeMm: railway.gaugeMm,
    ratio: railway.ratio,
    flangewayMm: railway.flangewayMm,
    checkGaugeMm: railway.checkGaugeMm,
    checkFlangewayMm: checkFlangewayWithin(checkStandard(railway), railway, railway.gaugeMm),
    railHeadMm: railway.railHeadMm,
    railFootMm: railway.railFootMm,
    frogDefinition: railway.frogDefinition,
    first,
    second,
    slip: record?.slip ?? 'none',
    elbow: build.elbow,
    pointThicknessMm: asTurnout.pointThicknessMm,
    heelSpreadMm: asTurnout.heelSpreadMm,
    tieLengthMm: railway.tieLengthMm,
    tieWidthMm: railway.tieWidthMm,
    tieSpacingMm,
    wheelDiameterMm: (wheelInches * MM_PER_INCH) / railway.ratio,
    flangeDepthMm: flangeByFlangeway * railway.flangewayMm,
  }
}
