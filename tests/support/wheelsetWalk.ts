import { pathCurvatureAt, pathPoseAt } from '../../src/core/geom/index.ts'
import type { Path } from '../../src/core/geom/types.ts'
import type { TurnoutRail, WorkRoute } from '../../src/core/turnout/types.ts'

/*
 * A wheelset rolled through special work, seen from above, from nothing but rail heads. It knows no guard rail, no frog and no
 * check gauge: heads are areas that no flange may enter and that treads must lie on.
 *
 * At every station of a route the set may stand anywhere across the track where neither flange enters a head. What it can reach is
 * followed: from where it may be now, it may be anywhere in the same opening at the next station, as freely as that allows. So both
 * extremes are tried at once, and every way between them. It fails where
 *   climbs:    no place is left, or a head comes at the flange steeper than it can be led aside
 *   wrong side: what it can reach parts in two, as at the point of a frog that is not guarded, or at the tip of an open point
 *   drops:     a tread finds no head under it near enough
 */

/** A pair of wheels on an axle. mm. */
export interface Wheelset {
  readonly name: string
  readonly backToBackMm: number
  /** At the height of the railhead. */
  readonly flangeMm: number
  readonly flangeDepthMm: number
  /** Over all: flange and tread. */
  readonly wheelWidthMm: number
  readonly diameterMm: number
}

export interface WalkFault {
  readonly kind: 'climbs' | 'wrong side' | 'drops'
  readonly direction: 'facing' | 'trailing'
  readonly at: { readonly x: number; readonly y: number }
  readonly stationMm: number
  /** climbs: how far it would have to jump aside (Infinity: no place at all); drops: how deep; wrong side: width of the other opening. */
  readonly byMm: number
}

export interface Walk {
  readonly faults: readonly WalkFault[]
  readonly stations: number
  /** Most that a tread went down between heads, mm. */
  readonly deepestMm: number
}

/** Steps of a walk along a gauge: 0.2 mm in HO. A flange is twenty steps long. */
const stepsPerGauge = 80
/** A flange is led aside by what comes at it up to this slope, 27 degrees; common practice, no source: guard rails open by 5. */
const mostSlope = 0.5
/** Faces that just touch are no obstacle: lines drawn in steps, and guards that stand at the limit itself. mm, for 16.5 mm gauge. */
const touchPerGauge = 0.004 / 16.5
/** A tread may sink by this part of the flange's depth where it rolls from head to head; the flange still clears the floor by it. */
const mostSinkPerDepth = 0.15

type Interval = readonly [low: number, high: number]

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
interface Lane {
  readonly from: number
  readonly low: number[]
  readonly high: number[]
}

export function walkGround({ route, rails, throwMm }: WalkPlan): WalkGround {
  const stepMm = route.gaugeMm / stepsPerGauge
  const places = routePlaces(route, stepMm)
  const lanes = rails.flatMap((rail) => headLanes(stripOf(places, stepMm, rail, route, throwMm), places, stepMm))
  return { gaugeMm: route.gaugeMm, stepMm, places, lanes }
}

/** Rolls the wheelset along the route both ways. */
export function wheelsetWalk(ground: WalkGround, wheels: Wheelset): Walk {
  const { stepMm, places, gaugeMm } = ground
  const radius = wheels.diameterMm / 2
  const reach = Math.ceil(Math.sqrt((radius + wheels.flangeDepthMm) ** 2 - radius ** 2) / stepMm)
  const flange = Array.from({ length: 2 * reach + 1 }, (_, i) => flangeAt((i - reach) * stepMm, wheels))
  const [first, last] = walkedStretch(ground, reach)
  const touch = touchPerGauge * gaugeMm
  const open: (readonly Interval[])[] = []
  for (let i = first; i <= last; i++) open.push(openings(ground, i, reach, flange, wheels.backToBackMm))

  if (open.length === 0) throw new Error('no track to roll on')
  const faults: WalkFault[] = []
  let deepestMm = 0
  for (const direction of ['facing', 'trailing'] as const) {
    let held: Interval | null = null
    for (let n = 0; n < open.length; n++) {
      const i = direction === 'facing' ? n : open.length - 1 - n
      const { x, y, s } = places[first + i] ?? { x: NaN, y: NaN, s: NaN }
      const fault = (kind: WalkFault['kind'], byMm: number): void => {
        faults.push({ kind, direction, at: { x, y }, stationMm: s, byMm })
      }
      const next = advance(held, open[i] ?? [], stepMm * mostSlope + touch)
      if (next.kind !== 'held') {
        fault(next.kind === 'lost' ? 'climbs' : 'wrong side', next.byMm)
        break
      }
      held = next.held
      const sink = Math.max(...held.flatMap((axle) => [1, -1].map((side) => treadSink(ground, first + i, axle, side, reach, wheels))))
      deepestMm = Math.max(deepestMm, sink)
      if (sink > mostSinkPerDepth * wheels.flangeDepthMm) {
        fault('drops', sink)
        break
      }
    }
  }
  return { faults, stations: open.length, deepestMm }
}

