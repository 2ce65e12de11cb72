import { ladderFigures } from '../../core/makers/index.ts'
import { frogNumberFormat } from '../../core/units/index.ts'
import { angleDegrees, columns, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { standardTurnout, standardTurnoutOptions } from '../standardTurnout.ts'
import { lengthRequired, numberOption } from '../values.ts'

export const ladderSpec: VerbSpec = {
  name: 'ladder',
  about: 'a straight ladder: its pitch, what each body track loses, and whether the points clear the last frog',
  options: {
    ...standardTurnoutOptions,
    centres: { value: '2in', about: 'centres of the body tracks', isRequired: true },
    tracks: { value: '5', about: 'body tracks, the first of them beside the host; 5 when left out' },
    'lead-centres': { value: '2in', about: 'host to the first body track; the same as --centres when left out' },
  },
  example: 'waybench ladder --frog 6 --centres 2in --tracks 5',
}

const mostTracks = 30

export function ladderRun(args: Args): Answer {
  const centresMm = lengthRequired(args, 'centres')
  const leadCentresMm = args.values.has('lead-centres') ? lengthRequired(args, 'lead-centres') : centresMm
  const tracks = numberOption(args, 'tracks') ?? 5
  if (!Number.isInteger(tracks) || tracks < 1 || tracks > mostTracks) {
    throw new BadInput(`--tracks ${args.values.get('tracks') ?? ''}: it must be a whole number of 1 to ${mostTracks}.`)
  }
  const { frog, shape, notes } = standardTurnout(args, 'yard')
  const { frogAngleRad, fromMm, toMm } = shape
  const figures = ladderFigures({ centresMm, frogAngleRad })
  const sin = Math.sin(frogAngleRad)
  const leastPitchMm = toMm - fromMm
  const leastLeadCentresMm = (shape.clearMm - fromMm + shape.crossX) * sin
  const closes = figures.pitchAlongLadderMm >= leastPitchMm && (tracks === 1 || leadCentresMm >= leastLeadCentresMm)
  const bodies = Array.from({ length: tracks }, (_, i) => {
    const offsetMm = leadCentresMm + i * centresMm
    return {
      track: i + 1,
      offsetMm,
      alongLadderMm: offsetMm / sin,
      alongBodyMm: offsetMm / Math.tan(frogAngleRad),
      shorterByMm: i * figures.shorterByMm,
    }
  })
  const wanting = ladderWanting(closes, figures.pitchAlongLadderMm, leastPitchMm, sin, leastLeadCentresMm)
  return {
    json: {
      frog,
      centresMm,
      leadCentresMm,
      frogAngleRad,
      ...figures,
      leastPitchMm,
      leastCentresMm: leastPitchMm * sin,
      leastLeadCentresMm,
      closes,
      bodies,
      notes,
    },
    text: [
      columns([
        ['Frog', `No. ${frogNumberFormat(frog)}, ${angleDegrees(frogAngleRad)}`],
        ['Pitch along the ladder', lengthBoth(figures.pitchAlongLadderMm)],
        ['Pitch along the body', lengthBoth(figures.pitchAlongBodyMm)],
        ['Each body track between two ladders shorter by', lengthBoth(figures.shorterByMm)],
        ['Length of a turnout, head blocks to last long tie', lengthBoth(leastPitchMm)],
        ['Least centres of the body tracks', lengthBoth(leastPitchMm * sin)],
        ['Least centres from host to first body track', lengthBoth(leastLeadCentresMm)],
      ]),
      wanting,
      '',
      columns([
        ['Track', 'off the host', 'along the ladder', 'along the body'],
        ...bodies.map(({ track, offsetMm, alongLadderMm, alongBodyMm }) => [
          String(track),
          lengthBoth(offsetMm),
          lengthBoth(alongLadderMm),
          lengthBoth(alongBodyMm),
        ]),
      ]),
      'Along: from where the ladder meets the centreline of its host, to where the line of the body track meets the ladder.',
      ...notes.map((note) => `Note: ${note}.`),
    ].join('\n'),
    exitCode: 0,
    files: [],
  }
}

/** Whether the ladder closes, and what would make it. */
function ladderWanting(closes: boolean, pitchMm: number, leastPitchMm: number, sin: number, leastLeadCentresMm: number): string {
  if (closes) return 'It closes: each points clear the long ties of the frog before them.'
  if (pitchMm < leastPitchMm) {
    return `It does not close: points would stand on the long ties of the frog before them. Centres of ${lengthBoth(leastPitchMm * sin)} or more would do, or a smaller frog number.`
  }
  return `It does not close: the first points would stand on the long ties of the lead. ${lengthBoth(leastLeadCentresMm)} or more from host to first body track would do.`
}
