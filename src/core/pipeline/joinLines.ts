import { joinFound } from '../alignment/index.ts'
import type { JoinAlternative, JoinFound, JoinLimits, JoinProblem, JoinStop, JoinTarget } from '../alignment/index.ts'
import { trialFindings } from '../checks/index.ts'
import type { Finding } from '../checks/types.ts'
import { pathNearest, pathPoseAt, pointDistance, poseAhead } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import { turnoutPlacesOn, turnoutPlacesThere, turnoutSetAtPlace } from '../network/index.ts'
import type { NoPlaceThere, TurnoutPlace } from '../network/index.ts'
import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { Id, LineClass, Plan } from '../plan/types.ts'
import type { TurnoutProblem } from '../turnout/types.ts'
import { joinAhead, joinFromStart } from './joinAhead.ts'
import { isSameEnd, openEnds } from './joinEnds.ts'
import type { JoinTo, PosedEnd } from './joinEnds.ts'
import { classShort } from './joinShort.ts'
import type { ClassShort } from './joinShort.ts'
import type { Derived } from './types.ts'

/** A line that joins. place: the turnout that it would come in at, when it ends on a track. */
export interface JoinLine {
  readonly line: JoinAlternative
  readonly place: TurnoutPlace | null
  /** What the plan's checks would say of it: off the benchwork, near its edge, too near to another track. null: not looked at yet. */
  readonly findings: readonly Finding[] | null
  /** What its class asks and it has not, though nothing more was asked of it here: the checks will tell it. */
  readonly short: readonly ClassShort[]
}

export type JoinPlanProblem =
  | JoinProblem
  /** The end to be reached is not open, or what it belongs to cannot be solved. */
  | { readonly kind: 'notOpen' }
  /** No such turnout can be built for the track that is to be reached. */
  | { readonly kind: 'turnout'; readonly frog: number; readonly problem: TurnoutProblem }
  /** No free straight of the track is long enough for a turnout. */
  | { readonly kind: 'noPlace'; readonly track: Id }
  /** No turnout of either hand can have its points at the station that was asked for. */
  | { readonly kind: 'noPlaceThere'; readonly noPlace: NoPlaceThere }

export type JoinLines =
  | {
      readonly ok: true
      readonly lines: readonly JoinLine[]
      /** What stops the lines that the class asks for; empty when one keeps all limits. */
      readonly stopped: readonly JoinStop[]
    }
  | { readonly ok: false; readonly problem: JoinPlanProblem }

/** More are not told, and would only be worse. */
const TOLD_MOST = 8

/** So many are held against the room; a track offers dozens of places. */
const MEASURED_MOST = 16

/**
 * The lines that lead from an open end of a plan to another one, or to a track at a turnout placed there; at most eight.
 *
 * Units:      mm.
 * Domain:     a derived plan, an end of it, limits. frog: of a turnout placed; null: the usual one of the track's class.
 * Outcome:    those that keep the limits first, of these those that nothing stands against; then by largest minimum radius, then by
 *             length. Of lines that would lie on each other, nowhere farther apart than
 *             the gauge, one is told.
 * Throws:     never.
 */
export function joinLines(at: Pick<Derived, 'plan' | 'network'>, from: PosedEnd, to: JoinTo, ask: JoinAsk): JoinLines {
  const rounds = joinRounds(at, from, to, ask)
  let next = rounds.next()
  while (next.done !== true) next = rounds.next()
  return next.value
}

export interface JoinAsk {
  readonly limits: JoinLimits
  /** Beside the widest lines between two ends those with curves of this radius are looked for, mm. */
  readonly besideRadiusMm?: number
  readonly frog: number | null
  readonly lineClass: LineClass
}

/**
 * Of the places that the end could have, so many were looked at; after the last one the lines are held against the room, one by one, which
 * takes longer than a pair of ends takes to solve. soFar: the lines as far as they are known, in the order of their worth.
 */
export interface JoinProgress {
  readonly done: number
  readonly of: number
  soFar(): JoinLines
}

/** joinLines place by place: a track with many straights takes the better part of a second, a place of it some ten milliseconds. */
export function* joinRounds(
  at: Pick<Derived, 'plan' | 'network'>,
  from: PosedEnd,
  to: JoinTo,
  ask: JoinAsk,
): Generator<JoinProgress, JoinLines, void> {
  const targets = targetsOf(at.network, to, ask.frog)
  if (!targets.ok) return targets
  const found: Found[] = []
  const of = targets.targets.length
  const soFar = (lines: readonly JoinLine[]): JoinLines => ({ ok: true, lines: lines.slice(0, TOLD_MOST), stopped: [] })
  const worth = (): readonly JoinLine[] => linesWorth(found, to, at.plan, ask.lineClass)
  const besideMm = to.kind === 'onTrack' ? null : (ask.besideRadiusMm ?? null)
  for (const [i, { target, place }] of targets.targets.entries()) {
    const answer = joinFound({ start: from.pose, target, limits: ask.limits })
    if (!answer.ok) return answer
    found.push({ answer, place, isAhead: false })
    const ahead = foundAhead(at.network, from, target, ask.limits, answer)
    if (ahead !== null) found.push({ answer: ahead, place, isAhead: true })
    if (besideMm !== null)
      found.push(...foundBeside(from, target, ask.limits, besideMm).map((beside) => ({ answer: beside, place, isAhead: false })))
    yield { done: i + 1, of, soFar: () => soFar(worth()) }
  }
  let lines = worth()
  for (const i of lines.keys()) {
    lines = lines.map((line, n) => (n === i ? lineHeld(line, at, from, to, ask.lineClass) : line))
    const now = lines
    yield { done: of, of, soFar: () => soFar(now) }
  }
  const isMet = lines.some(({ line }) => line.meetsLimits)
  return {
    ok: true,
    lines: lines.toSorted((a, b) => standing(a) - standing(b)).slice(0, TOLD_MOST),
    stopped: isMet ? [] : stopsLeast(found.flatMap(({ answer }) => answer.stops())),
  }
}

