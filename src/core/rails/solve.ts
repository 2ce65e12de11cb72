/** A stretch along a rail, mm. */
export interface Span {
  readonly fromMm: number
  readonly toMm: number
}

/** Where the joints of one rail may stand; mm along it. */
export interface LineAsk {
  readonly lengthMm: number
  /** Its end is its start: the rail has a joint less or none that is set. */
  readonly isClosed: boolean
  /** Longest and shortest piece. */
  readonly longestMm: number
  readonly leastMm: number
  /** No joint between these. */
  readonly zones: readonly Span[]
  /** Nor between these, where a joint of the rail beside stands: rather there than in a zone. */
  readonly beside: readonly Span[]
  /** Of joints that cost the same rather none between these. */
  readonly avoid: readonly Span[]
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
  /** Joints between what was to be avoided. */
  readonly avoided: number
}

const edgeMm = 1e-6
const fullMm = 1e-3
/** Besides the places that rules and full sticks lead to, so many to the longest stick are tried. */
const gridSteps = 24
const chainMost = 400

// Powers of two, so that sums of them are exact; each is more than any rail can have of the next.
const avoidWeight = 2 ** -9
const curveWeight = 2 ** 9
const jointWeight = 2 ** 18
const besideWeight = 2 ** 27
const badWeight = 2 ** 36

export const isForbidden = (zones: readonly Span[], atMm: number): boolean =>
  zones.some(({ fromMm, toMm }) => atMm > fromMm + edgeMm && atMm < toMm - edgeMm)

/**
 * The joints of one rail that are best in this order: fewest in zones (and fewest pieces too short), fewest joints, fewest on curves,
 * fewest pieces that are no full stick. Shortest way through the places that are looked at: ends, fixed joints, edges of zones, all that
 * lie whole sticks or a shortest piece from those, and an even grid. With the pieces' upper bound alone the fewest joints are
 * found exactly: every joint can be moved on until its piece is a full stick or a zone begins, and those places are among them.
 *
 * Domain:  length, longest > 0; least >= 0.
 * Outcome: always joints; a place that had to break a rule counts as bad. Of equal ways that with the fewest joints in what is to be avoided.
 */
export function lineSolve(ask: LineAsk): LineJoints {
  if (!ask.isClosed) return openSolve(ask, 0, ask.lengthMm)
  const { lengthMm, fixed } = ask
  const [first] = fixed
  if (first !== undefined) return closedFrom(ask, first)
  const most = Math.min(ask.longestMm, lengthMm)
  const places = candidatesOf(ask, 0, lengthMm)
  const isHeld = insideOf([...ask.zones, ...ask.beside])
  const good = places.filter((at) => at < most + edgeMm && at < lengthMm - edgeMm && !isHeld(at))
  const starts = good.length > 0 ? good : places.filter((at) => at < most)
  let best: LineJoints | null = null
  for (const start of starts.length > 0 ? starts : [0]) {
    const one = closedFrom(ask, start)
    if (best === null || wayWeight(one) < wayWeight(best)) best = one
  }
  return best ?? closedFrom(ask, 0)
}

/** A closed rail whose first joint is known, opened there. */
function closedFrom(ask: LineAsk, startMm: number): LineJoints {
  const { lengthMm, zones, beside, avoid, fixed } = ask
  const laps = (over: readonly Span[]): readonly Span[] =>
    [-1, 0, 1].flatMap((lap) => over.map(({ fromMm, toMm }) => ({ fromMm: fromMm + lap * lengthMm, toMm: toMm + lap * lengthMm })))
  const isOwn = fixed.includes(startMm)
  const round = (at: number): number => at - lengthMm * Math.floor(at / lengthMm)
  const open = openSolve(
    {
      ...ask,
      zones: laps(zones),
      beside: laps(beside),
      avoid: laps(avoid),
      fixed: fixed.filter((at) => at !== startMm).map((at) => (at < startMm ? at + lengthMm : at)),
      isCurved: (at) => ask.isCurved(round(at)),
    },
    startMm,
    startMm + lengthMm,
  )
  const { cost } = open
  const isIn = (over: readonly Span[]): number => (!isOwn && isForbidden(over, startMm) ? 1 : 0)
  return {
    at: [startMm, ...open.at].map(round).toSorted((a, b) => a - b),
    cost: {
      ...cost,
      bad: cost.bad + isIn(zones),
      beside: cost.beside + isIn(beside),
      joints: cost.joints + 1,
      curved: cost.curved + (ask.isCurved(startMm) ? 1 : 0),
    },
    avoided: open.avoided + isIn(avoid),
  }
}

