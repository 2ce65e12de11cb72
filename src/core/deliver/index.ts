/** Public face of the delivery stage: full-size sheets as data. */
export type * from './types.ts'
export { sheetPlanCorners, sheetsForSubject, SHEETS_MAX } from './sheets.ts'
export { PAPER_SIDE_MAX_MM } from './paper.ts'
export { lineStyles, type LineStyle } from './roles.ts'
export { EDGE_TOLERANCE_MM } from './edge.ts'
export { pageToPlan, planToPage } from './laidItem.ts'
