import type { CutProblem } from '../core/sticks/index.ts'
import { fineText, lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'

/** Why pieces cannot be put on sticks, and what would do. */
export function cutProblemText(problem: CutProblem, prefs: MeasurePrefs): string {
  const long = (mm: number): string => lengthText(mm, prefs)
  switch (problem.kind) {
    case 'badKerf':
      return `The cut takes ${fineText(problem.value, prefs)}; it cannot take less than nothing. ${fineText(problem.wouldDo, prefs)} would do.`
    case 'badLeastOffcut':
      return `The shortest offcut that is kept is ${long(problem.value)}; it cannot be less than nothing. ${long(problem.wouldDo)} would do.`
    case 'badPiece':
      return `Piece ${problem.piece} is ${long(problem.value)} long; a piece has to be longer than nothing.`
    case 'badStock':
      return problem.what === 'length'
        ? `A stick of stock is ${long(problem.value)} long; it has to be longer than nothing.`
        : `There are ${problem.value} pieces of a stock; a whole number from 0 on is needed.`
    case 'noStock':
      return 'There is no stock to cut from. Add some to the stock list, on hand or to be bought.'
    case 'pieceTooLong':
      return `Piece ${problem.piece} is ${long(problem.lengthMm)} long and the longest stick ${long(problem.longestMm)}. A stick of ${long(problem.lengthMm)} would do.`
    case 'notEnough': {
      const { missingPieces, missingMm, missingSticks, longestMm, isProven } = problem
      return `What is on hand ${isProven ? 'is not enough' : 'was not made to do'}: ${missingPieces.length} pieces, ${long(missingMm)} in all, find no place. ${missingSticks} more of ${long(longestMm)} would do.`
    }
  }
}
