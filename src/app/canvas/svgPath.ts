import type { CubicPath } from '../../core/geom/index.ts'
import { pathMove, pathNearest, pathPoseAt, pathToCubics, poseOffset, poseToPlan } from '../../core/geom/index.ts'
import type { Path, Point, Pose } from '../../core/geom/types.ts'
import type { NetworkCrossing, NetworkTurnout } from '../../core/network/types.ts'
import { railToCubics } from '../../core/track/index.ts'
import type { PlainTrack, Rail, Tie, WorkTrack } from '../../core/track/types.ts'
import { planTransform, screenOfPlan, type ScreenPoint, type View } from './viewport.ts'

/*
 * SVG path text from geometry, in hundredths of a plan millimetre (pathTransform puts it on the canvas). Each text is made once for
 * the object that it comes from, which stays the same as long as nothing it was made from changes.
 *
 * Whole numbers, because writing and reading them is most of what a dragged track costs: a track of 400 ties has 3000 of them.
 */

/** Length of one unit of path text. Half of it is a fifth of a pixel at the nearest view (40 px to the mm). */
export const pathUnitMm = 0.01

/** Of the order of the unit: 0.4 px at the nearest view. */
const toleranceMm = 0.01

function digits(valueMm: number): number {
  return Math.round(valueMm / pathUnitMm)
}

function point({ x, y }: Point): string {
  return `${digits(x)} ${digits(y)}`
}

export function polylineText(points: readonly Point[], isClosed: boolean): string {
  return points.length === 0 ? '' : `M${points.map(point).join('L')}${isClosed ? 'Z' : ''}`
}

/** In pixels of the canvas, for what is drawn there beside words and handles: of each side what can come into view by a push. */
export function screenLineText(points: readonly Point[], view: View): string {
  return points
    .slice(1)
    .map((to, i) => sideText(screenOfPlan(view, points[i] ?? to), screenOfPlan(view, to), view))
    .join('')
}

/** Beyond the view on every side, as a share of it: within what keeps still (still.tsx). */
const sideShare = 0.45

/** The part of a side that lies in the view and about it. Source: [LIANG-1984], from memory. */
function sideText(from: ScreenPoint, to: ScreenPoint, { size: { width, height } }: View): string {
  const [right, down] = [to.left - from.left, to.top - from.top]
  const [aside, above] = [sideShare * width, sideShare * height]
  let [first, last] = [0, 1]
  const bounds = [
    [-right, from.left + aside],
    [right, width + aside - from.left],
    [-down, from.top + above],
    [down, height + above - from.top],
  ] as const
  for (const [speed, room] of bounds) {
    if (speed === 0 && room < 0) return ''
    if (speed < 0) first = Math.max(first, room / speed)
    if (speed > 0) last = Math.min(last, room / speed)
  }
  if (first >= last) return ''
  return `M${from.left + first * right} ${from.top + first * down}L${from.left + last * right} ${from.top + last * down}`
}

function cubicsText({ start, segments }: CubicPath): string {
  return `M${point(start)}${segmentsText(segments)}`
}

function segmentsText(segments: CubicPath['segments']): string {
  let text = ''
  for (const { c1, c2, to } of segments) text += `C${point(c1)} ${point(c2)} ${point(to)}`
  return text
}

