export { readingMeasure } from './measure.ts'
export type { Measured } from './measure.ts'