type Advance =
  | { readonly kind: 'held'; readonly held: Interval }
  | { readonly kind: 'lost'; readonly byMm: number }
  | { readonly kind: 'parts'; readonly byMm: number }

/** Where the set can be at the next station. An edge of what it could reach may be led inwards by `most`. */
function advance(held: Interval | null, open: readonly Interval[], most: number): Advance {
  if (held === null) {
    const start =
      open.find(([low, high]) => low <= 0 && high >= 0) ?? open.toSorted((a, b) => Math.abs(a[0] + a[1]) - Math.abs(b[0] + b[1]))[0]
    return start ? { kind: 'held', held: start } : { kind: 'lost', byMm: Infinity }
  }
  const [low, high] = held
  const touched = open.filter((opening) => opening[1] >= low && opening[0] <= high)
  const [only, ...more] = touched
  if (!only) {
    const near = open.map((opening) => (opening[0] > high ? opening[0] - high : low - opening[1]))
    const byMm = Math.min(Infinity, ...near)
    const index = near.indexOf(byMm)
    const led = open[index]
    return led && byMm <= most ? { kind: 'held', held: led } : { kind: 'lost', byMm }
  }
  if (more.length > 0) {
    const shares = touched.map((opening) => Math.min(opening[1], high) - Math.max(opening[0], low))
    return { kind: 'parts', byMm: Math.min(...shares) }
  }
  const jump = Math.max(only[0] - low, high - only[1])
  return jump > most ? { kind: 'lost', byMm: jump } : { kind: 'held', held: only }
}

/** The section of a flange at the height of the railhead, before and behind the axle: in from its back and in from its front, mm. */
interface FlangeSection {
  readonly sagMm: number
  readonly fromBackMm: number
  readonly toBackMm: number
}

/**
 * The plane of the railheads cuts a flange at fore-and-aft distance x in the depth sqrt(R^2 + x^2) - R below the tread. The flange is rounded
 * over its whole depth to its tip in the middle, as a half ellipse.
 */