export function pathText(path: Path, fromMm = 0, toMm = path.lengthMm, offsetMm = 0): string {
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

/** A part of a track's line, from station to station. */
export interface LineStretch {
  readonly fromMm: number
  readonly toMm: number
}

/** All ties of a list as closed outlines, one text. */
const tiesText = once((ties: readonly Tie[]) => {
  let text = ''
  for (const { centre, axisRad, lengthMm, widthMm } of ties) {
    const [cos, sin] = [Math.cos(axisRad), Math.sin(axisRad)]
    // From the first corner by steps: along the tie, across it, back, and home.
    const [alongX, alongY] = [digits(lengthMm * cos), digits(lengthMm * sin)]
    const [acrossX, acrossY] = [digits(-widthMm * sin), digits(widthMm * cos)]
    const x = digits(centre.x - (lengthMm * cos - widthMm * sin) / 2)
    const y = digits(centre.y - (lengthMm * sin + widthMm * cos) / 2)
    text += `M${x} ${y}l${alongX} ${alongY} ${acrossX} ${acrossY} ${-alongX} ${-alongY}z`
  }
  return text
})

/** within: stretches of the line beyond which nothing need be drawn; null: all of it. */
export function trackTiesText({ ties }: PlainTrack, within: readonly LineStretch[] | null = null): string {
  return within === null
    ? tiesText(ties)
    : tiesText(ties.filter(({ stationMm }) => within.some((one) => stationMm >= one.fromMm && stationMm <= one.toMm)))
}
export function workTiesText(turnout: WorkTrack): string {
  return tiesText(turnout.ties)
}

const everyRailText = once(({ rails }: PlainTrack) =>
  rails.map((rail) => railText(rail, rail.gaugeLine.fromMm, rail.gaugeLine.toMm)).join(''),
)

/** Middle lines of the heads of plain rails: stroked as broad as a head, and broader for the foot. */
export function trackRailsText(track: PlainTrack, within: readonly LineStretch[] | null = null): string {
  if (within === null) return everyRailText(track)
  return track.rails
    .flatMap((rail) =>
      within.map((one) => {
        const [fromMm, toMm] = [Math.max(rail.gaugeLine.fromMm, one.fromMm), Math.min(rail.gaugeLine.toMm, one.toMm)]
        return fromMm < toMm ? railText(rail, fromMm, toMm) : ''
      }),
    )
    .join('')
}

const railText = ({ gaugeLine: { path, offsetMm }, headSide, headWidthMm }: Rail, fromMm: number, toMm: number): string =>
  pathText(path, fromMm, toMm, offsetMm + (headSide * headWidthMm) / 2)

/** Heads of the rails of a turnout or crossing as outlines: points and frogs are filed to a taper, which no stroke can show. */
export const workRailsText = once((work: WorkTrack) => work.rails.map(headOutlineText).join(''))

function headOutlineText(rail: Rail): string {
  const edges = (['gauge', 'head-far'] as const).map((edge) => railToCubics(rail, edge, toleranceMm))
  // All the same way round: where heads meet in a frog, one on the other stays filled.
  const [there, back] = rail.headSide === 1 ? edges : edges.toReversed()
  return there === undefined || back === undefined ? '' : `${cubicsText(there)}L${point(lastPoint(back))}${segmentsText(reversed(back))}Z`
}

function lastPoint({ start, segments }: CubicPath): Point {
  return segments.at(-1)?.to ?? start
}

function reversed({ start, segments }: CubicPath): CubicPath['segments'] {
  return segments.map(({ c1, c2 }, i) => ({ c1: c2, c2: c1, to: segments[i - 1]?.to ?? start })).toReversed()
}

/** All routes of a turnout in its place, from PS: what is drawn of it from afar. */
export const turnoutRoutesText = once(({ result }: NetworkTurnout) => {
  const { pose, geometry } = result
  if (pose === null || geometry === null) return ''
  return geometry.routes.map(({ centre }) => pathText(pathMove(centre, pose))).join('')
})

/** The routes that leave the host: the straight one is the host's own line. */
export const turnoutDivergingText = once(({ result }: NetworkTurnout) => {
  const { pose, geometry } = result
  if (pose === null || geometry === null) return ''
  return geometry.routes.map(({ name, centre }) => (name === 'straight' ? '' : pathText(pathMove(centre, pose)))).join('')
})

/** The slips of a crossing: its other routes are the lines of its tracks. */
export const crossingSlipsText = once(({ pose, result }: NetworkCrossing) =>
  result.ok
    ? result.crossing.routes
        .map(({ name, centre }) => (name === 'slip-left' || name === 'slip-right' ? pathText(pathMove(centre, pose)) : ''))
        .join('')
    : '',
)

/** All routes of a crossing, for marking it. */
export const crossingRoutesText = once(({ pose, result }: NetworkCrossing) =>
  result.ok ? result.crossing.routes.map(({ centre }) => pathText(pathMove(centre, pose))).join('') : '',
)

/** Bars that throw points: across the track from rail to rail. */
const throwText = (pose: Pose, { at }: { readonly at: Point }, reachMm: number): string =>
  polylineText([poseToPlan(pose, { x: at.x, y: at.y - reachMm }), poseToPlan(pose, { x: at.x, y: at.y + reachMm })], false)

export const turnoutThrowText = once(({ result }: NetworkTurnout) =>
  result.ok ? result.geometry.throwHoles.map((hole) => throwText(result.pose, hole, result.geometry.request.gaugeMm / 2)).join('') : '',
)
export const crossingThrowsText = once(({ pose, result }: NetworkCrossing) =>
  result.ok ? result.crossing.throwHoles.map((hole) => throwText(pose, hole, result.crossing.request.gaugeMm / 2)).join('') : '',
)

/** A stroke across the head at every gap. */
export const workGapsText = once((work: WorkTrack) =>
  work.gaps
    .map(({ at, rail: role }) => {
      // Several rails of a frog have one role: the gap is in the one it lies on.
      const [rail] = work.rails
        .filter((one) => one.role === role)
        .map((one) => ({ one, near: pathNearest(one.gaugeLine.path, at) }))
        .toSorted((a, b) => a.near.distanceMm - b.near.distanceMm)
      if (rail === undefined) return ''
      const { path } = rail.one.gaugeLine
      const pose = pathPoseAt(path, rail.near.stationMm)
      const beyond = rail.one.headWidthMm * 0.8
      return polylineText(
        [poseOffset(pose, -rail.one.headSide * beyond), poseOffset(pose, rail.one.headSide * (rail.one.headWidthMm + beyond))],
        false,
      )
    })
    .join(''),
)

/** Puts path text on the canvas. */
export function pathTransform(view: View): string {
  return planTransform(view, pathUnitMm)
}
