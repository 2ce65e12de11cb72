import type { TurnoutProblem, TurnoutRequest } from '../core/turnout/types.ts'
import { angleDegrees, lengthBoth, lengthFine } from './answer.ts'

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
      return `${optionOf[problem.where]}: ${valueWords(problem.where, problem.value)} cannot be; it must be ${boundsWords(problem)}.`
    case 'noClosureSpread':
      return `No room for closure rails between heel and toe: ${lengthBoth(problem.shortByMm)} missing across the gauge. A smaller --heel-spread or --toe-length would do.`
    case 'switchAngleTooLarge':
      return `The points turn ${angleDegrees(problem.switchAngleRad)}, the frog only ${angleDegrees(problem.frogAngleRad)}. A --point-length of at least ${lengthBoth(problem.minPointLengthMm)} would do.`
    case 'pointsLongerThanLead':
      return `--point-length ${lengthBoth(problem.pointLengthMm)}: there is room for ${lengthBoth(problem.roomMm)} before the toe of the frog.`
  }
}

function boundsWords({ where, least, most, because }: Extract<TurnoutProblem, { kind: 'badValue' }>): string {
  // Rounded to the safe side, so that what is told will do.
  const from = least === null ? null : valueWords(where, rounded(where, least, Math.ceil))
  const to = most === null ? null : valueWords(where, rounded(where, most, Math.floor))
  const bounds = from === null ? `less than ${to ?? ''}` : to === null ? `at least ${from}` : `${from} to ${to}`
  return because === '' ? bounds : `${bounds}, ${because}`
}

/** To what the words show: hundredths of a millimetre or of a degree. */
function rounded(where: keyof TurnoutRequest, value: number, way: (value: number) => number): number {
  const grain = where.endsWith('Rad') ? (Math.PI / 180) * 1e-3 : 1e-2
  // What is a whole number of grains but for rounding is that number.
  const grains = value / grain
  return grain * (Math.abs(grains - Math.round(grains)) < 1e-6 ? Math.round(grains) : way(grains))
}

function valueWords(where: keyof TurnoutRequest, value: number): string {
  if (where.endsWith('Rad')) return angleDegrees(value)
  return where.endsWith('Mm') ? lengthFine(value) : String(value)
}
