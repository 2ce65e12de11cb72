import { pathCurvatureAt, pathPoseAt } from '../../src/core/geom/index.ts'
import type { Path } from '../../src/core/geom/types.ts'
import type { TurnoutRail, WorkRoute } from '../../src/core/turnout/types.ts'

/* What a wheelset is rolled over: a route in even steps, and the heads of rails as they lie across it. */

/** Steps of a walk along a gauge: 0.2 mm in HO. A flange is twenty steps long. */
const stepsPerGauge = 80

/** Heads that lie farther from the line are those of other tracks: a wheel on the line stands half a gauge off, and its axle no more aside. */
const asideGauges = 2

/** From the lower offset to the higher one. */
export type Interval = readonly [low: number, high: number]

/** A place by its station and offset. */
interface Vertex {
  readonly s: number
  readonly o: number
}

/** A head as a strip of corners, face and far side, in stations and offsets of a route. */
interface Strip {
  readonly face: readonly Vertex[]
  readonly far: readonly Vertex[]
}

export interface WalkPlan {
  readonly route: WorkRoute
  readonly rails: readonly TurnoutRail[]
  /** How far points that lead off this route stand open at their tips. */
  readonly throwMm: number
}

/** A route in even steps with every head across it: what wheelsets are rolled over. */
export interface WalkGround {
  readonly gaugeMm: number
  readonly stepMm: number
  readonly places: readonly Place[]
  readonly lanes: readonly Lane[]
  /** The lanes that lie across each place. */
  readonly lanesAt: readonly (readonly Lane[])[]
}

/** A place of the route: where it is, the direction square to it, station and curvature. */
interface Place {
  readonly x: number
  readonly y: number
  readonly nx: number
  readonly ny: number
  readonly s: number
  readonly k: number
}

/** A head without a break along the route: between which offsets it lies at each step, `from` on. */
export interface Lane {
  readonly from: number
  readonly low: number[]
  readonly high: number[]
}

export function walkGround({ route, rails, throwMm }: WalkPlan): WalkGround {
  const stepMm = route.gaugeMm / stepsPerGauge
  const places = routePlaces(route, stepMm)
  const asideMm = asideGauges * route.gaugeMm
  const lanes = rails.flatMap((rail) =>
    stripsOf(places, stepMm, rail, route, throwMm).flatMap((strip) => headLanes(strip, places, stepMm, asideMm)),
  )
  const lanesAt = places.map((): Lane[] => [])
  for (const lane of lanes) for (let i = 0; i < lane.low.length; i++) lanesAt[lane.from + i]?.push(lane)
  return { gaugeMm: route.gaugeMm, stepMm, places, lanes, lanesAt }
}

/** The route in even steps, run on straight at both ends by half a gauge. */
function routePlaces({ centre, gaugeMm }: WorkRoute, stepMm: number): readonly Place[] {
  const beyond = Math.ceil(gaugeMm / 2 / stepMm)
  const count = Math.floor(centre.lengthMm / stepMm)
  return Array.from({ length: count + 1 + 2 * beyond }, (_, i) => {
    const s = (i - beyond) * stepMm
    const within = Math.min(Math.max(s, 0), centre.lengthMm)
    const pose = pathPoseAt(centre, within)
    const nx = -Math.sin(pose.headingRad)
    const ny = Math.cos(pose.headingRad)
    const k = within === s ? pathCurvatureAt(centre, within) : 0
    return { x: pose.x + (s - within) * ny, y: pose.y - (s - within) * nx, nx, ny, s, k }
  })
}

