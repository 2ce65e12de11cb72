import { STRAIGHT_RAD } from '../corner.ts'
import { fieldPlaceAt } from './corridor.ts'
import type { CorridorField } from './corridor.ts'
import { shapePoseAt, sideBehind } from './design.ts'
import type { Design, Frame, Shape, ShapePlace } from './design.ts'
import { selfPairs } from './self.ts'
import type { SelfPair } from './self.ts'

/** A place of the line with its slack to the corridor and how that changes by the mm along. */
export interface Sample {
  readonly place: ShapePlace
  readonly x: number
  readonly y: number
  readonly headingRad: number
  readonly slackMm: number
  readonly slope: number
  /** Along the line, counted over the pieces that have a length, mm. */
  readonly stationMm: number
}

/** How good a design is. */
export interface Measure {
  /** Largest curvature of any curve that may change, 1/mm. */
  readonly sharpest: number
  /** Sum of their curvatures, 1/mm: half the curvature variation. */
  readonly sum: number
  /** By how much the worst of all limits is broken, mm; 0: none is. */
  readonly brokenMm: number
  /** What is left of every side, held stretch and arc, mm; negative: it does not fit. */
  readonly rooms: readonly number[]
  readonly samples: readonly Sample[]
  /** Where the line runs beside itself. */
  readonly pairs: readonly SelfPair[]
}

/**
 * What is left, mm, in a fixed order: of each side between its curves, of each held stretch before and behind it, and of each arc
 * between its easements. A straight PI has no arc and wants none.
 */
export function shapeRooms(frame: Frame, design: Design, shape: Shape): readonly number[] {
  const rooms: number[] = []
  const count = design.corners.length
  for (const [i, side] of shape.sides.entries()) {
    const before = shape.corners[frame.isClosed && i === 0 ? count - 1 : i - 1]
    const outMm = before?.tangentOutMm ?? 0
    const inMm = shape.corners[i]?.tangentInMm ?? 0
    rooms.push(side.lengthMm - outMm - inMm)
    const line = design.lines[i] ?? null
    if (line !== null && line.toMm > line.fromMm) {
      const alongMm = (side.from.x - line.at.x) * line.ux + (side.from.y - line.at.y) * line.uy
      rooms.push(line.fromMm - alongMm - outMm, alongMm + side.lengthMm - inMm - line.toMm)
    }
  }
  for (const corner of shape.corners) rooms.push(corner.arcMm)
  return rooms
}

/** Slack of a place of a shape. */
function sampleAt(shape: Shape, place: ShapePlace, field: CorridorField, stationMm: number): Sample | null {
  const pose = shapePoseAt(shape, place)
  if (pose === null) return null
  const { slackMm, awayX, awayY } = fieldPlaceAt(field, pose.x, pose.y)
  return { place, ...pose, slackMm, slope: awayX * Math.cos(pose.headingRad) + awayY * Math.sin(pose.headingRad), stationMm }
}

/** Pieces of a shape that have a length: tangents, and the parts of each curve; in the order of the line. */
function shapePieces(
  frame: Frame,
  shape: Shape,
): readonly { readonly lengthMm: number; readonly placeAt: (share: number) => ShapePlace }[] {
  const count = shape.corners.length
  return shape.sides.flatMap((side, i) => {
    const before = shape.corners[frame.isClosed && i === 0 ? count - 1 : i - 1]
    const corner = shape.corners[i]
    const from = (before?.tangentOutMm ?? 0) / side.lengthMm
    const to = 1 - (corner?.tangentInMm ?? 0) / side.lengthMm
    const pieces = [
      {
        lengthMm: (to - from) * side.lengthMm,
        placeAt: (share: number): ShapePlace => ({ kind: 'side', side: i, share: from + share * (to - from) }),
      },
    ]
    if (corner !== undefined) {
      for (const [part, lengthMm] of [
        [0, corner.into.lengthMm],
        [1, corner.arcMm],
        [2, corner.out.lengthMm],
      ] as const)
        pieces.push({ lengthMm, placeAt: (share) => ({ kind: 'corner', corner: i, part, share }) })
    }
    return pieces.filter((piece) => piece.lengthMm > 0 && Number.isFinite(piece.lengthMm))
  })
}

