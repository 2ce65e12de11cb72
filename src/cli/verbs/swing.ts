import { gaugeByKey, gaugeList } from '../../core/standards/index.ts'
import { scaleToModel } from '../../core/units/index.ts'
import { swing, trackCentresForCars, type CarShape, type SwingProblem } from '../../core/vehicles/index.ts'
import { swingProblemText } from '../../words/swingText.ts'
import { columns, inBoth, lengthBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { nearestHint } from '../nearest.ts'
import { lengthOption, lengthRequired } from '../values.ts'

export const swingSpec: VerbSpec = {
  name: 'swing',
  about: 'how far a car stands out on a curve, and the track centres that two of them need',
  options: {
    radius: { value: '30in', about: 'radius of the centreline; of the inner track for the track centres', isRequired: true },
    length: { value: '11.7in', about: 'length of the body', isRequired: true },
    pivots: { value: '8.27in', about: 'truck centres, pivot to pivot', isRequired: true },
    width: { value: '1.38in', about: 'width of the body', isRequired: true },
    wheelbase: { value: '1.17in', about: 'axle to axle within a truck; none when left out' },
    clearance: { value: '0.25in', about: 'kept between two cars; 1/4 in when left out' },
    'full-size': { value: 'HO', about: 'the car is measured at full size and brought down to this scale' },
  },
  example: 'waybench swing --radius 30in --full-size HO --length 85ft --pivots 60ft --width 10ft',
}

/** Habit in HO and good enough elsewhere: a quarter of an inch. [COMMON-PRACTICE] */
const CLEARANCE_MM = 6.35

export function swingRun(args: Args): Answer {
  const radiusMm = lengthRequired(args, 'radius')
  const ratio = carRatio(args)
  const car: CarShape = {
    bodyLengthMm: scaleToModel(lengthRequired(args, 'length'), ratio),
    bodyWidthMm: scaleToModel(lengthRequired(args, 'width'), ratio),
    truckCentresMm: scaleToModel(lengthRequired(args, 'pivots', { least: 'zero or more' }), ratio),
    truckWheelbaseMm: scaleToModel(lengthOption(args, 'wheelbase', { least: 'zero or more' }) ?? 0, ratio),
  }
  const clearanceMm = lengthOption(args, 'clearance', { least: 'zero or more' }) ?? CLEARANCE_MM
  const result = swing(radiusMm, car)
  if (!result.ok) throw new BadInput(swingProblem(result.problem))
  const centres = trackCentresForCars({ innerRadiusMm: radiusMm, innerCar: car, outerCar: car, clearanceMm })
  if (!centres.ok) throw new BadInput(swingProblem(centres.problem))
  const { insideMm, outsideMm } = result.swing
  return {
    json: { radiusMm, ...car, insideMm, outsideMm, clearanceMm, trackCentresMm: centres.trackCentresMm },
    text: columns([
      ['Inside, beyond half the width', lengthBoth(insideMm)],
      ['Outside, beyond half the width', lengthBoth(outsideMm)],
      ['Running clearance', lengthBoth(clearanceMm)],
      ['Track centres, this radius inside', lengthBoth(centres.trackCentresMm)],
    ]),
    exitCode: 0,
    files: [],
  }
}

function carRatio(args: Args): number {
  const key = args.values.get('full-size')
  if (key === undefined) return 1
  const row = gaugeByKey(key)
  if (!row)
    throw new BadInput(
      `--full-size ${key}: no such scale. ${nearestHint(
        key,
        gaugeList().map((gauge) => gauge.key),
      )}`,
    )
  return row.ratio
}

/** The sentence, with the option that would change it. */
function swingProblem(problem: SwingProblem): string {
  return `${optionsOf(problem)}: ${swingProblemText(problem, inBoth)}`
}

function optionsOf(problem: SwingProblem): string {
  switch (problem.kind) {
    case 'notFinite':
      return '--radius, --length, --pivots, --width'
    case 'notPositive':
    case 'negative':
      return optionOf[problem.where]
    case 'pivotsBeyondBody':
      return '--pivots'
    case 'radiusTooSmall':
      return '--radius'
  }
}

const optionOf = {
  radiusMm: '--radius',
  bodyLengthMm: '--length',
  bodyWidthMm: '--width',
  truckCentresMm: '--pivots',
  truckWheelbaseMm: '--wheelbase',
  clearanceMm: '--clearance',
} as const
