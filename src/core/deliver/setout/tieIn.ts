import { pointDistance } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import { columns } from './columns.ts'
import { jointNameAt, pathJoints, stationsEven } from './joints.ts'
import { lengthValue } from './marks.ts'
import { fixedPoints, roomBlocks } from './room.ts'
import { groupsRefuse, ROWS_MAX, stationPoint, type GroupsResult } from './rows.ts'
import { CROSSING_LEAST_RAD, CROSSING_MOST_RAD, crossingRad, tapeSight, tapesMeet, tieSide, type TiePair } from './tapes.ts'
import type { FixedPoint, SetoutGroup, SetoutNote, SetoutRequest, SetoutRow, SetoutSubject } from './types.ts'

/** Most fixed points that pairs are formed of, the nearest to the stretch: a bench of hundreds of corners has enough near by. */
const PINS_MAX = 48

/**
 * What moving a pin is worth, rad mm: a new pair must save this much departure from square crossing, summed along the line it serves,
 * so that a finer step does not move more pins. Smaller, and the pins move every hand's breadth; larger, and one pair is kept where it
 * crosses at 40 degrees. Chosen by looking at tables of the demonstration railway.
 */
const PIN_MOVE_RAD_MM = 450

/**
 * What a metre of tape is worth, rad: it sags and stretches, so corners near by come before corners across the room that cross a
 * little squarer. Less than a sixth of what the crossing may be off, for tapes of a bench.
 */
const TAPE_RAD_PER_MM = 1e-4

interface Tape {
  readonly rad: number
  readonly mm: number
}

interface Target {
  readonly stationMm: number
  readonly at: Point
  /** Direction and length of the tape from each pin; null where none passes. */
  readonly toPin: readonly (Tape | null)[]
}

export type TieInResult = GroupsResult & { readonly notes?: readonly SetoutNote[] }

/**
 * Distances from two fixed points for stations at even steps and every joint. The pairs are chosen so that over the whole stretch
 * the crossings are as near to square as they can be, with as few moves of the pins as are worth it: the cheapest way through
 * all points and pairs, found exactly.
 */
export function tieInGroups(subject: SetoutSubject, request: SetoutRequest, fromMm: number, toMm: number): TieInResult {
  const { path, room } = subject
  const rowsAsked = Math.ceil((toMm - fromMm) / request.stepMm)
  if (rowsAsked > ROWS_MAX) return groupsRefuse({ kind: 'tooManyRows', rows: rowsAsked, most: ROWS_MAX })
  const joints = pathJoints(path)
  const places = stationsEven(fromMm, toMm, request.stepMm, joints).map((stationMm) => ({ stationMm, at: stationPoint(path, stationMm) }))
  const pins = pinsNear(
    fixedPoints(room),
    places.map(({ at }) => at),
  )
  if (pins.length < 2) return groupsRefuse({ kind: 'tooFewFixedPoints', have: pins.length })
  const blocks = roomBlocks(room)
  const targets: readonly Target[] = places.map(({ stationMm, at }) => ({
    stationMm,
    at,
    toPin: pins.map((pin) =>
      tapeSight(blocks, pin, at) ? { rad: Math.atan2(pin.y - at.y, pin.x - at.x), mm: pointDistance(pin, at) } : null,
    ),
  }))
  const chosen = pairsChosen(pins, targets, (PIN_MOVE_RAD_MM * targets.length) / (toMm - fromMm))
  const groups: SetoutGroup[] = []
  let run: { readonly pair: TiePair; readonly rows: SetoutRow[] } | null = null
  for (const [i, { stationMm, at }] of targets.entries()) {
    const pair = chosen[i] ?? null
    if (pair === null) {
      run = null
      continue
    }
    if (run === null || run.pair.a !== pair.a || run.pair.b !== pair.b || run.pair.side !== pair.side) {
      run = { pair, rows: [] }
      groups.push(pairGroup(pair, run.rows, request))
    }
    const a = lengthValue(pointDistance(pair.a, at), request.marks)
    const b = lengthValue(pointDistance(pair.b, at), request.marks)
    const met = tapesMeet(pair.a, a.rounded, pair.b, b.rounded, pair.side)
    run.rows.push({
      stationMm,
      name: jointNameAt(joints, stationMm),
      at,
      values: [a, b],
      // Pins that cross well and stand off a tape's hook always meet; were it not so, the tape itself is the error.
      errorMm: met === null ? Math.min(a.exact, b.exact) : pointDistance(met, at),
    })
  }
  const missed = targets.filter((_, i) => (chosen[i] ?? null) === null)
  const first = missed[0]
  if (groups.length === 0) return groupsRefuse({ kind: 'noCrossing' })
  return { ok: true, groups, notes: first ? [{ kind: 'noCrossing', stationMm: first.stationMm, rows: missed.length }] : [] }
}