export function costWeight({ bad, beside, joints, curved, cut }: LineCost): number {
  return bad * badWeight + beside * besideWeight + joints * jointWeight + curved * curveWeight + cut
}

/** What it comes to without the pieces that are no full stick. */
export const costLevel = (cost: LineCost): number => costWeight({ ...cost, cut: 0 })

const wayWeight = ({ cost, avoided }: LineJoints): number => costWeight(cost) + avoided * avoidWeight

function openSolve(ask: LineAsk, fromMm: number, toMm: number): LineJoints {
  const places = candidatesOf(ask, fromMm, toMm)
  const [isHeld, isBeside, isAvoided] = [insideOf(ask.zones), insideOf(ask.beside), insideOf(ask.avoid)]
  const field: Field = { ask, isHeld, isBeside, isAvoided }
  const clear = places.filter((at) => !isHeld(at))
  const good = clear.filter((at) => !isBeside(at))
  return (
    way(field, fromMm, toMm, good, false) ??
    way(field, fromMm, toMm, clear, false) ??
    way(field, fromMm, toMm, places, true) ??
    straightOn(ask, fromMm, toMm)
  )
}

/** Where nothing else leads through: sticks end to end. Not reached while the grid is finer than the longest stick. */
function straightOn(ask: LineAsk, fromMm: number, toMm: number): LineJoints {
  const count = Math.max(0, Math.ceil((toMm - fromMm) / ask.longestMm) - 1)
  const at = Array.from({ length: count }, (_, i) => fromMm + ((toMm - fromMm) * (i + 1)) / (count + 1))
  return { at, cost: { bad: count, beside: 0, joints: count, curved: 0, cut: count + 1 }, avoided: 0 }
}

/** Spans in order, those that lie over each other as one: no place between them is lost or gained. */
function merged(spans: readonly Span[]): readonly Span[] {
  const found: Span[] = []
  for (const span of spans.toSorted((a, b) => a.fromMm - b.fromMm)) {
    if (span.toMm - span.fromMm <= 2 * edgeMm) continue
    const last = found.at(-1)
    if (last !== undefined && span.fromMm < last.toMm - 2 * edgeMm)
      found[found.length - 1] = { fromMm: last.fromMm, toMm: Math.max(last.toMm, span.toMm) }
    else found.push(span)
  }
  return found
}

/** isForbidden for spans that are asked often. */
function insideOf(spans: readonly Span[]): (atMm: number) => boolean {
  const parts = merged(spans)
  const from = Float64Array.from(parts, ({ fromMm }) => fromMm + edgeMm)
  const to = Float64Array.from(parts, ({ toMm }) => toMm - edgeMm)
  return (atMm) => {
    let [low, high] = [0, from.length]
    while (low < high) {
      const middle = (low + high) >> 1
      if ((from[middle] ?? 0) < atMm) low = middle + 1
      else high = middle
    }
    return low > 0 && atMm < (to[low - 1] ?? -Infinity)
  }
}

/** Places that are looked at, forbidden ones with them. */
export function candidatesOf(ask: LineAsk, fromMm: number, toMm: number): readonly number[] {
  const { longestMm, leastMm, zones, beside, avoid, fixed } = ask
  const isInside = (at: number): boolean => at > fromMm + edgeMm && at < toMm - edgeMm
  const isHeld = insideOf(zones)
  const edges = [zones, beside, avoid].flatMap((spans) =>
    merged(spans)
      .flatMap((span) => [span.fromMm, span.toMm])
      .filter(isInside),
  )
  const seeds = [fromMm, toMm, ...fixed, ...edges]
  const found = new Set<number>(edges)
  for (const seed of seeds) {
    for (const step of [longestMm, -longestMm]) {
      for (let at = seed + step, n = 0; isInside(at) && n < chainMost; at += step, n++) {
        found.add(at)
        if (isHeld(at)) break
      }
    }
    for (const at of [seed + leastMm, seed - leastMm]) if (isInside(at)) found.add(at)
  }
  const stepMm = longestMm / gridSteps
  for (let at = fromMm + stepMm; isInside(at); at += stepMm) found.add(at)
  const places = Float64Array.from(found).toSorted()
  return [...places].filter((at, i) => (i === 0 || at - (places[i - 1] ?? 0) > edgeMm) && !fixed.some((own) => Math.abs(own - at) < fullMm))
}

