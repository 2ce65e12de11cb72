import type { CubicPath } from '../../core/geom/index.ts'
import { pathMove, pathNearest, pathPoseAt, pathToCubics, poseOffset } from '../../core/geom/index.ts'
import type { Path, Point } from '../../core/geom/types.ts'
import type { NetworkTurnout } from '../../core/network/types.ts'
import { railToCubics, tieCorners } from '../../core/track/index.ts'
import type { PlainTrack, Rail, Tie, TurnoutTrack } from '../../core/track/types.ts'

/*
 * SVG path text from geometry, in plan millimetres (the group that holds it turns y over). Each text is made once for the
 * object that it comes from, which stays the same as long as nothing it was made from changes.
 */

/** Finer than a screen shows even at its nearest (40 px to the mm): 0.2 px. */
const toleranceMm = 0.005

/** Hundredths of a millimetre; less than half a pixel at the nearest view. */
function digits(value: number): number {
  return Math.round(value * 100) / 100
}

function point({ x, y }: Point): string {
  return `${digits(x)} ${digits(y)}`
}

export function polylineText(points: readonly Point[], isClosed: boolean): string {
  return points.length === 0 ? '' : `M${points.map(point).join('L')}${isClosed ? 'Z' : ''}`
}

function cubicsText({ start, segments }: CubicPath): string {
  return `M${point(start)}${segmentsText(segments)}`
}

function segmentsText(segments: CubicPath['segments']): string {
  let text = ''
  for (const { c1, c2, to } of segments) text += `C${point(c1)} ${point(c2)} ${point(to)}`
  return text
}

function pathText(path: Path, fromMm = 0, toMm = path.lengthMm, offsetMm = 0): string {
  return path.elements.length === 0 ? '' : cubicsText(pathToCubics(path, { fromMm, toMm, offsetMm, toleranceMm }))
}

/** Keeps what was made from an object for as long as that object lives. */
function once<K extends object>(make: (key: K) => string): (key: K) => string {
  const made = new WeakMap<K, string>()
  return (key) => {
    const known = made.get(key)
    if (known !== undefined) return known
    const text = make(key)
    made.set(key, text)
    return text
  }
}

/** The centreline of a path. */
export const centrelineText = once((path: Path) => pathText(path))

/** All ties of a list as closed outlines, one text. */
const tiesText = once((ties: readonly Tie[]) => ties.map((tie) => polylineText(tieCorners(tie), true)).join(''))

export function trackTiesText(track: PlainTrack): string {
  return tiesText(track.ties)
}
export function turnoutTiesText(turnout: TurnoutTrack): string {
  return tiesText(turnout.ties)
}

/** Middle lines of the heads of plain rails: stroked as broad as a head, and broader for the foot. */
export const trackRailsText = once((track: PlainTrack) =>
  track.rails
    .map(({ gaugeLine: { path, offsetMm, fromMm, toMm }, headSide, headWidthMm }) =>
      pathText(path, fromMm, toMm, offsetMm + (headSide * headWidthMm) / 2),
    )
    .join(''),
)

/** Heads of a turnout's rails as outlines: points and frog are filed to a taper, which no stroke can show. */
export const turnoutRailsText = once((turnout: TurnoutTrack) => turnout.rails.map(headOutlineText).join(''))

function headOutlineText(rail: Rail): string {
  const near = railToCubics(rail, 'gauge', toleranceMm)
  const far = railToCubics(rail, 'head-far', toleranceMm)
  return `${cubicsText(near)}L${point(lastPoint(far))}${segmentsText(reversed(far))}Z`
}

function lastPoint({ start, segments }: CubicPath): Point {
  return segments.at(-1)?.to ?? start
}

function reversed({ start, segments }: CubicPath): CubicPath['segments'] {
  return segments.map(({ c1, c2 }, i) => ({ c1: c2, c2: c1, to: segments[i - 1]?.to ?? start })).toReversed()
}

/** Both routes of a turnout in its place, from PS: what is drawn of it from afar. */
export const turnoutRoutesText = once(({ result }: NetworkTurnout) => {
  if (result.pose === null || result.geometry === null) return ''
  const { straightRoute, divergingRoute } = result.geometry
  return pathText(pathMove(straightRoute, result.pose)) + pathText(pathMove(divergingRoute, result.pose))
})

/** The diverging route alone: the straight one is the host's own line. */
export const turnoutDivergingText = once(({ result }: NetworkTurnout) =>
  result.pose === null || result.geometry === null ? '' : pathText(pathMove(result.geometry.divergingRoute, result.pose)),
)

/** A stroke across the head at every gap. */
export const turnoutGapsText = once((turnout: TurnoutTrack) =>
  turnout.gaps
    .map(({ at, rail: role }) => {
      const rail = turnout.rails.find((one) => one.role === role)
      if (rail === undefined) return ''
      const { path } = rail.gaugeLine
      const pose = pathPoseAt(path, pathNearest(path, at).stationMm)
      const beyond = rail.headWidthMm * 0.8
      return polylineText([poseOffset(pose, -rail.headSide * beyond), poseOffset(pose, rail.headSide * (rail.headWidthMm + beyond))], false)
    })
    .join(''),
)
