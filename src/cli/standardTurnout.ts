import { shapeOf, type Shape } from '../core/makers/index.ts'
import { lineClassesForGauge, railwayForGauge, type LineClassKey } from '../core/standards/index.ts'
import type { Railway } from '../core/plan/types.ts'
import { turnoutRequest, turnoutSolve } from '../core/turnout/index.ts'
import type { TurnoutGeometry } from '../core/turnout/index.ts'
import type { Args, OptionSpecs } from './args.ts'
import { BadInput } from './badInput.ts'
import { scaleChosen } from './scale.ts'
import { turnoutProblemWords } from './turnoutWords.ts'
import { frogOption, wordOption } from './values.ts'

/** Options of a verb that works with turnouts of standard build. */
export const standardTurnoutOptions: OptionSpecs = {
  scale: { value: 'HO', about: 'a scale of the standards, or a ratio such as 1:50; HO when left out' },
  gauge: { value: '0.65in', about: 'between the rail heads; that of the scale when left out' },
  frog: { value: '6', about: 'frog number; 1:9 means the slope', isRequired: true },
  'frog-definition': { value: 'isosceles', about: 'isosceles: 2 atan(1/2N), tangent: atan(1/N)' },
  points: { value: 'straight', about: 'straight or curved points' },
}

export interface StandardTurnout {
  readonly frog: number
  readonly gaugeMm: number
  readonly tieWidthMm: number
  readonly tieSpacingMm: number
  readonly shape: Shape
  /** Left-hand. */
  readonly turnout: TurnoutGeometry
  readonly railway: Railway
  /** What was taken for granted. */
  readonly notes: readonly string[]
}

/** The turnout that the options stand for, all else by standard, on a track of this class. Throws BadInput. */
export function standardTurnout(args: Args, classKey: LineClassKey): StandardTurnout {
  const isBare = !args.values.has('scale') && !args.values.has('gauge')
  const { row, notes } = scaleChosen(isBare ? { ...args, values: new Map([...args.values, ['scale', 'HO']]) } : args)
  const frog = frogOption(args, 'frog')
  if (!frog) throw new BadInput(`waybench ${args.verb.name} needs --frog.`)
  const standard = railwayForGauge(row)
  const definition =
    wordOption(args, 'frog-definition', ['isosceles', 'tangent']) ?? (frog.writtenAs === 'slope' ? 'tangent' : standard.frogDefinition)
  const lineClass = lineClassesForGauge(row).find(({ id }) => id === classKey)
  const build = {
    points: wordOption(args, 'points', ['straight', 'curved']) ?? 'straight',
    pointLengthMm: 'standard',
    pointThicknessMm: 'standard',
    heelSpreadMm: 'standard',
    toeLengthMm: 'standard',
    heelLengthMm: 'standard',
  } as const
  const request = turnoutRequest(
    { ...standard, frogDefinition: definition },
    { tieSpacingMm: lineClass?.tieSpacingMm ?? 0 },
    { hand: 'left', frog: frog.frog, build },
  )
  const solved = turnoutSolve(request)
  if (!solved.ok) throw new BadInput(turnoutProblemWords(solved.problem))
  return {
    frog: frog.frog,
    gaugeMm: standard.gaugeMm,
    tieWidthMm: standard.tieWidthMm,
    tieSpacingMm: request.tieSpacingMm,
    turnout: solved.turnout,
    railway: { ...standard, title: '', frogDefinition: definition },
    shape: shapeOf(solved.turnout),
    notes: isBare ? ['no --scale: HO', ...notes] : notes,
  }
}
