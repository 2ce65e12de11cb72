import type { PointFault } from '../formats/pointsText.ts'
import { entryProblemText } from './entryText.ts'

/** Longer rows are shown by their beginning. */
const shownSigns = 40

/** Which line of a list of points is no point, and why. */
export function pointFaultText(fault: PointFault): string {
  const { line, text } = fault
  const row = text.length > shownSigns ? `${text.slice(0, shownSigns)}…` : text
  switch (fault.kind) {
    case 'notTwo':
      return `Line ${line}, “${row}”, has no two measures; right would be 120.5, 64 or 4′ 3″, 2′ 6″.`
    case 'notALength':
      return `Line ${line}, “${row}”: ${fault.at} cannot be read. ${entryProblemText(fault.problem)}`
  }
}