interface Found {
  readonly answer: Extract<JoinFound, { ok: true }>
  readonly place: TurnoutPlace | null
  /** Its lines begin to curve some way ahead of the leg: those that begin at it look alike, and are worth less. */
  readonly isAhead: boolean
}

/** The lines with curves of one radius, where none that wide was asked for. What stops them is told of the widest. */
function foundBeside({ pose }: PosedEnd, target: JoinTarget, limits: JoinLimits, radiusMm: number): readonly Found['answer'][] {
  if (radiusMm < limits.minRadiusMm || radiusMm >= (limits.mostRadiusMm ?? Infinity)) return []
  const answer = joinFound({ start: pose, target, limits: { ...limits, mostRadiusMm: radiusMm } })
  return answer.ok ? [{ ok: true, alternatives: answer.alternatives, stops: () => [] }] : []
}

/** From a leg whose curve goes the other way: lines that run straight on for what is asked between such curves; null: none are wanted. */
function foundAhead(
  network: Derived['network'],
  { end, pose }: PosedEnd,
  target: JoinTarget,
  limits: JoinLimits,
  { alternatives }: Found['answer'],
): Found['answer'] | null {
  const turnout = end.kind === 'leg' ? network.turnouts.get(end.turnout) : undefined
  if (end.kind !== 'leg' || turnout === undefined) return null
  const aheadMm = joinAhead(turnout, end.leg, alternatives, limits.tangentBetweenMm)
  if (aheadMm === 0) return null
  const answer = joinFound({ start: poseAhead(pose, aheadMm), target, limits })
  // What stops them is told of the lines that begin at the leg itself.
  return answer.ok
    ? { ok: true, alternatives: answer.alternatives.map((line) => joinFromStart(line, pose, aheadMm)), stops: () => [] }
    : null
}

/** The best of all lines, those that look alike once. */
function linesWorth(found: readonly Found[], to: JoinTo, plan: Plan, lineClass: LineClass): readonly JoinLine[] {
  const all = found
    .flatMap(({ answer, place, isAhead }) => answer.alternatives.map((line) => ({ line, place, isAhead })))
    .sort((a, b) => byWorth(a.line, b.line))
  // Where some place of a track keeps the limits, those that do not are of no use.
  const isUseful =
    to.kind === 'onTrack' && all.some(({ line }) => line.meetsLimits) ? ({ line }: Candidate) => line.meetsLimits : () => true
  return linesApart(all.filter(isUseful), plan.railway.gaugeMm, MEASURED_MOST).map(({ line, place }) => ({
    line,
    place,
    findings: null,
    short: classShort(line, lineClass, plan),
  }))
}

/** A line held against the room: with what stands against it. */
function lineHeld(
  one: JoinLine,
  { plan, network }: Pick<Derived, 'plan' | 'network'>,
  from: PosedEnd,
  to: JoinTo,
  lineClass: LineClass,
): JoinLine {
  const { line, place } = one
  const host = to.kind === 'onTrack' ? network.tracks.get(to.track) : undefined
  const start = from.end.kind === 'leg' ? (network.turnouts.get(from.end.turnout) ?? null) : null
  const end = arrivesAt(line, place, to, network, host)
  return { ...one, findings: trialFindings({ plan, network }, { path: line.path, lineClass, start, end }) }
}

type Targets =
  | { readonly ok: true; readonly targets: readonly { readonly target: JoinTarget; readonly place: TurnoutPlace | null }[] }
  | { readonly ok: false; readonly problem: JoinPlanProblem }

