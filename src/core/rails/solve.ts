/** Where the joints of one rail may stand; mm along it. */
export interface LineAsk {
  readonly lengthMm: number
  /** Its end is its start: the rail has a joint less or none that is set. */
  readonly isClosed: boolean
  /** Longest and shortest piece. */
  readonly longestMm: number
  readonly leastMm: number
  /** No joint between these. */
  readonly zones: readonly { readonly fromMm: number; readonly toMm: number }[]
  /** Nor between these, where a joint of the rail beside stands: rather there than in a zone. */
  readonly beside: readonly { readonly fromMm: number; readonly toMm: number }[]
  /** Joints that stay where they are. */
  readonly fixed: readonly number[]
  readonly isCurved: (atMm: number) => boolean
}

/** In the order in which they count. */
export interface LineCost {
  /** Joints in zones, and pieces below the shortest. */
  readonly bad: number
  /** Joints too near to one of the rail beside. */
  readonly beside: number
  readonly joints: number
  readonly curved: number
  /** Pieces that are no full stick. */
  readonly cut: number
}

export interface LineJoints {
  readonly at: readonly number[]
  readonly cost: LineCost
}

const edgeMm = 1e-6
const fullMm = 1e-3
/** Besides the places that rules and full sticks lead to, so many to the longest stick are tried. */
const gridSteps = 24
const chainMost = 400

const badWeight = 1e12
const besideWeight = 1e10
const jointWeight = 1e8
const curveWeight = 1e4

export const isForbidden = (zones: LineAsk['zones'], atMm: number): boolean =>
  zones.some(({ fromMm, toMm }) => atMm > fromMm + edgeMm && atMm < toMm - edgeMm)

/**
 * The joints of one rail that are best in this order: fewest in zones (and fewest pieces too short), fewest joints, fewest on curves,
 * fewest pieces that are no full stick. Shortest way through the places that are looked at: ends, fixed joints, edges of zones, all that
 * lie whole sticks or a shortest piece from those, and an even grid. With the pieces' upper bound alone the fewest joints are
 * found exactly: every joint can be moved on until its piece is a full stick or a zone begins, and those places are among them.
 *
 * Domain:  length, longest > 0; least >= 0.
 * Outcome: always joints; a place that had to break a rule counts as bad. Of equal ways that with the later first joints.
 */
export function lineSolve(ask: LineAsk): LineJoints {
  if (!ask.isClosed) return openSolve(ask, 0, ask.lengthMm)
  const { lengthMm, fixed } = ask
  const [first] = fixed
  if (first !== undefined) return closedFrom(ask, first)
  const most = Math.min(ask.longestMm, lengthMm)
  const places = candidatesOf(ask, 0, lengthMm)
  const all = [...ask.zones, ...ask.beside]
  const good = places.filter((at) => at < most + edgeMm && at < lengthMm - edgeMm && !isForbidden(all, at))
  const starts = good.length > 0 ? good : places.filter((at) => at < most)
  let best: LineJoints | null = null
  for (const start of starts.length > 0 ? starts : [0]) {
    const one = closedFrom(ask, start)
    if (best === null || costWeight(one.cost) < costWeight(best.cost)) best = one
  }
  return best ?? closedFrom(ask, 0)
}

/** A closed rail whose first joint is known, opened there. */
function closedFrom(ask: LineAsk, startMm: number): LineJoints {
  const { lengthMm, zones, beside, fixed } = ask
  const laps = (over: LineAsk['zones']): LineAsk['zones'] =>
    [-1, 0, 1].flatMap((lap) => over.map(({ fromMm, toMm }) => ({ fromMm: fromMm + lap * lengthMm, toMm: toMm + lap * lengthMm })))
  const isOwn = fixed.includes(startMm)
  const round = (at: number): number => at - lengthMm * Math.floor(at / lengthMm)
  const open = openSolve(
    {
      ...ask,
      zones: laps(zones),
      beside: laps(beside),
      fixed: fixed.filter((at) => at !== startMm).map((at) => (at < startMm ? at + lengthMm : at)),
      isCurved: (at) => ask.isCurved(round(at)),
    },
    startMm,
    startMm + lengthMm,
  )
  const { cost } = open
  return {
    at: [startMm, ...open.at].map(round).toSorted((a, b) => a - b),
    cost: {
      ...cost,
      bad: cost.bad + (!isOwn && isForbidden(zones, startMm) ? 1 : 0),
      beside: cost.beside + (!isOwn && isForbidden(beside, startMm) ? 1 : 0),
      joints: cost.joints + 1,
      curved: cost.curved + (ask.isCurved(startMm) ? 1 : 0),
    },
  }
}

export function costWeight({ bad, beside, joints, curved, cut }: LineCost): number {
  return bad * badWeight + beside * besideWeight + joints * jointWeight + curved * curveWeight + cut
}

