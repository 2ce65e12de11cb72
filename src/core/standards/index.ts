export {
  bufferRows,
  curvatureRows,
  MAX_ATTACK_ANGLE_DEG,
  NO_EASEMENT_RADIUS_OVER_GAUGE,
  serviceRows,
  type BufferRow,
  type CurvatureRow,
  type ServiceRow,
} from './curvature.data.ts'
export { clearHeightOver, clearHeightSource } from './clearHeight.ts'
export { curveResistanceGrade } from './curveResistance.ts'
export { degreeOfCurveFromRadius, degreeOfCurveToRadius, DEGREE_CHORD_MM, type DegreeDefinition } from './degree.ts'
export { gaugeByKey, gaugeCustom, gaugeList, type CustomGauge, type CustomGaugeResult } from './gauges.ts'
export type { GaugeLimit, GaugeRow } from './gauges.data.ts'
export { lineClassInMetric, railwayInMetric } from './inMetric.ts'
export { layingForRatio, roadbedForClass, standardMaterials, stocksForRailway } from './laying.ts'
export { lineClassesForGauge, lineClassesForScale, type LineClassKey, type StandardLineClass } from './lineClasses.ts'
export { paperByName, paperList } from './paper.ts'
export type { PaperSize } from './paper.data.ts'
export { railByCode, type Rail } from './rails.ts'
export { NARROW_BELOW_MM, railwayForGauge, railwayForScale, type StandardRailway } from './railway.ts'
export type { Sourced, SourceStatus } from './source.ts'
export { tiePresetList, tiesOfPreset, type TiesOfPreset } from './tiePreset.ts'
export { tieRows, type TiePreset, type TieRow } from './ties.data.ts'
