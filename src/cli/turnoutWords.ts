import type { RequestValue, TurnoutProblem } from '../core/turnout/types.ts'
import { turnoutProblemText } from '../words/problemText.ts'
import { inBoth } from './answer.ts'

/** The option behind each value of a request. */
const optionOf: Readonly<Record<RequestValue, string>> = {
  gaugeMm: '--gauge',
  ratio: '--scale',
  frog: '--frog',
  frogDefinition: '--frog-definition',
  hand: '--hand',
  points: '--points',
  pointLengthMm: '--point-length',
  pointThicknessMm: '--point-thickness',
  heelSpreadMm: '--heel-spread',
  entryAngleRad: '--entry-angle',
  toeLengthMm: '--toe-length',
  heelLengthMm: '--heel-length',
  flangewayMm: '--flangeway',
  checkGaugeMm: '--check-gauge',
  railHeadMm: '--rail-code (its head)',
  railFootMm: '--rail-code (its foot)',
  tieLengthMm: '--standard-tie',
  tieWidthMm: '--scale (the tie width)',
  tieSpacingMm: '--tie-spacing',
  foulingMm: '--fouling',
}

/** Why a turnout cannot be built, with the option that would change it. */
export function turnoutProblemWords(problem: TurnoutProblem): string {
  return `${optionsOf(problem)}: ${turnoutProblemText(problem, inBoth)}`
}

function optionsOf(problem: TurnoutProblem): string {
  switch (problem.kind) {
    case 'frogOutOfRange':
      return '--frog'
    case 'badValue':
      return optionOf[problem.where]
    case 'noClosureSpread':
      return '--heel-spread, --toe-length'
    case 'switchAngleTooLarge':
    case 'pointsLongerThanLead':
      return '--point-length'
    case 'hostTooSharp':
    case 'hostTooShort':
    case 'hostNotStraight':
      return '--host-radius'
    case 'shareOutOfRange':
    case 'noRoomForSecond':
      return '--kind'
  }
}
