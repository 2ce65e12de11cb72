import { joinSolve } from '../alignment/index.ts'
import type { JoinAlternative, JoinLimits, JoinProblem, JoinStop, JoinTarget } from '../alignment/index.ts'
import { trialFindings } from '../checks/index.ts'
import type { Finding } from '../checks/types.ts'
import { pathNearest, pathPoseAt, pointDistance } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import { turnoutPlacesOn, turnoutSetAtPlace } from '../network/index.ts'
import type { TurnoutPlace } from '../network/index.ts'
import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { Id, LineClass, Plan } from '../plan/types.ts'
import type { TurnoutProblem } from '../turnout/types.ts'
import { isSameEnd, openEnds } from './joinEnds.ts'
import type { JoinTo, PosedEnd } from './joinEnds.ts'
import type { Derived } from './types.ts'

/** A line that joins. place: the turnout that it would come in at, when it ends on a track. */
export interface JoinLine {
  readonly line: JoinAlternative
  readonly place: TurnoutPlace | null
  /** What the plan's checks would say of it: off the benchwork, near its edge, too near to another track. */
  readonly findings: readonly Finding[]
}

export type JoinPlanProblem =
  | JoinProblem
  /** The end to be reached is not open, or what it belongs to cannot be solved. */
  | { readonly kind: 'notOpen' }
  /** No such turnout can be built for the track that is to be reached. */
  | { readonly kind: 'turnout'; readonly frog: number; readonly problem: TurnoutProblem }
  /** No free straight of the track is long enough for a turnout. */
  | { readonly kind: 'noPlace'; readonly track: Id }

export type JoinLines =
  | {
      readonly ok: true
      readonly lines: readonly JoinLine[]
      /** What stops the lines that the class asks for; empty when one keeps all limits. */
      readonly stopped: readonly JoinStop[]
    }
  | { readonly ok: false; readonly problem: JoinPlanProblem }

/** What a line class asks of a join; tangentMm null: the longest car of the plan between reverses. */
export function joinLimits(plan: Plan, lineClass: LineClass, tangentMm: number | null): JoinLimits {
  const longestCarMm = Object.values(plan.vehicles).reduce((most, { bodyLengthMm }) => Math.max(most, bodyLengthMm), 0)
  return {
    minRadiusMm: lineClass.minRadiusMm,
    easement: lineClass.easement,
    shortestCurveMm: 0,
    tangentBetweenMm: tangentMm ?? longestCarMm,
    isBackToBackAllowed: true,
  }
}

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
export function joinLines(
  { plan, network }: Pick<Derived, 'plan' | 'network'>,
  from: PosedEnd,
  to: JoinTo,
  { limits, frog, lineClass }: { readonly limits: JoinLimits; readonly frog: number | null; readonly lineClass: LineClass },
): JoinLines {
  const targets = targetsOf(network, to, frog)
  if (!targets.ok) return targets
  const found: { readonly line: JoinAlternative; readonly place: TurnoutPlace | null }[] = []
  const stopped: JoinStop[] = []
  for (const { target, place } of targets.targets) {
    const answer = joinSolve({ start: from.pose, target, limits })
    if (!answer.ok) return answer
    found.push(...answer.alternatives.map((line) => ({ line, place })))
    stopped.push(...answer.stopped)
  }
  found.sort((a, b) => byWorth(a.line, b.line))
  const isMet = found.some(({ line }) => line.meetsLimits)
  // Where some place of a track keeps the limits, those that do not are of no use.
  const useful = isMet && to.kind === 'onTrack' ? found.filter(({ line }) => line.meetsLimits) : found
  const apart = linesApart(useful, plan.railway.gaugeMm).slice(0, MEASURED_MOST)
  const host = to.kind === 'onTrack' ? network.tracks.get(to.track) : undefined
  const findings = trialFindings(
    { plan, network },
    apart.map(({ line, place }) => ({
      path: line.path,
      lineClass,
      start: from.end.kind === 'leg' ? (network.turnouts.get(from.end.turnout) ?? null) : null,
      end: arrivesAt(line, place, to, network, host),
    })),
  )
  const lines = apart.map((one, i): JoinLine => ({ ...one, findings: findings[i] ?? [] }))
  return {
    ok: true,
    lines: lines.toSorted((a, b) => standing(a) - standing(b)).slice(0, TOLD_MOST),
    stopped: isMet ? [] : stopsLeast(stopped),
  }
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
  const found = turnoutPlacesOn(network, host, number)
  if (!found.ok) return { ok: false, problem: { kind: 'turnout', frog: number, problem: found.problem } }
  if (found.places.length === 0) return { ok: false, problem: { kind: 'noPlace', track: to.track } }
  return { ok: true, targets: found.places.map((place) => ({ target: { kind: 'along', ...place }, place })) }
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

/** What nothing stands against comes first; nearness to an edge is told and bars nothing. */
function standing({ line, findings }: JoinLine): number {
  if (!line.meetsLimits) return 2
  return findings.some(({ severity, problem }) => severity === 'error' || problem?.kind === 'levelCrossing') ? 1 : 0
}

/** Places along a line that are compared. */
const COMPARED = 24

/** A line with fewer curves stands for one that looks alike if its radius is at least this part of the other's. */
const NO_WORSE = 0.99

/** Of lines that look alike one: the first, or a simpler one that is no worse. */
function linesApart<L extends { readonly line: JoinAlternative; readonly place: TurnoutPlace | null }>(
  lines: readonly L[],
  gaugeMm: number,
): readonly L[] {
  const apart: L[] = []
  for (const one of lines) {
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
function areAlike(
  a: { readonly line: JoinAlternative; readonly place: TurnoutPlace | null },
  b: { readonly line: JoinAlternative; readonly place: TurnoutPlace | null },
  gaugeMm: number,
): boolean {
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