function targetsOf(network: Derived['network'], to: JoinTo, frog: number | null): Targets {
  if (to.kind !== 'onTrack') {
    const end = openEnds(network).find((one) => isSameEnd(one.end, to))
    if (end === undefined) return { ok: false, problem: { kind: 'notOpen' } }
    return { ok: true, targets: [{ target: { kind: 'pose', pose: end.pose }, place: null }] }
  }
  const host = network.tracks.get(to.track)
  if (host === undefined || !host.alignment.ok) return { ok: false, problem: { kind: 'notOpen' } }
  const number = frog ?? host.lineClass.usualFrog
  const targeted = (place: TurnoutPlace): { readonly target: JoinTarget; readonly place: TurnoutPlace } => ({
    target: { kind: 'along', ...place },
    place,
  })
  if (to.stationMm !== null) {
    const there = turnoutPlacesThere(network, host, number, to.stationMm)
    if (!there.ok) return { ok: false, problem: { kind: 'noPlaceThere', noPlace: there.noPlace } }
    return { ok: true, targets: there.places.map(targeted) }
  }
  const found = turnoutPlacesOn(network, host, number)
  if (!found.ok) return { ok: false, problem: { kind: 'turnout', frog: number, problem: found.problem } }
  if (found.places.length === 0) return { ok: false, problem: { kind: 'noPlace', track: to.track } }
  return { ok: true, targets: found.places.map(targeted) }
}

function arrivesAt(
  line: JoinAlternative,
  place: TurnoutPlace | null,
  to: JoinTo,
  network: Derived['network'],
  host: NetworkTrack | undefined,
): NetworkTurnout | null {
  if (to.kind === 'leg') return network.turnouts.get(to.turnout) ?? null
  return place === null || host === undefined ? null : turnoutSetAtPlace(place, host, line.stationMm ?? place.fromMm)
}

function byWorth(a: JoinAlternative, b: JoinAlternative): number {
  return (
    Number(b.meetsLimits) - Number(a.meetsLimits) || (b.minRadiusMm ?? Infinity) - (a.minRadiusMm ?? Infinity) || a.lengthMm - b.lengthMm
  )
}

/**
 * What nothing stands against comes first, then what turns from hand to hand within a car's length, then what has less than its class asks,
 * then what leaves the benchwork or meets a track; nearness to an edge is told and bars nothing.
 */
function standing({ line, findings, short }: JoinLine): number {
  if (!line.meetsLimits) return 4
  const found = findings ?? []
  const isReverse = ({ rule }: Finding): boolean => rule === 'reverse-curve'
  if (found.some((one) => !isReverse(one) && (one.severity === 'error' || one.problem?.kind === 'levelCrossing'))) return 3
  return short.length > 0 ? 2 : found.some(isReverse) ? 1 : 0
}

/** Places along a line that are compared. */
const COMPARED = 24

/** A line with fewer curves stands for one that looks alike if its radius is at least this part of the other's. */
const NO_WORSE = 0.99

interface Candidate extends Pick<Found, 'isAhead' | 'place'> {
  readonly line: JoinAlternative
}

/** Of lines that look alike one: the first, or a simpler one that is no worse. */
function linesApart<L extends Candidate>(lines: readonly L[], gaugeMm: number, most: number): readonly L[] {
  const apart: L[] = []
  for (const one of lines) {
    if (apart.length === most) break
    const at = apart.findIndex((other) => areAlike(one, other, gaugeMm))
    const other = apart[at]
    if (other === undefined) apart.push(one)
    else if (isSimpler(one.line, other.line)) apart[at] = one
  }
  return apart
}

function isSimpler(one: JoinAlternative, other: JoinAlternative): boolean {
  const [radius, otherRadius] = [one, other].map(({ minRadiusMm }) => minRadiusMm ?? Infinity)
  return one.hands.length < other.hands.length && one.meetsLimits === other.meetsLimits && (radius ?? 0) >= NO_WORSE * (otherRadius ?? 0)
}

/** Whether two lines would lie on each other: nowhere farther apart than the gauge, and of turnouts placed the same one. */
function areAlike(a: Candidate, b: Candidate, gaugeMm: number): boolean {
  if (a.isAhead !== b.isAhead) return false
  if (a.place?.hand !== b.place?.hand || a.place?.facing !== b.place?.facing) return false
  if (pointDistance(a.line.end, b.line.end) > gaugeMm || Math.abs(a.line.lengthMm - b.line.lengthMm) > LENGTHS_ALIKE * gaugeMm) return false
  return isBeside(a.line.path, b.line.path, gaugeMm) && isBeside(b.line.path, a.line.path, gaugeMm)
}

/** Lines within a gauge of each other that turn no more than a full circle differ by less than this in length, in gauges. */
const LENGTHS_ALIKE = 2 * Math.PI

function isBeside(path: Path, other: Path, gaugeMm: number): boolean {
  for (let i = 1; i < COMPARED; i++) {
    const { distanceMm } = pathNearest(other, pathPoseAt(path, (path.lengthMm * i) / COMPARED))
    if (distanceMm > gaugeMm) return false
  }
  return true
}

/** Of several places each limit is told once, where it gives way least. */
function stopsLeast(stops: readonly JoinStop[]): readonly JoinStop[] {
  const kept = (stop: JoinStop): number => (stop.limit === 'place' ? 0 : stop.nearestMm / stop.askedMm)
  const sorted = stops.toSorted((a, b) => kept(b) - kept(a))
  return sorted.filter((stop, i) => sorted.findIndex(({ limit }) => limit === stop.limit) === i)
}
