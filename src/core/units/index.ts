export { angleParse, type AngleResult } from './angle.ts'
export { angleFormat, RAD_PER_DEG, type AngleStyle } from './angleFormat.ts'
export { frogNumberFormat } from './frogFormat.ts'
export { gradeFormat, gradeParse, type GradeResult } from './grade.ts'
export { LENGTH_MAX_MM, lengthParse, type BareLength, type LengthResult } from './length.ts'
export {
  fractionTypeset,
  lengthFormat,
  lengthFormatWithError,
  NO_VALUE,
  type FormattedLength,
  type FractionOfInch,
  type LengthStyle,
} from './lengthFormat.ts'
export { MM_PER_FOOT, MM_PER_INCH } from './millimetres.ts'
export { frogNumberParse, numberParse, type FrogNumberResult, type NumberResult } from './number.ts'
export type { EntryProblem, EntryRefused } from './problem.ts'
export { scaleRatioFromMmPerFoot, scaleToModel, scaleToPrototype } from './scale.ts'
