import type { TurnoutProblem, TurnoutRequest } from '../core/turnout/types.ts'
import { angleDegrees, lengthBoth } from './answer.ts'

/** The option behind each value of a request. */
const optionOf: Readonly<Record<keyof TurnoutRequest, string>> = {
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
  tieWidthMm: 'the tie width',
  tieSpacingMm: '--tie-spacing',
  foulingMm: '--fouling',
}

/** Why a turnout cannot be built, in terms of the options. */
export function turnoutProblemWords(problem: TurnoutProblem): string {
  switch (problem.kind) {
    case 'frogOutOfRange':
      return `--frog ${problem.frog}: it must be ${problem.min} to ${problem.max}.`
    case 'badValue':
      return `${optionOf[problem.where]}: ${problem.where.endsWith('Mm') ? lengthBoth(problem.value) : problem.value} cannot be; it must be ${problem.expected}.`
    case 'noClosureSpread':
      return `No room for closure rails between heel and toe: ${lengthBoth(problem.shortByMm)} missing across the gauge. A smaller --heel-spread or --toe-length would do.`
    case 'switchAngleTooLarge':
      return `The points turn ${angleDegrees(problem.switchAngleRad)}, the frog only ${angleDegrees(problem.frogAngleRad)}. A --point-length of at least ${lengthBoth(problem.minPointLengthMm)} would do.`
    case 'pointsLongerThanLead':
      return `--point-length ${lengthBoth(problem.pointLengthMm)}: there is room for ${lengthBoth(problem.roomMm)} before the toe of the frog.`
  }
}
