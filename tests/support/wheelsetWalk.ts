import { merged } from './wheelsetGround.ts'
import type { Interval, Lane, WalkGround } from './wheelsetGround.ts'

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

/** A flange is led aside by what comes at it up to this slope, 27 degrees; common practice, no source: guard rails open by 5. */
const mostSlope = 0.5
/** Faces that just touch are no obstacle: lines drawn in steps, and guards that stand at the limit itself. mm, for 16.5 mm gauge. */
const touchPerGauge = 0.004 / 16.5
/** A tread may sink by this part of the flange's depth where it rolls from head to head; the flange still clears the floor by it. */
const mostSinkPerDepth = 0.15

/** Left and right wheel. */
const sides = [1, -1] as const
/** A flange may stand half a gauge off its place beside the line; the rest is more than the line bends under a flange. */
const besideGauges = 0.6

/** Rolls the wheelset along the route both ways. */
export function wheelsetWalk(ground: WalkGround, wheels: Wheelset): Walk {
  const { stepMm, places, gaugeMm } = ground
  const radius = wheels.diameterMm / 2
  const reach = Math.ceil(Math.sqrt((radius + wheels.flangeDepthMm) ** 2 - radius ** 2) / stepMm)
  const flange = Array.from({ length: 2 * reach + 1 }, (_, i) => flangeAt((i - reach) * stepMm, wheels))
  const [first, last] = walkedStretch(ground, reach)
  const touch = touchPerGauge * gaugeMm
  const shut = shutPlaces(ground, reach, flange, wheels.backToBackMm)
  const open: (readonly Interval[])[] = []
  for (let i = first; i <= last; i++) open.push(openings(shut[i] ?? [], gaugeMm))

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
      let sink = 0
      for (const axle of held) for (const side of sides) sink = Math.max(sink, treadSink(ground, first + i, axle, side, reach, wheels))
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

/** First and last step at which the whole length of a flange has a head of the route's own beside it on both sides. */
function walkedStretch({ places, lanesAt, gaugeMm }: WalkGround, reach: number): readonly [number, number] {
  const hasHead = (i: number, side: number): boolean =>
    (lanesAt[i] ?? []).some(({ from, low, high }) => {
      const face = Math.min(side * (low[i - from] ?? NaN), side * (high[i - from] ?? NaN))
      return face > 0.45 * gaugeMm && face < 0.62 * gaugeMm
    })
  const railed = places.map((_, i) => hasHead(i, 1) && hasHead(i, -1))
  return [railed.indexOf(true) + reach, railed.lastIndexOf(true) - reach]
}

/** Where the axle must not stand across the line, at each step: every place at which a flange enters a head. What is shut far aside is left out. */
function shutPlaces(
  { places, lanes, gaugeMm }: WalkGround,
  reach: number,
  flange: readonly FlangeSection[],
  backToBackMm: number,
): readonly (readonly Interval[])[] {
  const touch = touchPerGauge * gaugeMm
  const shut = places.map((): Interval[] => [])
  const sags = flange.map(({ sagMm }) => sagMm)
  const besideMm = besideGauges * gaugeMm
  for (const side of sides) {
    const ends = flange.map(({ fromBackMm, toBackMm }) => [side * (backToBackMm / 2 + fromBackMm), side * (backToBackMm / 2 + toBackMm)])
    const lows = ends.map((both) => Math.min(...both))
    const highs = ends.map((both) => Math.max(...both))
    for (const lane of lanes) {
      const [begin, end] = besideStretch(lane, Math.min(...lows) - besideMm, Math.max(...highs) + besideMm)
      for (let index = Math.max(0, begin - reach); index <= Math.min(places.length - 1, end + reach); index++) {
        const k = places[index]?.k ?? 0
        const first = Math.max(index - reach, lane.from)
        const last = Math.min(index + reach, lane.from + lane.low.length - 1)
        // One head along one flange is one obstacle: the places between its cuts are shut as well.
        let [from, to] = [Infinity, -Infinity]
        for (let i = first; i <= last; i++) {
          const n = i - index + reach
          const sag = k * (sags[n] ?? NaN)
          const low = (lane.low[i - lane.from] ?? NaN) + sag - (highs[n] ?? NaN) + touch
          const high = (lane.high[i - lane.from] ?? NaN) + sag - (lows[n] ?? NaN) - touch
          if (low >= high) continue
          from = Math.min(from, low)
          to = Math.max(to, high)
        }
        if (from < to) shut[index]?.push([from, to])
      }
    }
  }
  return shut
}

/** First and last step at which a head lies between two offsets; the last is before the first where it never does. */
function besideStretch({ from, low, high }: Lane, leastMm: number, mostMm: number): readonly [number, number] {
  const isBeside = (lowMm: number, i: number): boolean => lowMm < mostMm && (high[i] ?? NaN) > leastMm
  const first = low.findIndex(isBeside)
  return first < 0 ? [Infinity, -Infinity] : [from + first, from + low.findLastIndex(isBeside)]
}

/** Where the axle may stand across the line: half a gauge to either side, but for what is shut. */
function openings(shut: readonly Interval[], gaugeMm: number): readonly Interval[] {
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
  { places, lanesAt, stepMm }: WalkGround,
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
      (lanesAt[at] ?? []).some(
        ({ from: start, low, high }) => (low[at - start] ?? NaN) + sag < to && (high[at - start] ?? NaN) + sag > from,
      )
    if (isCarriedAt(index - x) || isCarriedAt(index + x)) return diameterMm / 2 - Math.sqrt((diameterMm / 2) ** 2 - (x * stepMm) ** 2)
  }
  return Infinity
}
