import { boxContains, pathOffsetPoint, pathPoseAt, pointLerp, poseAhead } from '../../geom/index.ts'
import type { Box, Path, Point, Pose } from '../../geom/types.ts'
import type { Rib, Strand } from './types.ts'

/** Distance of ribs. A sheet may begin at any of them; a finer step saves no sheets worth having. */
export const RIB_STEP_MM = 4

/** The station of a track's end is written there, half of it beyond. */
const END_ROOM_MM = 6

/** Something that lies at a station of a line and must not be cut between two sheets. */
export interface Beside {
  readonly stationMm: number
  readonly points: readonly Point[]
}

/** Ribs across a path, each with what stands beside it. */
export function strandAlong(
  path: Path,
  fromMm: number,
  toMm: number,
  halfMm: number,
  beside: readonly Beside[],
  isClosed: boolean,
): Strand {
  const steps = Math.max(1, Math.ceil((toMm - fromMm) / RIB_STEP_MM))
  const stepMm = (toMm - fromMm) / steps
  const points = Array.from({ length: steps + 1 }, (_, i): Point[] => {
    const station = i === steps ? toMm : fromMm + i * stepMm
    return [pathOffsetPoint(path, station, -halfMm), pathOffsetPoint(path, station, halfMm)]
  })
  for (const thing of beside) {
    const i = Math.min(steps, Math.max(0, Math.round((thing.stationMm - fromMm) / stepMm)))
    points[i]?.push(...thing.points)
  }
  // The last rib of a loop is its first one. An open end keeps room for what is written at it.
  if (isClosed) points[0]?.push(...(points.pop() ?? []))
  else {
    points[0]?.push(...beyond(pathPoseAt(path, fromMm), -END_ROOM_MM, halfMm))
    points.at(-1)?.push(...beyond(pathPoseAt(path, toMm), END_ROOM_MM, halfMm))
  }
  return {
    ribs: points.map((rib, i): Rib => ({ stationMm: fromMm + i * stepMm, points: rib })),
    loopMm: isClosed ? toMm - fromMm : null,
  }
}

function beyond(pose: Pose, aheadMm: number, halfMm: number): readonly Point[] {
  const ahead = poseAhead(pose, aheadMm)
  return [-halfMm, halfMm].map((off) => ({ x: ahead.x - off * Math.sin(ahead.headingRad), y: ahead.y + off * Math.cos(ahead.headingRad) }))
}

/** Ribs of things that follow one another in a straight direction: ties and rails of special work that stands alone. */
export function strandOfThings(things: readonly Beside[]): Strand {
  const byStation = new Map<number, Point[]>()
  for (const { stationMm, points } of things) {
    const key = Math.round(stationMm / RIB_STEP_MM)
    const rib = byStation.get(key)
    if (rib) rib.push(...points)
    else byStation.set(key, [...points])
  }
  const ribs = [...byStation].sort(([a], [b]) => a - b).map(([key, points]): Rib => ({ stationMm: key * RIB_STEP_MM, points }))
  return { ribs, loopMm: null }
}

/** One strand out of several that follow one another, each at the end of the one before. */
export function strandsJoined(parts: readonly Strand[]): Strand {
  const ribs: Rib[] = []
  for (const part of parts) {
    const shift = (ribs.at(-1)?.stationMm ?? 0) - (part.ribs[0]?.stationMm ?? 0)
    for (const rib of part.ribs) {
      const last = ribs.at(-1)
      // The end of one part is the beginning of the next.
      if (last && rib === part.ribs[0]) ribs[ribs.length - 1] = { ...last, points: [...last.points, ...rib.points] }
      else ribs.push(last ? { ...rib, stationMm: rib.stationMm + shift } : rib)
    }
  }
  return { ribs, loopMm: null }
}

/** The parts of a strand that lie, at least in part, in a box. */
export function strandIn(strand: Strand, box: Box): readonly Strand[] {
  const isIn = ({ points }: Rib): boolean => points.some((p) => boxContains(box, p)) || crosses(points, box)
  if (strand.ribs.every(isIn)) return [strand]
  const parts: Rib[][] = []
  let part: Rib[] | null = null
  for (const rib of strand.ribs) {
    if (!isIn(rib)) part = null
    else if (part) part.push(rib)
    else parts.push((part = [rib]))
  }
  return parts.map((ribs) => ({ ribs, loopMm: null }))
}

/** A rib that reaches over a narrow box with both ends outside. */
function crosses([a, b]: readonly Point[], box: Box): boolean {
  if (!a || !b) return false
  return Array.from({ length: 9 }, (_, i) => pointLerp(a, b, (i + 1) / 10)).some((p) => boxContains(box, p))
}
