import { trackAlignment } from '../../core/alignment/index.ts'
import type { LegPoseOf } from '../../core/alignment/index.ts'
import type { Alignment } from '../../core/alignment/types.ts'
import type { Point } from '../../core/geom/types.ts'
import type { Corner, Id, LineClass, Track } from '../../core/plan/types.ts'

/**
 * A line as it is laid down: a corner that turns less than the easements of its class gets two easements that meet, and no arc.
 *
 * Whoever sets a shallow corner wants a gentle curve there, not an error. The easements keep the length that the class has for its
 * usual radius R; together they turn L / R at that radius, and where the corner turns less, the radius in the middle of two that meet
 * is wider than R. Corners that were given a radius keep it; corners that turn enough stay the class's own, and what else is wrong with the line is told as ever.
 */
export function trackLaidDown(
  track: Omit<Track, 'id'>,
  lineClass: LineClass,
  legPoseOf: LegPoseOf,
): { readonly track: Omit<Track, 'id'>; readonly alignment: Alignment } {
  const alignment = trackAlignment(track, lineClass, legPoseOf)
  if (alignment.ok) return { track, alignment }
  const shallow = new Set(
    alignment.problems.flatMap((problem) =>
      problem.kind === 'easementsTooLong' && track.corners[problem.corner]?.radius === 'class' ? [problem.corner] : [],
    ),
  )
  if (shallow.size === 0) return { track, alignment }
  const corners = track.corners.map((corner, i) => (shallow.has(i) ? { ...corner, radius: 'easement-only' as const } : corner))
  const laid = { ...track, corners }
  return { track: laid, alignment: trackAlignment(laid, lineClass, legPoseOf) }
}

/**
 * What a corner becomes where it is dragged to: one of its class's own gets easements that meet while it turns too little for an arc, and one that
 * has got them so gets the class's curve back when it turns enough.
 */
export function cornerLaidDown(track: Track, id: Id, at: Point, lineClass: LineClass, legPoseOf: LegPoseOf): Partial<Omit<Corner, 'id'>> {
  const before = track.corners.find((corner) => corner.id === id)
  if (before === undefined) return at
  const isShallow = (corner: Corner): boolean => {
    const corners = track.corners.map((one) => (one.id === id ? { ...corner, radius: 'class' as const } : one))
    const alignment = trackAlignment({ ...track, corners }, lineClass, legPoseOf)
    return !alignment.ok && alignment.problems.some((problem) => problem.kind === 'easementsTooLong' && corners[problem.corner]?.id === id)
  }
  const { radius, easementIn, easementOut } = before
  const wasLaidShallow = radius === 'easement-only' && easementIn === 'class' && easementOut === 'class' && isShallow(before)
  if (radius !== 'class' && !wasLaidShallow) return at
  const laid = isShallow({ ...before, ...at }) ? 'easement-only' : 'class'
  return laid === radius ? at : { ...at, radius: laid }
}
