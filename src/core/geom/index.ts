/** Public face of the geometry stage. Signs are in conventions.md. */
export type * from './types.ts'
export { assertNever, invariant, InvariantError } from './invariant.ts'
export { angleBetween, angleWrap } from './angle.ts'
export {
  pointAdd,
  pointCross,
  pointDistance,
  pointDot,
  pointEquals,
  pointLeft,
  pointLerp,
  pointPolar,
  pointRotate,
  pointScale,
  pointSubtract,
} from './point.ts'
export { poseAhead, poseCompose, poseMirror, poseOffset, poseReverse, posesMeet, poseToLocal, poseToPlan } from './pose.ts'
export {
  elementCurvatureAt,
  elementEnd,
  elementMirror,
  elementPoseAt,
  elementReverse,
  elementSharpness,
  elementSplit,
} from './element.ts'
export { poseSlot, type PoseSlot } from './clothoid.ts'
export { elementEvaluator, evaluatorPoseAt, type ElementEvaluator } from './evaluator.ts'
export {
  pathArc,
  pathBox,
  pathBoxKept,
  pathCurvatureAt,
  pathElementAt,
  pathElementIndex,
  pathFromElements,
  pathLine,
  pathMirror,
  pathMove,
  pathOffsetPoint,
  pathPoseAt,
  pathPoseInto,
  pathReverse,
  pathSlice,
  pathsJoined,
  pathStart,
  stationSlackMm,
} from './path.ts'
export { pathBends, radiusTighter, type Bend } from './bends.ts'
export { elementBetween } from './between.ts'
export { pathJumpBefore, poseBeforeJump, poseJump, poseJumped, type PathJump } from './jumps.ts'
export { pathOffset } from './offset.ts'
export { pathNearest, pathNearestWithin } from './nearest.ts'
export { pathStretchesWithin } from './within.ts'
export { pathFlatten, pathStations, type PathStretch } from './flatten.ts'
export { pathToCubics, type CubicPath } from './cubics.ts'
export { pathIntersections, type PathMeeting } from './intersect.ts'
export { boxContains, boxesOverlap, boxesWithin, boxGrow, boxOfPoints, boxUnion } from './box.ts'
export { boxRow, boxRowMeets, boxRowOverlaps, boxRowSet, type BoxRow } from './boxRow.ts'
export {
  polygonContains,
  polygonEdgeDistance,
  polylineNearest,
  ringArea,
  ringContains,
  ringNearest,
  ringSelfIntersections,
  segmentIntersection,
  segmentNearest,
  type EdgePlace,
  type Polygon,
} from './polygon.ts'
export { polylineSides, type Side } from './sides.ts'
export { rootBrent, type RootResult } from './root.ts'
