import { pointDot, pointSubtract, polygonContains } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import { recordFind } from '../../plan/index.ts'
import type { DoorLeaf, Opening, Plan } from '../../plan/types.ts'
import type { Cure, Finding } from '../types.ts'
import type { Solid } from './solids.ts'
import { openingPlace } from './walls.ts'
import type { OpeningPlace } from './walls.ts'

/** A door shall open as far as this. */
const OPEN_RAD = Math.PI / 2

/** What comes no nearer than this to the closed leaf, or to the circle of its edge, is not in its way, mm. */
const GRAZE_MM = 1

const ANGLE_ROUNDING_RAD = 1e-6

/** A leaf as it turns: from `along`, where it is shut, towards `open`. */
interface Leaf {
  readonly hinge: Point
  readonly along: Point
  readonly open: Point
  readonly lengthMm: number
}

/**
 * A door whose leaf meets benchwork, an obstacle or a wall before it is open at a right angle, and how far it opens.
 *
 * The cure hangs it otherwise, where so it opens all the way: on the other jamb if that will do, else to the other side.
 *
 * Exactness: the angle of the first edge in the sector, of a leaf without thickness, all but 1 mm at its edge and at the wall.
 *            Heights are not looked at: benchwork over which a low door would pass is none.
 * Source:    common practice, no source.
 */
export function doorSwing(opening: Opening, plan: Plan, solids: readonly Solid[]): readonly Finding[] {
  const place = openingPlace(opening, recordFind(plan, 'walls', opening.wall))
  if (place === null || opening.leaf === null) return []
  const first = firstMet(leafOf(place, opening.leaf), solids)
  if (first === null) return []
  const { table, record } = first.solid
  return [
    {
      id: `door-swing:${opening.id}`,
      rule: 'door-swing',
      severity: 'warning',
      stage: 'room',
      table: 'openings',
      record: opening.id,
      otherRecord: null,
      corner: null,
      stationFromMm: null,
      stationToMm: null,
      x: (place.from.x + place.to.x) / 2,
      y: (place.from.y + place.to.y) / 2,
      measured: first.angleRad,
      limit: OPEN_RAD,
      unit: 'rad',
      source: 'geometry',
      problem: { kind: 'doorMeets', by: { table, record } },
      cure: hungOtherwise(opening.id, opening.leaf, (leaf) => firstMet(leafOf(place, leaf), solids) === null),
    },
  ]
}

/** What a leaf meets first on its way to a right angle; null: nothing. */
function firstMet(leaf: Leaf, solids: readonly Solid[]): { readonly angleRad: number; readonly solid: Solid } | null {
  let first: { readonly angleRad: number; readonly solid: Solid } | null = null
  for (const solid of solids) {
    const angleRad = angleTo(leaf, solid)
    if (angleRad < OPEN_RAD - ANGLE_ROUNDING_RAD && (first === null || angleRad < first.angleRad)) first = { angleRad, solid }
  }
  return first
}

function hungOtherwise(opening: string, was: DoorLeaf, opensAll: (leaf: DoorLeaf) => boolean): Cure | null {
  const hinge = was.hinge === 'from' ? 'to' : 'from'
  const side = was.side === 'left' ? 'right' : 'left'
  const leaf = [
    { ...was, hinge },
    { ...was, side },
    { hinge, side },
  ].find((one): one is DoorLeaf => opensAll(one as DoorLeaf))
  return leaf === undefined ? null : { kind: 'hangDoor', opening, was, leaf }
}

function leafOf({ from, to, along, thicknessMm }: OpeningPlace, { hinge, side }: NonNullable<Opening['leaf']>): Leaf {
  const left = { x: -along.y, y: along.x }
  const isLeft = side === 'left'
  // The line of a wall is its left face.
  const faceMm = isLeft ? 0 : -thicknessMm
  const jamb = hinge === 'from' ? from : to
  const span = pointSubtract(to, from)
  return {
    hinge: { x: jamb.x + left.x * faceMm, y: jamb.y + left.y * faceMm },
    along: hinge === 'from' ? along : { x: -along.x, y: -along.y },
    open: isLeft ? left : { x: -left.x, y: -left.y },
    lengthMm: Math.hypot(span.x, span.y),
  }
}

/** How far the leaf opens before it meets a solid; Infinity: the solid is not in its way. */
function angleTo(leaf: Leaf, { table, rings }: Solid): number {
  const local = rings.map((ring) =>
    ring.map((point): Point => {
      const off = pointSubtract(point, leaf.hinge)
      return { x: pointDot(off, leaf.along), y: pointDot(off, leaf.open) }
    }),
  )
  const inFront = { x: leaf.lengthMm / 2, y: GRAZE_MM }
  const [outline = [], ...holes] = local
  const polygons = table === 'benchworks' ? [{ outline, holes }] : local.map((ring) => ({ outline: ring, holes: [] }))
  if (polygons.some((polygon) => polygonContains(polygon, inFront))) return 0
  let least = Infinity
  for (const ring of local) {
    for (const [i, b] of ring.entries()) {
      const a = ring.at(i - 1)
      if (a !== undefined) least = Math.min(least, edgeAngle(a, b, leaf.lengthMm - GRAZE_MM))
    }
  }
  return least
}

/** The least angle at which an edge lies within the radius and in front of the wall. Along an edge the angle only rises or falls. */
function edgeAngle(a: Point, b: Point, radiusMm: number): number {
  const run = pointSubtract(b, a)
  const square = pointDot(run, run)
  if (square === 0) return Infinity
  // Within the circle: |a + t run| <= radius.
  const half = pointDot(a, run) / square
  const root = half * half - (pointDot(a, a) - radiusMm * radiusMm) / square
  if (root <= 0) return Infinity
  let from = Math.max(0, -half - Math.sqrt(root))
  let to = Math.min(1, -half + Math.sqrt(root))
  // In front of the wall: y >= graze.
  if (run.y === 0 && a.y < GRAZE_MM) return Infinity
  const meets = (GRAZE_MM - a.y) / run.y
  if (run.y > 0) from = Math.max(from, meets)
  if (run.y < 0) to = Math.min(to, meets)
  if (from >= to) return Infinity
  const angleAt = (t: number): number => Math.atan2(a.y + t * run.y, a.x + t * run.x)
  return Math.min(angleAt(from), angleAt(to))
}