/** Share of the corridor's reach within which the line looks for its own other parts: a step of both leads no farther. */
const SELF_REACH = 0.5

/** Halvings in which the lowest place between two samples is looked for: a thousandth of the step. */
const DIP_HALVINGS = 10

/** Samples at most a step apart, with one more wherever the slack may dip below zero between two of them. */
function shapeSamples(frame: Frame, shape: Shape, field: CorridorField, stepMm: number): readonly Sample[] {
  const samples: Sample[] = []
  let pieceMm = 0
  for (const { lengthMm, placeAt } of shapePieces(frame, shape)) {
    const at = (share: number): Sample | null => sampleAt(shape, placeAt(share), field, pieceMm + share * lengthMm)
    const steps = Math.max(1, Math.ceil(lengthMm / stepMm))
    let before: Sample | null = null
    for (let i = 0; i <= steps; i++) {
      const sample = at(i / steps)
      if (sample === null) continue
      const dip = before === null ? null : dipBetween(at, [(i - 1) / steps, i / steps], [before, sample], lengthMm / steps)
      if (dip !== null) samples.push(dip)
      samples.push(sample)
      before = sample
    }
    pieceMm += lengthMm
  }
  return samples
}

function dipBetween(
  at: (share: number) => Sample | null,
  [from, to]: readonly [number, number],
  [first, last]: readonly [Sample, Sample],
  gapMm: number,
): Sample | null {
  // The slack falls no faster than the line runs, so it cannot come below zero from here.
  if (first.slackMm + last.slackMm > gapMm || first.slope >= 0 || last.slope <= 0) return null
  let low = from
  let high = to
  let best: Sample | null = null
  for (let i = 0; i < DIP_HALVINGS; i++) {
    const middle = (low + high) / 2
    const sample = at(middle)
    if (sample === null) return best
    if (best === null || sample.slackMm < best.slackMm) best = sample
    if (sample.slope < 0) low = middle
    else high = middle
  }
  return best
}

/** Measures a design, the corridor and the line's own other parts looked at every step. */
export function designMeasure(frame: Frame, design: Design, shape: Shape, field: CorridorField, stepMm: number): Measure {
  const rooms = shapeRooms(frame, design, shape)
  const samples = shapeSamples(frame, shape, field, stepMm)
  let brokenMm = 0
  for (const room of rooms) brokenMm = Math.max(brokenMm, -room)
  for (const { slackMm } of samples) brokenMm = Math.max(brokenMm, -slackMm)
  const lengthMm = frame.isClosed ? (samples.at(-1)?.stationMm ?? 0) : Infinity
  const pairs = selfPairs(samples, frame.selfKeepMm, SELF_REACH * field.reachMm, stepMm, lengthMm)
  for (const { distanceMm } of pairs) brokenMm = Math.max(brokenMm, frame.selfKeepMm - distanceMm)
  let sharpest = 0
  let sum = 0
  for (const [i, { turnRad, curvature }] of shape.corners.entries()) {
    if (Math.abs(turnRad) < STRAIGHT_RAD || design.corners[i]?.isHeld === true) continue
    sharpest = Math.max(sharpest, curvature)
    sum += curvature
  }
  return { sharpest, sum, brokenMm, rooms, samples, pairs }
}

/** Corners whose curve a sample's position depends on, and none else. */
export function sampleDependsOn(frame: Frame, count: number, place: ShapePlace, corner: number): boolean {
  if (place.kind === 'side') return place.side === corner || place.side === sideBehind(frame, count, corner)
  const apart = Math.abs(place.corner - corner)
  return apart <= 1 || (frame.isClosed && apart === count - 1)
}
