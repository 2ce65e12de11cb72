import { boxOfPoints, pathNearest, pathOffsetPoint, pointDistance, pointRotate } from '../../geom/index.ts'
import type { Path, Point, Pose } from '../../geom/types.ts'
import { tieCorners } from '../../track/index.ts'
import type { Rail, WorkTrack } from '../../track/types.ts'
import type { SubjectView } from '../subject.ts'
import { strandOfThings, type Beside } from './strand.ts'
import type { Strand } from './types.ts'

/**
 * Along the track. Between two points in kept cells the track can leave them by half a step; the windows reach half the
 * overlap, 3 mm or more, beyond their cells. So 6 mm would do; 2 mm costs little but on very long tracks.
 */
const CONTENT_STEP_MM = 2
const CONTENT_STEP_MAX_MM = 6
const CONTENT_STATIONS = 50_000

const quarter = Math.PI / 2

/** Points across the ties every CONTENT_STEP_MM. */
export function trackContent(path: Path, fromMm: number, toMm: number, halfTieMm: number): Point[] {
  const points: Point[] = []
  if (path.elements.length === 0 || !(toMm > fromMm)) return points
  const stepMm = Math.min(CONTENT_STEP_MAX_MM, Math.max(CONTENT_STEP_MM, (toMm - fromMm) / CONTENT_STATIONS))
  const steps = Math.max(1, Math.ceil((toMm - fromMm) / stepMm))
  const across = Math.max(1, Math.ceil(halfTieMm / (2 * CONTENT_STEP_MM)))
  for (let i = 0; i <= steps; i++) {
    const station = fromMm + ((toMm - fromMm) * i) / steps
    for (let j = -across; j <= across; j++) points.push(pathOffsetPoint(path, station, (j * halfTieMm) / across))
  }
  return points
}

/** Points along every tie and gauge line of special work. */
export function workContent(work: WorkTrack | undefined): readonly Point[] {
  if (!work) return []
  const points: Point[] = []
  for (const tie of work.ties) {
    const [a, b, c, d] = tieCorners(tie)
    points.push(...pointsBetween(a, b), ...pointsBetween(d, c))
  }
  for (const { gaugeLine } of work.rails) points.push(...gaugePoints(gaugeLine))
  return points
}

function gaugePoints({ path, offsetMm, fromMm, toMm }: Rail['gaugeLine']): readonly Point[] {
  const count = Math.max(1, Math.ceil((toMm - fromMm) / CONTENT_STEP_MM))
  return Array.from({ length: count + 1 }, (_, i) => pathOffsetPoint(path, fromMm + ((toMm - fromMm) * i) / count, offsetMm))
}

function pointsBetween(a: Point, b: Point): readonly Point[] {
  const count = Math.max(1, Math.ceil(pointDistance(a, b) / CONTENT_STEP_MM))
  return Array.from({ length: count + 1 }, (_, i) => ({ x: a.x + ((b.x - a.x) * i) / count, y: a.y + ((b.y - a.y) * i) / count }))
}

/** Along a direction and square to it; and all round in steps, for those few plans of which that saves a sheet. */
export function straightAngles(first: number, ...more: readonly number[]): Pick<SubjectView, 'anglesRad' | 'moreAnglesRad'> {
  const moreAnglesRad = Array.from({ length: 17 }, (_, i) => first + ((i + 1) * Math.PI) / 18)
  return { anglesRad: [first, first + quarter, ...more], moreAnglesRad }
}

/**
 * Ways to lay something that is not straight: along its long chord, along the narrowest box round it, then all round in
 * steps, since a few degrees may save a sheet.
 */
export function openAngles(content: readonly Point[], path: Path, fromMm: number, toMm: number): readonly number[] {
  const start = pathOffsetPoint(path, fromMm, 0)
  const end = pathOffsetPoint(path, toMm, 0)
  const chord = pointDistance(start, end) > 1 ? Math.atan2(end.y - start.y, end.x - start.x) : 0
  const steps = Array.from({ length: 18 }, (_, i) => (i * Math.PI) / 18)
  let narrowest = chord
  let area = Infinity
  const few = content.filter((_, i) => i % Math.ceil(content.length / 800) === 0)
  for (const angle of Array.from({ length: 90 }, (_, i) => (i * Math.PI) / 180)) {
    const box = boxOfPoints(few.map((p) => pointRotate(p, -angle)))
    if (!box) continue
    const size = (box.maxX - box.minX) * (box.maxY - box.minY)
    if (size < area) [area, narrowest] = [size, angle]
  }
  // A chord that runs to the left is read from the right: turned by half a turn it means the same sheets.
  const readable = (angle: number): number => {
    const half = Math.atan2(Math.sin(angle), Math.cos(angle))
    return half > quarter ? half - Math.PI : half <= -quarter ? half + Math.PI : half
  }
  return [chord, chord + quarter, narrowest, narrowest + quarter, ...steps].map(readable)
}

/** Ties and rails of special work, each at its station of the line that it lies in. */
export function workBeside(work: WorkTrack | undefined, stationOf: (p: Point) => number): readonly Beside[] {
  if (!work) return []
  return [
    ...work.ties.map((tie): Beside => ({ stationMm: stationOf(tie.centre), points: tieCorners(tie) })),
    ...work.rails.flatMap(({ gaugeLine }) => gaugePoints(gaugeLine).map((p): Beside => ({ stationMm: stationOf(p), points: [p] }))),
  ]
}

export const stationOn =
  (path: Path) =>
  (p: Point): number =>
    pathNearest(path, p).stationMm

/** Special work alone, along its own straight direction. */
export function workStrands(work: WorkTrack | undefined, pose: Pose): readonly Strand[] {
  const [cos, sin] = [Math.cos(pose.headingRad), Math.sin(pose.headingRad)]
  const things = workBeside(work, (p) => (p.x - pose.x) * cos + (p.y - pose.y) * sin)
  return things.length === 0 ? [] : [strandOfThings(things)]
}
