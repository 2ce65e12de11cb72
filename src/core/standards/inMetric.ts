import type { StandardLineClass } from './lineClasses.ts'
import type { StandardRailway } from './railway.ts'

/*
 * The same room and limits for one who measures in millimetres: round figures of that rule. A limit goes up to the next one, so that it
 * is never looser than it was printed; what fits a person is given anew. Sizes of rail, wheels and ties stay as they are.
 */

const up = (mm: number, stepMm: number): number => Math.ceil(mm / stepMm - 1e-9) * stepMm

/** Reach, aisle and hatch in place of 30, 24 and 20 in. [COMMON-PRACTICE] */
export function railwayInMetric(railway: StandardRailway): StandardRailway {
  return {
    ...railway,
    edgeMarginMm: up(railway.edgeMarginMm, 1),
    runningClearanceMm: up(railway.runningClearanceMm, 0.5),
    foulingMm: up(railway.foulingMm, 1),
    reachMm: 750,
    aisleMm: 600,
    hatchMm: 500,
  }
}

export function lineClassInMetric(lineClass: StandardLineClass): StandardLineClass {
  const { easement } = lineClass
  return {
    ...lineClass,
    minRadiusMm: up(lineClass.minRadiusMm, 10),
    usualRadiusMm: up(lineClass.usualRadiusMm, 10),
    easement: easement.kind === 'none' ? easement : { ...easement, shiftMm: up(easement.shiftMm, 0.5) },
    trackCentresMm: up(lineClass.trackCentresMm, 1),
  }
}