/** Distances along a rail at which its head gets corners. */
function railStations({ gaugeLine, headTaper = [] }: TurnoutRail, stepMm: number): number[] {
  const { lengthMm } = gaugeLine
  const count = Math.max(2, Math.ceil(lengthMm / (3 * stepMm)))
  const even = Array.from({ length: count + 1 }, (_, i) => (lengthMm * i) / count)
  const joints = gaugeLine.elements.map(({ startStationMm }) => startStationMm)
  const all = [...even, ...joints, ...headTaper.map(({ alongMm }) => alongMm)].filter((at) => at >= 0 && at <= lengthMm)
  return all.toSorted((a, b) => a - b).filter((at, i, sorted) => at !== sorted[i - 1])
}

function headWidthAt({ headTaper, headWidthMm, startHeadMm, endHeadMm, gaugeLine }: TurnoutRail, along: number): number {
  const knots = headTaper ?? [
    { alongMm: 0, headMm: startHeadMm ?? headWidthMm },
    { alongMm: gaugeLine.lengthMm, headMm: endHeadMm ?? headWidthMm },
  ]
  const next = knots.findIndex(({ alongMm }) => alongMm >= along)
  const b = knots[next]
  if (!b) return headTaper ? headWidthMm : (endHeadMm ?? headWidthMm)
  const a = knots[next - 1]
  return a ? a.headMm + ((b.headMm - a.headMm) * (along - a.alongMm)) / (b.alongMm - a.alongMm) : b.headMm
}

/** A rail's head as strips: one for each time that the rail comes near to the line. */
function stripsOf(places: readonly Place[], stepMm: number, rail: TurnoutRail, route: WorkRoute, throwMm: number): readonly Strip[] {
  const { gaugeLine, headSide } = rail
  const opens = rail.role.startsWith('point') && isInTheWay(places, gaugeLine, route.gaugeMm) ? throwMm : 0
  const place = placer(places)
  const [firstS, lastS] = [places[0]?.s ?? 0, places.at(-1)?.s ?? 0]
  const farMm = (asideGauges + 1) * route.gaugeMm
  const strips: { face: Vertex[]; far: Vertex[] }[] = []
  let nearFrom = 0
  let isNear = false
  for (const along of railStations(rail, stepMm)) {
    if (along < nearFrom) continue
    const { x, y, headingRad } = pathPoseAt(gaugeLine, along)
    const [nx, ny] = [-Math.sin(headingRad), Math.cos(headingRad)]
    // An open point has turned about its heel, away from the rail that it lies against.
    const near = -headSide * opens * (1 - along / gaugeLine.lengthMm)
    const back = near + headSide * headWidthAt(rail, along)
    const face = place(x + near * nx, y + near * ny)
    // From far off it cannot come near in less than the way there.
    nearFrom = along + Math.max(Math.abs(face.o), firstS - face.s, face.s - lastS) - farMm
    if (nearFrom > along) isNear = false
    else {
      if (!isNear) strips.push({ face: [], far: [] })
      isNear = true
      strips.at(-1)?.face.push(face)
      strips.at(-1)?.far.push(place(x + back * nx, y + back * ny))
    }
  }
  return strips
}

/**
 * Whether a point lies against a rail of this route and leads away from it between the rails, so that it has to stand open: half a gauge off at its
 * tip, and less at its heel. Points of another switch stay as they are, and so does one on which a nested blade of this route lies.
 */
function isInTheWay(places: readonly Place[], path: Path, gaugeMm: number): boolean {
  const place = placer(places)
  const [tip, heel] = [0, 1].map((share) => {
    const { x, y } = pathPoseAt(path, share * path.lengthMm)
    return Math.abs(place(x, y).o) - gaugeMm / 2
  })
  return Math.abs(tip ?? Infinity) < 0.04 * gaugeMm && (heel ?? 0) < -0.02 * gaugeMm
}

