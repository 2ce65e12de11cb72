import { parallelSolve } from '../../core/alignment/index.ts'
import type { ParallelAnswer, ParallelRequest } from '../../core/alignment/index.ts'
import type { Traverse } from '../../core/alignment/types.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Corner, Id } from '../../core/plan/types.ts'

/** A line that was solved, written down as a track of its own. null: it hangs on a leg, which a parallel never does. */
export function traverseTrack(traverse: Traverse, lineClass: Id, name: string): PlanCommand | null {
  const { start, end } = traverse
  if (start.kind !== 'free' || end.kind === 'leg') return null
  return {
    kind: 'track.add',
    record: {
      name,
      lineClass,
      start: { kind: 'free', x: start.at.x, y: start.at.y },
      corners: traverse.corners.map(cornerOf),
      end: end.kind === 'closed' ? { kind: 'closed' } : { kind: 'free', x: end.at.x, y: end.at.y },
    },
  }
}

function cornerOf({ id, x, y, radiusMm, easementInMm, easementOutMm }: Traverse['corners'][number]): Corner {
  const ends = { id, x, y, easementIn: easementInMm, easementOut: easementOutMm }
  if (radiusMm === null) return { ...ends, radius: 'easement-only' }
  if (typeof radiusMm === 'number') return { ...ends, radius: radiusMm }
  const { first, next } = radiusMm
  return {
    ...ends,
    radius: {
      first: { radius: first.radiusMm, turn: first.turn },
      next: next.map((arc) => ({ radius: arc.radiusMm, turn: arc.turn, easement: arc.easementMm })),
    },
  }
}

/** Centres of a parallel: beside straights, and beside curves. */
export interface Centres {
  readonly centresMm: number
  readonly curveMm: number
}

/** Centres with which a parallel would do that has no room at the ones asked, or a sharper curve than its class has; null: none are known. */
export function parallelCentres(request: ParallelRequest, answer: ParallelAnswer): Centres | null {
  const { offsetMm, curveOffsetMm, minRadiusMm } = request
  const sharp = (radiusMm: number): number => Math.abs(curveOffsetMm) - (minRadiusMm - radiusMm)
  const most = answer.ok
    ? answer.remarks.flatMap((remark) => (remark.kind === 'belowMinimum' ? [sharp(remark.radiusMm)] : []))
    : answer.problems.flatMap((problem) =>
        problem.kind === 'wideningTooGreat'
          ? [Math.abs(problem.mostMm)]
          : problem.kind === 'radiusCollapses'
            ? [sharp(problem.radiusMm)]
            : [],
      )
  const curveMm = Math.min(...most)
  if (most.length === 0 || curveMm <= 0) return null
  // Narrower beside curves alone, if the easements there have room for that; else throughout.
  const tries: readonly Centres[] = [
    { centresMm: Math.abs(offsetMm), curveMm },
    { centresMm: curveMm, curveMm },
  ]
  const answers = tries.map((centres) => ({ centres, there: parallelAt(request, centres) }))
  const isKept = (one: ParallelAnswer): boolean => one.ok && one.remarks.every(({ kind }) => kind !== 'belowMinimum')
  // Where there was no room at all, a line that is too sharp elsewhere is worth a look.
  const would = answers.find(({ there }) => isKept(there)) ?? (answer.ok ? undefined : answers.find(({ there }) => there.ok))
  return would?.centres ?? null
}

function parallelAt(request: ParallelRequest, { centresMm, curveMm }: Centres): ParallelAnswer {
  const sign = Math.sign(request.offsetMm)
  return parallelSolve({ ...request, offsetMm: sign * centresMm, curveOffsetMm: sign * curveMm })
}
