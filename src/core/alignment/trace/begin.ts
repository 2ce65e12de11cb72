import { angleWrap, pointDistance } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { DesignCorner } from '../fair/design.ts'
import type { Profile, Stretch } from './heading.ts'

/** A tangent of the line to be: a point on it and its direction. */
interface Tangent {
  readonly at: Point
  readonly headingRad: number
}

/** Stretches of one hand that follow each other. */
interface Run {
  readonly stretches: readonly Stretch[]
  readonly hand: -1 | 1
}

/** What the first look gives: both ends and the corners between. */
export interface Beginning {
  readonly start: Point
  readonly end: Point
  readonly corners: readonly DesignCorner[]
}

/** A straight stretch between two curves of one hand is an accident of cutting when it is no longer than so many chords. */
const ACCIDENT_CHORDS = 2.5

/** One corner turns at most this much, rad; more is shared among several. */
const MOST_TURN_RAD = 1.9

/** A corner that turns less than this, rad, is not worth having. */
const LEAST_TURN_RAD = 1e-3

/**
 * First corners from the stretches of a heading profile: where the tangents before and behind each run of one hand cross. isFine: each
 * stretch that bends has a corner of its own.
 */
export function traceBeginning(profile: Profile, stretches: readonly Stretch[], isFine = false): Beginning {
  const first = stretches[0]
  const last = stretches.at(-1)
  const chordMm = ((profile.stationsMm.at(-1) ?? 0) - (profile.stationsMm[0] ?? 0)) / Math.max(1, profile.stationsMm.length - 1)
  const parts = partsOf(stretches, ACCIDENT_CHORDS * chordMm, isFine)
  const ends: [Point, Point] = [knotAt(profile, first?.fromMm ?? 0), knotAt(profile, last?.toMm ?? 0)]
  const corners: DesignCorner[] = []
  let before: Tangent | null = null
  for (const [i, part] of parts.entries()) {
    if (part.kind === 'straight') {
      before = straightTangent(profile, part.stretch)
      continue
    }
    const { run } = part
    const next = parts[i + 1]
    const from: Tangent = before ?? tangentAt(profile, run.stretches[0], 'from')
    const to: Tangent = next?.kind === 'straight' ? straightTangent(profile, next.stretch) : tangentAt(profile, run.stretches.at(-1), 'to')
    corners.push(...runCorners(profile, run, from, to))
    before = to
  }
  return { start: ends[0], end: ends[1], corners }
}

type Part = { readonly kind: 'straight'; readonly stretch: Stretch } | { readonly kind: 'run'; readonly run: Run }

function partsOf(stretches: readonly Stretch[], accidentMm: number, isFine: boolean): readonly Part[] {
  const parts: Part[] = []
  for (const [i, stretch] of stretches.entries()) {
    const open = parts.at(-1)
    const next = stretches[i + 1]
    const hand =
      stretch.hand === 0 && stretch.toMm - stretch.fromMm <= accidentMm && open?.kind === 'run' && open.run.hand === next?.hand
        ? open.run.hand
        : stretch.hand
    if (hand === 0) parts.push({ kind: 'straight', stretch })
    else if (!isFine && open?.kind === 'run' && open.run.hand === hand)
      parts[parts.length - 1] = { kind: 'run', run: { hand, stretches: [...open.run.stretches, stretch] } }
    else parts.push({ kind: 'run', run: { hand, stretches: [stretch] } })
  }
  return parts
}

/** Point of the knots' polyline at a distance along it. */
function knotAt({ knots }: Profile, alongMm: number): Point {
  let leftMm = alongMm
  for (const [i, b] of knots.entries()) {
    const a = knots[i - 1]
    if (a === undefined) continue
    const chordMm = pointDistance(a, b)
    if (leftMm <= chordMm || i + 1 === knots.length) {
      const share = chordMm === 0 ? 0 : Math.max(0, leftMm / chordMm)
      return { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) }
    }
    leftMm -= chordMm
  }
  return knots[0] ?? { x: 0, y: 0 }
}

function straightTangent(profile: Profile, { fromMm, toMm, headingRad }: Stretch): Tangent {
  const looks = 5
  const sum = { x: 0, y: 0 }
  for (let i = 0; i < looks; i++) {
    const { x, y } = knotAt(profile, fromMm + ((toMm - fromMm) * (i + 0.5)) / looks)
    sum.x += x / looks
    sum.y += y / looks
  }
  return { at: sum, headingRad }
}

/** Where a curved stretch begins or ends, with its heading there. */
function tangentAt(profile: Profile, stretch: Stretch | undefined, which: 'from' | 'to'): Tangent {
  if (stretch === undefined) return { at: knotAt(profile, 0), headingRad: 0 }
  const half = (stretch.curvature * (stretch.toMm - stretch.fromMm)) / 2
  return which === 'from'
    ? { at: knotAt(profile, stretch.fromMm), headingRad: stretch.headingRad - half }
    : { at: knotAt(profile, stretch.toMm), headingRad: stretch.headingRad + half }
}

function runCorners(profile: Profile, { stretches, hand }: Run, from: Tangent, to: Tangent): readonly DesignCorner[] {
  const turn = to.headingRad - from.headingRad
  const first = stretches[0]
  const last = stretches.at(-1)
  if (first === undefined || last === undefined || turn * hand < LEAST_TURN_RAD) return []
  const count = Math.ceil(Math.abs(turn) / MOST_TURN_RAD)
  const turnOf = (stretch: Stretch): number => Math.abs(stretch.curvature) * (stretch.toMm - stretch.fromMm)
  const main = stretches.reduce((best, stretch) => (turnOf(stretch) > turnOf(best) ? stretch : best), first)
  const radiusMm = 1 / Math.abs(main.curvature)
  const lengthMm = last.toMm - first.fromMm
  const tangents = Array.from({ length: count + 1 }, (_, i): Tangent => {
    if (i === 0) return from
    if (i === count) return to
    return { at: knotAt(profile, first.fromMm + (lengthMm * i) / count), headingRad: from.headingRad + (turn * i) / count }
  })
  // A curve with easements is longer than its arc alone by half of both. None at all would never be looked for.
  const arcMm = radiusMm * Math.abs(turn)
  const easementMm = Math.min(Math.max(LEAST_EASEMENT * arcMm, lengthMm - arcMm), (MOST_EASEMENT * arcMm) / count)
  return tangents.slice(1).flatMap((next, i) => {
    const before = tangents[i]
    const at = before && meeting(before, next)
    return at ? [traceCorner(at, radiusMm, i === 0 ? easementMm : 0, i + 1 === count ? easementMm : 0)] : []
  })
}

/** An easement is at first at least and at most this part of the arc that the corner would have without. */
const LEAST_EASEMENT = 0.08
const MOST_EASEMENT = 0.7

function meeting(a: Tangent, b: Tangent): Point | null {
  const across = Math.sin(angleWrap(b.headingRad - a.headingRad))
  if (Math.abs(across) < LEAST_TURN_RAD / 2) return null
  const along = ((b.at.x - a.at.x) * Math.sin(b.headingRad) - (b.at.y - a.at.y) * Math.cos(b.headingRad)) / across
  return { x: a.at.x + along * Math.cos(a.headingRad), y: a.at.y + along * Math.sin(a.headingRad) }
}

export function traceCorner(at: Point, radiusMm: number, easementIn: number, easementOut: number): DesignCorner {
  return { source: { id: null, x: at.x, y: at.y, radiusMm, easementIn, easementOut }, at, curvature: 1 / radiusMm, isHeld: false }
}
