export { angleFormat, angleParse, RAD_PER_DEG, type AngleResult, type AngleStyle } from './angle.ts'
export { gradeFormat, gradeParse, type GradeResult } from './grade.ts'
export { LENGTH_MAX_MM, lengthParse, MM_PER_FOOT, MM_PER_INCH, type BareLength, type LengthResult } from './length.ts'
export {
  fractionTypeset,
  lengthFormat,
  lengthFormatWithError,
  NO_VALUE,
  type FormattedLength,
  type FractionOfInch,
  type LengthStyle,
} from './lengthFormat.ts'
export { frogNumberFormat, frogNumberParse, numberParse, type FrogNumberResult, type NumberResult } from './number.ts'
export type { EntryProblem, EntryRefused } from './problem.ts'
export { scaleRatioFromMmPerFoot, scaleToModel, scaleToPrototype } from './scale.ts'