/** Station and offset of points that follow on each other along the line; each search starts where the last one ended. */
function placer(places: readonly Place[]): (x: number, y: number) => Vertex {
  let at: number | null = null
  const squared = (i: number, x: number, y: number): number => {
    const p = places[i]
    return p ? (p.x - x) ** 2 + (p.y - y) ** 2 : Infinity
  }
  return (x, y) => {
    if (at === null) {
      at = 0
      for (let i = 0; i < places.length; i += 8) if (squared(i, x, y) < squared(at, x, y)) at = i
    }
    while (at > 0 && squared(at - 1, x, y) < squared(at, x, y)) at--
    while (at < places.length - 1 && squared(at + 1, x, y) < squared(at, x, y)) at++
    const p = places[at]
    if (!p) return { s: NaN, o: NaN }
    const [dx, dy] = [x - p.x, y - p.y]
    const o = dx * p.nx + dy * p.ny
    // Along the tangent, drawn together by the curvature between here and the point's own normal.
    const along = (dx * p.ny - dy * p.nx) / (1 - p.k * o)
    return { s: p.s + along, o: o - (p.k * along ** 2 * (1 - p.k * o)) / 2 }
  }
}

/** A head as lanes: one, but for a rail so steep across the route that it bends back over itself. What lies farther aside is left out. */
function headLanes({ face, far }: Strip, places: readonly Place[], stepMm: number, asideMm: number): readonly Lane[] {
  const firstS = places[0]?.s ?? 0
  /** Where the head lies at each step that it reaches. */
  const cuts: Interval[][] = []
  let begin = places.length
  for (let i = 0; i + 1 < face.length; i++) {
    const [a, b, c, d] = [face[i], face[i + 1], far[i + 1], far[i]]
    if (!a || !b || !c || !d) continue
    if (Math.min(a.o, b.o, c.o, d.o) > asideMm || Math.max(a.o, b.o, c.o, d.o) < -asideMm) continue
    const from = Math.max(0, Math.ceil((Math.min(a.s, b.s, c.s, d.s) - firstS) / stepMm))
    const to = Math.min(places.length - 1, Math.floor((Math.max(a.s, b.s, c.s, d.s) - firstS) / stepMm))
    if (from > to) continue
    const ring = [a, b, c, d]
    for (let j = from; j <= to; j++) {
      const cut = ringCut(ring, firstS + j * stepMm)
      const before = cuts[j]
      if (cut) cuts[j] = before ? merged([...before, cut], stepMm * 1e-3) : [cut]
    }
    begin = Math.min(begin, from)
  }
  const lanes: Lane[] = []
  for (let j = begin; j < cuts.length; j++) {
    for (const [low, high] of cuts[j] ?? []) {
      const before = lanes.find(
        ({ from, low: lows, high: highs }) => from + lows.length === j && (lows.at(-1) ?? 0) <= high && (highs.at(-1) ?? 0) >= low,
      )
      if (before) {
        before.low.push(low)
        before.high.push(high)
      } else lanes.push({ from: j, low: [low], high: [high] })
    }
  }
  return lanes
}

/** Where a line square to the route cuts a ring of corners. */
function ringCut(ring: readonly Vertex[], s: number): Interval | null {
  let [low, high] = [Infinity, -Infinity]
  let a = ring.at(-1)
  for (const b of ring) {
    if (a && Math.min(a.s, b.s) <= s && Math.max(a.s, b.s) >= s) {
      const one = a.s === b.s ? a.o : a.o + ((b.o - a.o) * (s - a.s)) / (b.s - a.s)
      const other = a.s === b.s ? b.o : one
      low = Math.min(low, one, other)
      high = Math.max(high, one, other)
    }
    a = b
  }
  return low <= high ? [low, high] : null
}

/** Intervals that touch or nearly touch, as one. */
export function merged(intervals: readonly Interval[], slack: number): Interval[] {
  const out: Interval[] = []
  for (const interval of intervals.toSorted((a, b) => a[0] - b[0])) {
    const last = out.at(-1)
    if (last && interval[0] <= last[1] + slack) out[out.length - 1] = [last[0], Math.max(last[1], interval[1])]
    else out.push(interval)
  }
  return out
}
