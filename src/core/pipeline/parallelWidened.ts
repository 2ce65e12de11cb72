import { parallelSolve } from '../alignment/index.ts'
import type { ParallelRequest, SolvedAlignment } from '../alignment/index.ts'
import { trialFindings } from '../checks/index.ts'
import type { Finding } from '../checks/types.ts'
import { pathCurvatureAt, pathNearest } from '../geom/index.ts'
import type { Id, LineClass } from '../plan/types.ts'
import type { Derived } from './types.ts'

/** A track that is to be laid beside another: which one, where along it, and on which side. */
interface ParallelAsk {
  readonly host: Id
  readonly alignment: SolvedAlignment
  readonly stretch: ParallelRequest['stretch']
  /** 1 left, -1 right along rising stations. */
  readonly side: 1 | -1
  readonly lineClass: LineClass
}

interface ParallelCentres {
  readonly centresMm: number
  /** Beside curves. */
  readonly curveMm: number
}

/** Each try widens by what the one before was short of, which is nearly all: a car swings a little less the wider its curve. */
const TRIES = 6

/** More than rounding, and no more digits than can be measured. */
const wider = (mm: number, byMm: number): number => Math.ceil((mm + byMm) * 10 - 1e-9) / 10

/**
 * Centres from those given on at which the cars of both tracks keep their running clearance, by the measure of the checks themselves.
 *
 * On the inside of all its curves a parallel is wider there alone. On the outside of one, that would eat up the shift of its easements: it is
 * wider all along.
 *
 * Units:    mm.
 * Domain:   centres > 0.
 * Outcome:  those given where they do; the widest tried where no line can be laid so wide.
 * Throws:   never, for a network derived from this plan.
 */
export function parallelWidened(at: Pick<Derived, 'plan' | 'network'>, ask: ParallelAsk, given: ParallelCentres): ParallelCentres {
  let centres = given
  for (let i = 0; i < TRIES; i++) {
    const short = parallelShort(at, ask, centres)
    if (short === null) break
    const isAlong = isOutside(ask) || pathCurvatureAt(ask.alignment.path, pathNearest(ask.alignment.path, short).stationMm) === 0
    const { byMm } = short
    centres = { centresMm: isAlong ? wider(centres.centresMm, byMm) : centres.centresMm, curveMm: wider(centres.curveMm, byMm) }
  }
  return centres
}

/** How much nearer than the running clearance cars come at these centres, and where; null: no nearer, or no line can be laid. */
function parallelShort(
  at: Pick<Derived, 'plan' | 'network'>,
  { host, alignment, stretch, side, lineClass }: ParallelAsk,
  { centresMm, curveMm }: ParallelCentres,
): { readonly byMm: number; readonly x: number; readonly y: number } | null {
  const { minRadiusMm } = lineClass
  const answer = parallelSolve({ alignment, stretch, offsetMm: side * centresMm, curveOffsetMm: side * curveMm, minRadiusMm })
  if (!answer.ok) return null
  const isTooNear = ({ rule, otherRecord, problem }: Finding): boolean =>
    rule === 'track-clearance' && otherRecord === host && problem === null
  const found = trialFindings(at, { path: answer.alignment.path, lineClass, start: null, end: null }).find(isTooNear)
  if (found === undefined || found.measured === null || found.limit === null) return null
  return { byMm: found.limit - found.measured, x: found.x, y: found.y }
}

/** Whether it lies on the outside of some curve beside the stretch. */
function isOutside({ alignment, stretch, side }: ParallelAsk): boolean {
  const [fromMm, toMm] = stretch.kind === 'whole' ? [0, alignment.path.lengthMm] : [stretch.fromMm, stretch.toMm]
  return alignment.corners.some(
    ({ tsMm, stMm, solution }) => stMm > fromMm && tsMm < toMm && solution.totalLengthMm > 0 && solution.deflectionRad * side < 0,
  )
}
