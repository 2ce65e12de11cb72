import { pathFromElements } from '../../core/geom/index.ts'
import { crossingRequest } from '../../core/network/index.ts'
import { frogAngle } from '../../core/turnout/index.ts'
import type { CrossingRequest, SlipChoice } from '../../core/turnout/index.ts'
import type { Args } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { angleDegrees } from '../answer.ts'
import { angleOption, lengthOption, wordOption } from '../values.ts'
import { hostAsked, secondAsked } from './host.ts'
import type { MeasuresAsked } from './measures.ts'
import type { CrossingKindName } from './options.ts'

/** Tracks reach so far both ways, in gauges times frog numbers. */
const reachGauges = 20

/** The crossing that the options ask for. Throws BadInput. */
export function crossingAsked(args: Args, kind: CrossingKindName, { railway, tieSpacingMm, frog }: MeasuresAsked): CrossingRequest {
  const angleRad = angleAsked(args, frog, railway.frogDefinition)
  const reachMm = reachGauges * railway.gaugeMm * Math.max(1, 1 / (2 * Math.tan(angleRad / 2)))
  const first = hostAsked(args, 'left', reachMm) ?? {
    path: pathFromElements({ x: -reachMm, y: 0, headingRad: 0 }, [{ lengthMm: 2 * reachMm, k0: 0, k1: 0 }]),
    psMm: reachMm,
  }
  const request = crossingRequest(
    { ...railway, title: '' },
    tieSpacingMm,
    null,
    { path: first.path, atMm: first.psMm },
    { path: secondAsked(args, angleRad, reachMm), atMm: reachMm },
  )
  return {
    ...request,
    slip: slipAsked(args, kind),
    elbow: wordOption(args, 'elbow', ['fixed', 'movable']) ?? 'fixed',
    pointThicknessMm: lengthOption(args, 'point-thickness', { least: 'zero or more' }) ?? request.pointThicknessMm,
    heelSpreadMm: lengthOption(args, 'heel-spread') ?? request.heelSpreadMm,
  }
}

function slipAsked(args: Args, kind: CrossingKindName): SlipChoice {
  if (kind === 'diamond') return 'none'
  if (kind === 'double-slip') return 'double'
  return wordOption(args, 'side', ['left', 'right']) === 'right' ? 'single-right' : 'single-left'
}

function angleAsked(args: Args, frog: number | null, definition: CrossingRequest['frogDefinition']): number {
  const angleRad = angleOption(args, 'angle')
  if ((angleRad === null) === (frog === null)) {
    throw new BadInput(
      angleRad === null
        ? 'A crossing needs the angle between its tracks: --angle 30deg, or --frog 6.'
        : '--angle and --frog both tell how the tracks cross; give one.',
    )
  }
  if (frog !== null && !(frog > 0)) throw new BadInput(`--frog ${args.values.get('frog') ?? ''}: it must be above zero, such as 6.`)
  const rad = angleRad ?? frogAngle(frog ?? 1, definition)
  if (!(rad > 0 && rad <= Math.PI / 2 + 1e-9))
    throw new BadInput(`--angle ${args.values.get('angle') ?? ''}: ${angleDegrees(rad)} is none; it must be above 0 and at most 90°.`)
  return rad
}