interface Field {
  readonly ask: LineAsk
  readonly isHeld: (atMm: number) => boolean
  readonly isBeside: (atMm: number) => boolean
  readonly isAvoided: (atMm: number) => boolean
}

/** The best way from one end to the other over these places; null: none that keeps every rule. soft: rules may be broken. */
function way(
  { ask, isHeld, isBeside, isAvoided }: Field,
  fromMm: number,
  toMm: number,
  places: readonly number[],
  soft: boolean,
): LineJoints | null {
  const { longestMm, leastMm, isCurved } = ask
  const fixed = new Set(ask.fixed.filter((at) => at > fromMm && at < toMm))
  const nodes = Float64Array.from([fromMm, ...places, ...fixed, toMm]).toSorted()
  const last = nodes.length - 1
  const own = Uint8Array.from(nodes, (at, i) => (i === 0 || i === last || fixed.has(at) ? 1 : 0))
  const entry = Array.from(nodes, (at, i): LineCost & { readonly avoided: number } => {
    if (i === 0 || i === last) return { bad: 0, beside: 0, joints: 0, curved: 0, cut: 0, avoided: 0 }
    const isFree = own[i] === 0
    return {
      bad: isFree && isHeld(at) ? 1 : 0,
      beside: isFree && isBeside(at) ? 1 : 0,
      joints: 1,
      curved: isCurved(at) ? 1 : 0,
      cut: 0,
      avoided: isFree && isAvoided(at) ? 1 : 0,
    }
  })
  const entryWeight = Float64Array.from(entry, (cost) => costWeight(cost) + cost.avoided * avoidWeight)
  const best = new Float64Array(nodes.length).fill(Infinity)
  const before = new Int32Array(nodes.length).fill(-1)
  best[0] = 0
  for (let j = 1; j <= last; j++) {
    const at = nodes[j] as number
    const isSet = own[j] === 1
    let [least, from] = [Infinity, -1]
    for (let i = j - 1; i >= 0; i--) {
      const length = at - (nodes[i] as number)
      if (length > longestMm + edgeMm) break
      const isShort = length < leastMm - edgeMm && !(isSet && own[i] === 1)
      if (!isShort || soft) {
        const isFull = length > longestMm - fullMm
        const weight = (best[i] as number) + (isShort ? badWeight : 0) + (isFull ? 0 : 1)
        if (weight < least) [least, from] = [weight, i]
      }
      if (i > 0 && own[i] === 1) break
    }
    best[j] = least + (entryWeight[j] as number)
    before[j] = from
  }
  if (!Number.isFinite(best[last] ?? Infinity)) return null
  const at: number[] = []
  const sum = { bad: 0, beside: 0, joints: 0, curved: 0, cut: 0 }
  let avoided = 0
  for (let j = last; j > 0; j = before[j] ?? 0) {
    const i = before[j] ?? 0
    const length = (nodes[j] ?? 0) - (nodes[i] ?? 0)
    const cost = entry[j]
    sum.bad += (cost?.bad ?? 0) + (length < leastMm - edgeMm && !(own[i] === 1 && own[j] === 1) ? 1 : 0)
    sum.beside += cost?.beside ?? 0
    sum.joints += cost?.joints ?? 0
    sum.curved += cost?.curved ?? 0
    sum.cut += length > longestMm - fullMm ? 0 : 1
    avoided += cost?.avoided ?? 0
    if (j < last) at.unshift(nodes[j] ?? 0)
  }
  return { at, cost: sum, avoided }
}
