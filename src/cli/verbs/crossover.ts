import { crossoverCentres, crossoverFigures, scissorsCentres } from '../../core/makers/index.ts'
import { frogNumberFormat } from '../../core/units/index.ts'
import { angleDegrees, columns, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { standardTurnout, standardTurnoutOptions } from '../standardTurnout.ts'
import { lengthRequired } from '../values.ts'

export const crossoverSpec: VerbSpec = {
  name: 'crossover',
  about: 'a crossover between parallel tracks: frog to frog, points to points, the straight between',
  options: {
    ...standardTurnoutOptions,
    centres: { value: '2in', about: 'track centres', isRequired: true },
  },
  example: 'waybench crossover --frog 6 --centres 2in',
}

export function crossoverRun(args: Args): Answer {
  const centresMm = lengthRequired(args, 'centres')
  const { frog, gaugeMm, tieWidthMm, tieSpacingMm, shape, turnout, railway, notes } = standardTurnout(args, 'main')
  const { frogAngleRad, leadMm, heelMm } = shape
  const leastCentresMm = crossoverCentres(gaugeMm, frogAngleRad, 2 * heelMm + tieWidthMm)
  if (centresMm < leastCentresMm) {
    throw new BadInput(
      `--centres ${args.values.get('centres') ?? ''}: the two frogs have no room between the tracks; ${lengthBoth(roundedUp(leastCentresMm))} or more would do.`,
    )
  }
  const figures = crossoverFigures({ gaugeMm, centresMm, frogAngleRad, leadMm })
  const heelToHeelMm = figures.straightBetweenMm - 2 * heelMm
  const pair = [turnout, turnout] as const
  const scissorsCentresMm = scissorsCentres(railway, tieSpacingMm, [pair, pair], leastCentresMm)
  return {
    json: { frog, gaugeMm, centresMm, frogAngleRad, leadMm, ...figures, heelToHeelMm, leastCentresMm, scissorsCentresMm, notes },
    text: [
      columns([
        ['Frog', `No. ${frogNumberFormat(frog)}, ${angleDegrees(frogAngleRad)}`],
        ['Track centres', lengthBoth(centresMm)],
        ['Frog point to frog point, along the tracks', lengthBoth(figures.frogToFrogMm)],
        ['Points to points, along the tracks', lengthBoth(figures.pointsToPointsMm)],
        ['Straight between the frog points, along the crossover', lengthBoth(figures.straightBetweenMm)],
        ['Plain track between the frog heels', lengthBoth(heelToHeelMm)],
        ['Least centres with this frog', lengthBoth(leastCentresMm)],
        ['Least centres of a scissors with this frog', scissorsCentresMm === null ? 'none' : lengthBoth(scissorsCentresMm)],
      ]),
      ...notes.map((note) => `Note: ${note}.`),
    ].join('\n'),
    exitCode: 0,
    files: [],
  }
}

/** To a hundredth of a millimetre, on the side that will do. */
const roundedUp = (mm: number): number => Math.ceil(mm * 100) / 100
