import { pathFromElements } from '../../src/core/geom/index.ts'
import type { Path } from '../../src/core/geom/index.ts'
import { crossingSolve } from '../../src/core/turnout/index.ts'
import type { CrossingGeometry, CrossingRequest, TurnoutRequest } from '../../src/core/turnout/index.ts'
import { ho6 } from './turnouts.ts'

/** Half the length of the tracks below, mm: more than any crossing takes. */
const armMm = 600

/** A track through the origin: heading and curvature there. */
export function trackThrough(headingRad: number, curvature: number, arm = armMm): Path {
  const back = pathFromElements({ x: 0, y: 0, headingRad: headingRad + Math.PI }, [{ lengthMm: arm, k0: -curvature, k1: -curvature }]).end
  return pathFromElements({ x: back.x, y: back.y, headingRad: back.headingRad - Math.PI }, [
    { lengthMm: 2 * arm, k0: curvature, k1: curvature },
  ])
}

/** A crossing with the measures of a turnout; HO as the worked example has it. Wheel: 33 in and a flange of 0.025 in [NMRA-RP-25, from memory]. */
export function crossingRequest(
  angleRad: number,
  change: Partial<CrossingRequest> & { readonly firstCurvature?: number; readonly secondCurvature?: number } = {},
  measures: TurnoutRequest = ho6,
): CrossingRequest {
  const { firstCurvature = 0, secondCurvature = 0, ...rest } = change
  return {
    gaugeMm: measures.gaugeMm,
    ratio: measures.ratio,
    flangewayMm: measures.flangewayMm,
    checkGaugeMm: measures.checkGaugeMm,
    railHeadMm: measures.railHeadMm,
    railFootMm: measures.railFootMm,
    frogDefinition: measures.frogDefinition,
    pointThicknessMm: measures.pointThicknessMm,
    heelSpreadMm: measures.heelSpreadMm,
    tieLengthMm: measures.tieLengthMm,
    tieWidthMm: measures.tieWidthMm,
    tieSpacingMm: measures.tieSpacingMm,
    first: { path: trackThrough(0, firstCurvature), atMm: armMm },
    second: { path: trackThrough(angleRad, secondCurvature), atMm: armMm },
    slip: 'none',
    elbow: 'fixed',
    wheelDiameterMm: (33 / measures.ratio) * 25.4,
    flangeDepthMm: 0.025 * 25.4,
    ...rest,
  }
}

/** The solved crossing; a refused request fails the test with its problem. */
export function crossed(request: CrossingRequest): CrossingGeometry {
  const result = crossingSolve(request)
  if (!result.ok) throw new Error(`not solved: ${JSON.stringify(result.problem)}`)
  return result.crossing
}
