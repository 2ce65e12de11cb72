import type { ParallelProblem, ParallelRemark } from '../../core/alignment/index.ts'
import type { Traverse } from '../../core/alignment/types.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Corner, Id } from '../../core/plan/types.ts'
import type { MeasurePrefs } from '../words/measure.ts'
import { lengthText } from '../words/measure.ts'

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

export function parallelProblemText(problem: ParallelProblem, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(Math.abs(mm), prefs)
  switch (problem.kind) {
    case 'notFinite':
      return `${problem.where} is no length.`
    case 'offsets':
      return 'Centres must be more than nothing.'
    case 'stretch':
      return `Nothing is left between these stations; the track is ${lengthText(problem.lengthMm, prefs, 'room')} long.`
    case 'radiusCollapses':
      return `Inside of PI ${problem.corner + 1} there is no room at these centres; they must be more than ${length(problem.radiusMm)} less.`
    case 'wideningTooGreat':
      return `Outside of PI ${problem.corner + 1} centres can be ${length(problem.mostMm)} at most, with its easements as they are.`
    case 'noArcLeft':
      return `At PI ${problem.corner + 1} arc ${problem.arc + 1} is ${length(problem.shortByMm)} too short for the easements beside it.`
    case 'line':
      return 'The curves of the new line do not fit between its PIs.'
  }
}

export function parallelRemarkText(remark: ParallelRemark, prefs: MeasurePrefs): string {
  return remark.kind === 'belowMinimum'
    ? `At PI ${remark.corner + 1} R ${lengthText(remark.radiusMm, prefs)} here; the class asks ${lengthText(remark.limitMm, prefs)}.`
    : `At PI ${remark.corner + 1} no arc is left, easements only.`
}