function pairGroup({ a, b, side }: TiePair, rows: readonly SetoutRow[], request: SetoutRequest): SetoutGroup {
  return {
    base: { kind: 'pins', pins: [a, b], side },
    title: `Tape A from ${a.name}, tape B from ${b.name}; to the ${side} as you look from A to B`,
    facts: [{ column: columns.pinsApart, ...lengthValue(pointDistance(a, b), request.marks) }],
    columns: [columns.tieA, columns.tieB],
    rows,
  }
}

function pinsNear(pins: readonly FixedPoint[], points: readonly Point[]): readonly FixedPoint[] {
  if (pins.length <= PINS_MAX) return pins
  return pins
    .map((pin, i) => ({ pin, i, mm: points.reduce((least, at) => Math.min(least, pointDistance(pin, at)), Infinity) }))
    .toSorted((p, q) => p.mm - q.mm || p.i - q.i)
    .slice(0, PINS_MAX)
    .map(({ pin }) => pin)
}

/** A target that no pair reaches is passed over at this price, rad: only where nothing crosses well is it cheapest. */
const MISS_RAD = 1000

/** The pair for each target, null where none crosses well: the cheapest way through all of them, moving pins at a price. */
function pairsChosen(pins: readonly FixedPoint[], targets: readonly Target[], pinMoveRad: number): readonly (TiePair | null)[] {
  const pairs = pins.flatMap((_, i) => pins.slice(i + 1).map((__, j) => [i, i + 1 + j] as const))
  // One more state than pairs: no pair.
  const none = pairs.length
  const cost = new Float64Array(none + 1)
  const cameFrom: Int32Array[] = []
  for (const [t, target] of targets.entries()) {
    let cheapest = 0
    for (let p = 1; p <= none; p += 1) if ((cost[p] ?? 0) < (cost[cheapest] ?? 0)) cheapest = p
    const change = (cost[cheapest] ?? 0) + (t === 0 ? 0 : pinMoveRad)
    const from = new Int32Array(none + 1)
    for (let p = 0; p <= none; p += 1) {
      const kept = cost[p] ?? 0
      const [i, j] = pairs[p] ?? [-1, -1]
      from[p] = kept <= change ? p : cheapest
      cost[p] = Math.min(kept, change) + (p === none ? MISS_RAD : departure(target.toPin[i] ?? null, target.toPin[j] ?? null))
    }
    cameFrom.push(from)
  }
  let state = 0
  for (let p = 1; p <= none; p += 1) if ((cost[p] ?? 0) < (cost[state] ?? 0)) state = p
  const chosen: (TiePair | null)[] = []
  for (const [t, from] of [...cameFrom.entries()].toReversed()) {
    const [i, j] = pairs[state] ?? [-1, -1]
    const a = pins[i]
    const b = pins[j]
    const at = targets[t]?.at
    chosen.push(a && b && at ? { a, b, side: tieSide(a, b, at) } : null)
    state = from[state] ?? none
  }
  return chosen.toReversed()
}

/** What a pair costs at one point, rad: its crossing's departure from square, and the tape; infinite when it is too flat. */
function departure(a: Tape | null, b: Tape | null): number {
  if (a === null || b === null) return Infinity
  const crossing = crossingRad(a.rad, b.rad)
  if (crossing < CROSSING_LEAST_RAD || crossing > CROSSING_MOST_RAD) return Infinity
  return Math.abs(crossing - Math.PI / 2) + (a.mm + b.mm) * TAPE_RAD_PER_MM
}
