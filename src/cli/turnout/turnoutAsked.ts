import { turnoutRequest } from '../../core/turnout/index.ts'
import type { TurnoutRequest } from '../../core/turnout/types.ts'
import type { TurnoutKind } from '../../core/plan/types.ts'
import type { Args } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { tieChoice } from '../turnoutBench.ts'
import { angleOption, frogOption, lengthOption, lengthRequired, numberOption, wordOption } from '../values.ts'
import { hostAsked } from './host.ts'
import type { MeasuresAsked } from './measures.ts'
import type { TurnoutKindName } from './options.ts'

/** Longest of a turnout's parts, in gauges times frog numbers; a host reaches so far both ways. */
const reachGauges = 20
/** A widening that is asked for by hand applies to every route: none is as flat as a kilometre on the model. */
const anyRadiusMm = 1e6

/** The turnout that the options ask for. Throws BadInput. */
export function turnoutAsked(args: Args, kindName: TurnoutKindName, { railway, tieSpacingMm, frog }: MeasuresAsked): TurnoutRequest {
  if (frog === null) throw new BadInput('waybench turnout needs --frog, such as --frog 6.')
  const hand = wordOption(args, 'hand', ['left', 'right']) ?? 'left'
  const build = {
    points: wordOption(args, 'points', ['straight', 'curved']) ?? 'straight',
    pointLengthMm: lengthOption(args, 'point-length') ?? 'standard',
    pointThicknessMm: lengthOption(args, 'point-thickness', { least: 'zero or more' }) ?? 'standard',
    heelSpreadMm: lengthOption(args, 'heel-spread') ?? 'standard',
    toeLengthMm: lengthOption(args, 'toe-length') ?? 'standard',
    heelLengthMm: lengthOption(args, 'heel-length') ?? 'standard',
  } as const
  const request = turnoutRequest(railway, { tieSpacingMm }, { hand, frog, build, kind: placedKind(args, kindName, frog) })
  const entryAngleRad = angleOption(args, 'entry-angle')
  if (entryAngleRad !== null && build.points === 'straight') {
    throw new BadInput('--entry-angle: straight points stand at their own angle; it belongs to --points curved.')
  }
  const wideningMm = lengthOption(args, 'widening', { least: 'zero or more' })
  return {
    ...request,
    kind: sharedKind(args, kindName) ?? request.kind,
    host: hostAsked(args, hand, reachGauges * railway.gaugeMm * frog),
    ties: tieChoice(args),
    ...(entryAngleRad === null ? {} : { entryAngleRad }),
    ...(wideningMm === null ? {} : { widening: [{ belowRadiusMm: anyRadiusMm, byMm: wideningMm }] }),
  }
}

/** The kinds that a plan has, too. */
function placedKind(args: Args, kind: TurnoutKindName, frog: number): TurnoutKind {
  switch (kind) {
    case 'wye':
      return { kind, share: numberOption(args, 'share') ?? 0.5 }
    case 'three-way':
      return {
        kind,
        secondFrog: frogOption(args, 'second-frog')?.frog ?? frog,
        secondAfterMm: lengthOption(args, 'second-after', { least: 'zero or more' }) ?? 0,
      }
    case 'stub':
      return { kind }
    case 'straight':
    case 'curved':
    case 'gauntlet':
    case 'dual-gauge':
      return { kind: 'plain' }
  }
}

function sharedKind(args: Args, kind: TurnoutKindName): TurnoutRequest['kind'] | null {
  if (kind === 'gauntlet') return { kind }
  if (kind !== 'dual-gauge') return null
  if (!args.values.has('narrow-gauge')) throw new BadInput('--kind dual-gauge: it needs the smaller gauge, such as --narrow-gauge 10.5mm.')
  return {
    kind,
    narrowGaugeMm: lengthRequired(args, 'narrow-gauge'),
    common: wordOption(args, 'common', ['left', 'right']) ?? 'right',
    diverging: wordOption(args, 'diverging', ['wide', 'narrow', 'both']) ?? 'both',
  }
}
