import { lineClassesForGauge, railByCode, railwayForGauge, type StandardRailway } from '../../core/standards/index.ts'
import type { FrogDefinition } from '../../core/plan/types.ts'
import type { Args } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { scaleChosen } from '../scale.ts'
import { frogOption, lengthOption, numberOption, wordOption } from '../values.ts'

/** What every kind is made to: the standards of the scale, with what was given instead. */
export interface MeasuresAsked {
  readonly railway: StandardRailway & { readonly frogDefinition: FrogDefinition }
  readonly tieSpacingMm: number
  /** Null: not given. */
  readonly frog: number | null
  /** What was taken for granted. */
  readonly notes: readonly string[]
}

/** Throws BadInput. */
export function measuresAsked(args: Args): MeasuresAsked {
  const { row, notes } = scaleChosen(args)
  const frog = frogOption(args, 'frog')
  const standard = railwayForGauge(row)
  const code = numberOption(args, 'rail-code') ?? standard.railCode
  const rail = railByCode(code)
  if (!rail) throw new BadInput(`--rail-code ${code}: it must be above zero, such as 83.`)
  const railway = {
    ...standard,
    frogDefinition:
      wordOption(args, 'frog-definition', ['isosceles', 'tangent']) ?? (frog?.writtenAs === 'slope' ? 'tangent' : standard.frogDefinition),
    flangewayMm: lengthOption(args, 'flangeway') ?? standard.flangewayMm,
    checkGaugeMm: lengthOption(args, 'check-gauge') ?? standard.checkGaugeMm,
    railCode: code,
    railHeadMm: rail.headMm,
    railFootMm: rail.footMm,
    tieLengthMm: lengthOption(args, 'standard-tie') ?? standard.tieLengthMm,
    foulingMm: lengthOption(args, 'fouling') ?? standard.foulingMm,
  } as const
  const tieSpacingMm = lengthOption(args, 'tie-spacing') ?? lineClassesForGauge(row)[0]?.tieSpacingMm ?? 0
  return { railway, tieSpacingMm, frog: frog?.frog ?? null, notes }
}
