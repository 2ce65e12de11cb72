import type { CrossingProblem, CrossingValue, RequestValue, TurnoutProblem } from '../core/turnout/index.ts'
import { crossingProblemText, turnoutProblemText } from '../words/problemText.ts'
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
  wideningMm: '--widening',
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
      return '--share'
    case 'noRoomForSecond':
      return '--second-after, --second-frog'
  }
}

/** The option behind each value of a crossing's request. */
const crossingOptionOf: Readonly<Record<CrossingValue, string>> = {
  gaugeMm: '--gauge',
  ratio: '--scale',
  pointThicknessMm: '--point-thickness',
  heelSpreadMm: '--heel-spread',
  flangewayMm: '--flangeway',
  checkGaugeMm: '--check-gauge',
  railHeadMm: '--rail-code (its head)',
  railFootMm: '--rail-code (its foot)',
  tieLengthMm: '--standard-tie',
  tieWidthMm: '--scale (the tie width)',
  tieSpacingMm: '--tie-spacing',
  wheelDiameterMm: '--scale (the wheels)',
  flangeDepthMm: '--flangeway (the flanges)',
}

/** Why a crossing cannot be built, with the option that would change it. */
export function crossingProblemWords(problem: CrossingProblem): string {
  return `${crossingOptionsOf(problem)}: ${crossingProblemText(problem, inBoth)}`
}

function crossingOptionsOf(problem: CrossingProblem): string {
  switch (problem.kind) {
    case 'badValue':
      return crossingOptionOf[problem.where]
    case 'angleTooSmall':
    case 'noSlip':
    case 'slipFoulsElbow':
      return '--angle, --frog'
    case 'trackTooShort':
    case 'frogsTooNear':
    case 'notApart':
    case 'meetAgain':
      return '--host-radius, --second-radius'
  }
}
