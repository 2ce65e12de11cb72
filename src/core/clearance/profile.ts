import type { PathJump } from '../geom/index.ts'
import type { CurveElement, Path } from '../geom/types.ts'
import type { Span } from './types.ts'

/** jump: by how much it starts off from where the one before it ends, as straight points do; null at nearly all joints. */
export interface ZoneElement extends CurveElement {
  readonly jump: PathJump | null
}

/**
 * Something of a line that what stands on it feels: an element that bends more and more, a joint at which curvature or heading jumps, an end.
 * Elements first to last lie in it; none in a joint or an end.
 */
interface Change extends Span {
  readonly kind: 'bend' | 'joint' | 'start' | 'finish'
  readonly first: number
  readonly last: number
}

/** A stretch of a line over which what stands on it feels the same changes, by rising station; at least one. */
export interface Zone extends Span {
  readonly felt: readonly [Change, ...Change[]]
}

/**
 * A line on which nothing but the changes of a zone is felt: what lies before them and behind them goes on evenly. Told by lengths, curvatures and
 * jumps alone: the same wherever it lies in the plan and however long the line is evenly before and behind, so that a band once swept serves
 * for every bend of the kind, and for the next step of a drag.
 */
export interface ZoneLine {
  readonly elements: readonly ZoneElement[]
  /** Where on those elements all the changes begin to be felt, and over how much of them they all are. */
  readonly overMm: number
  readonly lengthMm: number
  /** The station of the line there, which may lie before its start. */
  readonly atMm: number
}

/** A path with the jumps before its elements. */
export interface JumpedPath {
  readonly path: Path
  readonly jumps: readonly (PathJump | null)[]
}

/**
 * The zones of a line: stations nearer to a change than a car is long. Between them cars stand on one curvature.
 *
 * Units:   mm. reachMm: how far along a change is felt.
 * Outcome: zones that touch at most, by rising station; none where nothing is felt but an end of straight line, which no car leaves.
 */
export function lineZones(line: JumpedPath, reachMm: number): readonly Zone[] {
  const { elements, lengthMm } = line.path
  const changes = changesOf(line)
  const isBent = ({ kind }: Change): boolean =>
    kind === 'start' ? elements[0]?.k0 !== 0 : kind === 'finish' ? elements.at(-1)?.k1 !== 0 : true
  const zones: Zone[] = []
  let [first, behind] = [0, 0]
  for (let fromMm = 0; fromMm < lengthMm; ) {
    while ((changes[behind]?.fromMm ?? Infinity) - reachMm <= fromMm) behind++
    while (first < behind && (changes[first]?.toMm ?? Infinity) + reachMm <= fromMm) first++
    const beginsMm = (changes[behind]?.fromMm ?? Infinity) - reachMm
    const endsMm = first < behind ? (changes[first]?.toMm ?? Infinity) + reachMm : Infinity
    const toMm = Math.min(lengthMm, beginsMm, endsMm)
    const [one, ...others] = changes.slice(first, behind)
    if (one !== undefined && [one, ...others].some(isBent)) zones.push({ fromMm, toMm, felt: [one, ...others] })
    fromMm = toMm
  }
  return zones
}

function changesOf({ path: { elements, lengthMm }, jumps }: JumpedPath): readonly Change[] {
  const changes: Change[] = [{ kind: 'start', fromMm: 0, toMm: 0, first: 0, last: -1 }]
  for (const [i, { startStationMm: fromMm, lengthMm: longMm, k0, k1 }] of elements.entries()) {
    const before = elements[i - 1]
    if (before !== undefined && (before.k1 !== k0 || jumps[i] !== null))
      changes.push({ kind: 'joint', fromMm, toMm: fromMm, first: i, last: i - 1 })
    if (k0 !== k1) changes.push({ kind: 'bend', fromMm, toMm: fromMm + longMm, first: i, last: i })
  }
  return [...changes, { kind: 'finish', fromMm: lengthMm, toMm: lengthMm, first: elements.length, last: elements.length - 1 }]
}

/**
 * The line of a zone, so much longer than the stretch over which all of its changes are felt as the cars over its ends stand on. Beyond an
 * end of the line nothing goes on.
 */
export function zoneLine({ path: { elements, lengthMm }, jumps }: JumpedPath, { felt }: Zone, reachMm: number): ZoneLine {
  const [one] = felt
  const other = felt.at(-1) ?? one
  const leadMm = one.kind === 'start' ? 0 : Math.max(0, 2 * reachMm - (other.fromMm - one.fromMm))
  const trailMm = other.kind === 'finish' ? 0 : Math.max(0, 2 * reachMm - (other.toMm - one.toMm))
  const [sinceMm, untilMm] = [other.fromMm - reachMm, one.toMm + reachMm]
  const atMm = one.kind === 'start' ? Math.max(0, sinceMm) : sinceMm
  const toMm = other.kind === 'finish' ? Math.min(lengthMm, untilMm) : untilMm
  const parts: ZoneElement[] = []
  const lay = (longMm: number, k0: number, k1: number, jump: PathJump | null): void => {
    const last = parts.at(-1)
    if (last !== undefined && jump === null && k0 === k1 && last.k0 === k0 && last.k1 === k0)
      parts[parts.length - 1] = { ...last, lengthMm: tidy(last.lengthMm + longMm) }
    else parts.push({ lengthMm: k0 === k1 ? tidy(longMm) : longMm, k0, k1, jump: last === undefined ? null : jumpTidy(jump) })
  }
  const even = (longMm: number, k: number, jump: PathJump | null): void => {
    if (longMm > 0) lay(longMm, k, k, jump)
  }
  even(leadMm, elements[one.first - 1]?.k1 ?? elements[one.first]?.k0 ?? 0, null)
  for (let i = one.first; i <= other.last; i++) {
    const element = elements[i]
    // A jump where a bend begins is felt no more where that bend is the first that is.
    const jump = i > one.first || one.kind === 'joint' ? (jumps[i] ?? null) : null
    if (element !== undefined) lay(element.lengthMm, element.k0, element.k1, jump)
  }
  const next = other.last + 1
  even(trailMm, elements[next]?.k0 ?? elements[other.last]?.k1 ?? 0, other.kind === 'joint' ? (jumps[next] ?? null) : null)
  return { elements: parts, overMm: tidy(atMm - (one.fromMm - leadMm)), lengthMm: tidy(toMm - atMm), atMm }
}

/** Lengths that differ by rounding are the same: a millionth of a millimetre moves no band. */
const tidy = (mm: number): number => Math.round(mm * 1e6) / 1e6

function jumpTidy(jump: PathJump | null): PathJump | null {
  return jump && { turnRad: Math.round(jump.turnRad * 1e9) / 1e9, aheadMm: tidy(jump.aheadMm), leftMm: tidy(jump.leftMm) }
}