function openSolve(ask: LineAsk, fromMm: number, toMm: number): LineJoints {
  const places = candidatesOf(ask, fromMm, toMm)
  const clear = places.filter((at) => !isForbidden(ask.zones, at))
  const good = clear.filter((at) => !isForbidden(ask.beside, at))
  return (
    way(ask, fromMm, toMm, good, false) ??
    way(ask, fromMm, toMm, clear, false) ??
    way(ask, fromMm, toMm, places, true) ??
    straightOn(ask, fromMm, toMm)
  )
}

/** Where nothing else leads through: sticks end to end. Not reached while the grid is finer than the longest stick. */
function straightOn(ask: LineAsk, fromMm: number, toMm: number): LineJoints {
  const count = Math.max(0, Math.ceil((toMm - fromMm) / ask.longestMm) - 1)
  const at = Array.from({ length: count }, (_, i) => fromMm + ((toMm - fromMm) * (i + 1)) / (count + 1))
  return { at, cost: { bad: count, beside: 0, joints: count, curved: 0, cut: count + 1 } }
}

/** Places that are looked at, forbidden ones with them. */
export function candidatesOf(ask: LineAsk, fromMm: number, toMm: number): readonly number[] {
  const { longestMm, leastMm, zones, beside, fixed } = ask
  const isInside = (at: number): boolean => at > fromMm + edgeMm && at < toMm - edgeMm
  const edges = [...zones, ...beside].flatMap((zone) => [zone.fromMm, zone.toMm]).filter(isInside)
  const seeds = [fromMm, toMm, ...fixed, ...edges]
  const found = new Set<number>(edges)
  for (const seed of seeds) {
    for (const step of [longestMm, -longestMm]) {
      for (let at = seed + step, n = 0; isInside(at) && n < chainMost; at += step, n++) {
        found.add(at)
        if (isForbidden(zones, at)) break
      }
    }
    for (const at of [seed + leastMm, seed - leastMm]) if (isInside(at)) found.add(at)
  }
  const stepMm = longestMm / gridSteps
  for (let at = fromMm + stepMm; isInside(at); at += stepMm) found.add(at)
  return [...found].filter((at) => !fixed.some((own) => Math.abs(own - at) < fullMm)).toSorted((a, b) => a - b)
}

/** The best way from one end to the other over these places; null: none that keeps every rule. soft: rules may be broken. */
function way(ask: LineAsk, fromMm: number, toMm: number, places: readonly number[], soft: boolean): LineJoints | null {
  const { longestMm, leastMm, zones, beside, isCurved } = ask
  const fixed = new Set(ask.fixed.filter((at) => at > fromMm && at < toMm))
  const nodes = [fromMm, ...[...new Set([...places, ...fixed])].toSorted((a, b) => a - b), toMm]
  const last = nodes.length - 1
  const own = nodes.map((at, i) => i === 0 || i === last || fixed.has(at))
  const entry = nodes.map((at, i): LineCost => {
    if (i === 0 || i === last) return { bad: 0, beside: 0, joints: 0, curved: 0, cut: 0 }
    const isOwn = fixed.has(at)
    return {
      bad: !isOwn && isForbidden(zones, at) ? 1 : 0,
      beside: !isOwn && isForbidden(beside, at) ? 1 : 0,
      joints: 1,
      curved: isCurved(at) ? 1 : 0,
      cut: 0,
    }
  })
  const entryWeight = entry.map(costWeight)
  const best = new Float64Array(nodes.length).fill(Infinity)
  const before = new Int32Array(nodes.length).fill(-1)
  best[0] = 0
  for (let j = 1; j <= last; j++) {
    const at = nodes[j] ?? 0
    for (let i = j - 1; i >= 0; i--) {
      const from = nodes[i] ?? 0
      const length = at - from
      if (length > longestMm + edgeMm) break
      const isShort = length < leastMm - edgeMm && !(own[i] === true && own[j] === true)
      if (!isShort || soft) {
        const isFull = Math.abs(length - longestMm) < fullMm
        const weight = (best[i] ?? Infinity) + (entryWeight[j] ?? 0) + (isShort ? badWeight : 0) + (isFull ? 0 : 1)
        if (weight < (best[j] ?? Infinity)) {
          best[j] = weight
          before[j] = i
        }
      }
      if (i > 0 && fixed.has(from)) break
    }
  }
  if (!Number.isFinite(best[last] ?? Infinity)) return null
  const at: number[] = []
  const sum = { bad: 0, beside: 0, joints: 0, curved: 0, cut: 0 }
  for (let j = last; j > 0; j = before[j] ?? 0) {
    const i = before[j] ?? 0
    const length = (nodes[j] ?? 0) - (nodes[i] ?? 0)
    const cost = entry[j]
    sum.bad += (cost?.bad ?? 0) + (length < leastMm - edgeMm && !(own[i] === true && own[j] === true) ? 1 : 0)
    sum.beside += cost?.beside ?? 0
    sum.joints += cost?.joints ?? 0
    sum.curved += cost?.curved ?? 0
    sum.cut += Math.abs(length - longestMm) < fullMm ? 0 : 1
    if (j < last) at.unshift(nodes[j] ?? 0)
  }
  return { at, cost: sum }
}