function flangeAt(x: number, { diameterMm, flangeDepthMm, flangeMm }: Wheelset): FlangeSection {
  const depth = Math.min(1, (Math.hypot(diameterMm / 2, x) - diameterMm / 2) / flangeDepthMm)
  const inset = (flangeMm / 2) * (1 - Math.sqrt(1 - depth ** 2))
  return { sagMm: x ** 2 / 2, fromBackMm: inset, toBackMm: flangeMm - inset }
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
  return [...new Set(all)].toSorted((a, b) => a - b)
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

function stripOf(places: readonly Place[], stepMm: number, rail: TurnoutRail, route: WorkRoute, throwMm: number): Strip {
  const { gaugeLine, headSide } = rail
  const opens = rail.role.startsWith('point') && isInTheWay(places, gaugeLine, route.gaugeMm) ? throwMm : 0
  const place = placer(places)
  const corners = railStations(rail, stepMm).map((along) => {
    const { x, y, headingRad } = pathPoseAt(gaugeLine, along)
    const [nx, ny] = [-Math.sin(headingRad), Math.cos(headingRad)]
    // An open point has turned about its heel, away from the rail that it lies against.
    const near = -headSide * opens * (1 - along / gaugeLine.lengthMm)
    const far = near + headSide * headWidthAt(rail, along)
    return { face: place(x + near * nx, y + near * ny), far: place(x + far * nx, y + far * ny) }
  })
  return { face: corners.map(({ face }) => face), far: corners.map(({ far }) => far) }
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

/** A head as lanes: one, but for a rail so steep across the route that it bends back over itself. */
function headLanes({ face, far }: Strip, places: readonly Place[], stepMm: number): readonly Lane[] {
  const cuts = new Map<number, Interval[]>()
  const firstS = places[0]?.s ?? 0
  for (let i = 0; i + 1 < face.length; i++) {
    const ring = [face[i], face[i + 1], far[i + 1], far[i]].flatMap((corner) => (corner ? [corner] : []))
    const stations = ring.map(({ s }) => s)
    const from = Math.max(0, Math.ceil((Math.min(...stations) - firstS) / stepMm))
    const to = Math.min(places.length - 1, Math.floor((Math.max(...stations) - firstS) / stepMm))
    for (let j = from; j <= to; j++) {
      const cut = ringCut(ring, firstS + j * stepMm)
      if (cut) cuts.set(j, merged([...(cuts.get(j) ?? []), cut], stepMm * 1e-3))
    }
  }
  const lanes: Lane[] = []
  for (const [j, intervals] of [...cuts].toSorted(([a], [b]) => a - b)) {
    for (const [low, high] of intervals) {
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
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length] ?? a
    if (Math.min(a.s, b.s) > s || Math.max(a.s, b.s) < s) return
    for (const o of a.s === b.s ? [a.o, b.o] : [a.o + ((b.o - a.o) * (s - a.s)) / (b.s - a.s)]) {
      low = Math.min(low, o)
      high = Math.max(high, o)
    }
  })
  return low <= high ? [low, high] : null
}

function merged(intervals: readonly Interval[], slack: number): Interval[] {
  const out: Interval[] = []
  for (const interval of intervals.toSorted((a, b) => a[0] - b[0])) {
    const last = out.at(-1)
    if (last && interval[0] <= last[1] + slack) out[out.length - 1] = [last[0], Math.max(last[1], interval[1])]
    else out.push(interval)
  }
  return out
}

/** First and last step at which the whole length of a flange has a head of the route's own beside it on both sides. */
function walkedStretch({ places, lanes, gaugeMm }: WalkGround, reach: number): readonly [number, number] {
  const hasHead = (i: number, side: number): boolean =>
    lanes.some(({ from, low, high }) => {
      const [a, b] = [low[i - from], high[i - from]]
      if (a === undefined || b === undefined) return false
      const face = Math.min(side * a, side * b)
      return face > 0.45 * gaugeMm && face < 0.62 * gaugeMm
    })
  const railed = places.map((_, i) => hasHead(i, 1) && hasHead(i, -1))
  return [railed.indexOf(true) + reach, railed.lastIndexOf(true) - reach]
}

/** Where the axle may stand across the line at a step: every place at which neither flange enters a head. */
function openings(
  { places, lanes, gaugeMm }: WalkGround,
  index: number,
  reach: number,
  flange: readonly FlangeSection[],
  backToBackMm: number,
): readonly Interval[] {
  const k = places[index]?.k ?? 0
  const touch = touchPerGauge * gaugeMm
  const shut: Interval[] = []
  for (const lane of lanes) {
    const first = Math.max(index - reach, lane.from)
    const last = Math.min(index + reach, lane.from + lane.low.length - 1)
    for (const side of [1, -1]) {
      // One head along one flange is one obstacle: the places between its cuts are shut as well.
      let [from, to] = [Infinity, -Infinity]
      for (let i = first; i <= last; i++) {
        const section = flange[i - index + reach]
        if (!section) continue
        const sag = k * section.sagMm
        const near = side * (backToBackMm / 2 + section.fromBackMm)
        const far = side * (backToBackMm / 2 + section.toBackMm)
        const low = (lane.low[i - lane.from] ?? NaN) + sag - Math.max(near, far) + touch
        const high = (lane.high[i - lane.from] ?? NaN) + sag - Math.min(near, far) - touch
        if (low >= high) continue
        from = Math.min(from, low)
        to = Math.max(to, high)
      }
      if (from < to) shut.push([from, to])
    }
  }
  const open: Interval[] = []
  let at = -gaugeMm / 2
  for (const [low, high] of [...merged(shut, 0), [gaugeMm / 2, Infinity] as const]) {
    if (low > at) open.push([at, Math.min(low, gaugeMm / 2)])
    at = Math.max(at, high)
    if (at >= gaugeMm / 2) break
  }
  return open
}

/** How far a wheel sinks with its axle at y: down to where its tread first meets a head, before or behind. */
function treadSink(
  { places, lanes, stepMm }: WalkGround,
  index: number,
  y: number,
  side: number,
  reach: number,
  { backToBackMm, flangeMm, wheelWidthMm, diameterMm }: Wheelset,
): number {
  const inner = y + side * (backToBackMm / 2 + flangeMm)
  const outer = y + side * (backToBackMm / 2 + wheelWidthMm)
  const [from, to] = [Math.min(inner, outer), Math.max(inner, outer)]
  const k = places[index]?.k ?? 0
  for (let x = 0; x <= 2 * reach; x++) {
    const sag = (k * (x * stepMm) ** 2) / 2
    const isCarriedAt = (at: number): boolean =>
      lanes.some(({ from: start, low, high }) => (low[at - start] ?? Infinity) + sag < to && (high[at - start] ?? -Infinity) + sag > from)
    if (isCarriedAt(index - x) || isCarriedAt(index + x)) return diameterMm / 2 - Math.sqrt((diameterMm / 2) ** 2 - (x * stepMm) ** 2)
  }
  return Infinity
}
