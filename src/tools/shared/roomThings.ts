import { pathPoseAt, pointDistance, pointLerp, polylineSides, poseOffset, segmentNearest, type Side } from '../../core/geom/index.ts'
import type { Path, Point, Pose } from '../../core/geom/types.ts'
import type { Joist, Opening, Portal, Wall } from '../../core/plan/types.ts'
import type { OpeningOf } from '../types.ts'

/* Where doors, joists and portals lie and what is seen of them, from the few numbers that the plan keeps. All in plan millimetres. */

type Shape = Pick<Wall, 'points' | 'thicknessMm' | 'isClosed'>

const wallSides = ({ points, isClosed }: Shape): readonly Side[] => polylineSides(points, isClosed)

const headingOf = ({ a, b }: Side): number => Math.atan2(b.y - a.y, b.x - a.x)

function sideAt(wall: Shape, alongMm: number): Side | null {
  const sides = wallSides(wall)
  return sides.find(({ startMm, lengthMm }) => alongMm <= startMm + lengthMm) ?? sides.at(-1) ?? null
}

/** The face of a wall at a length along it, heading as its points run; kept within its ends. Null: a wall without length. */
export function wallPoseAt(wall: Shape, alongMm: number): Pose | null {
  const side = sideAt(wall, alongMm)
  if (side === null) return null
  const share = Math.min(Math.max((alongMm - side.startMm) / side.lengthMm, 0), 1)
  return { ...pointLerp(side.a, side.b, share), headingRad: headingOf(side) }
}

/** The place on a wall's face that is nearest to a point. Null: a wall without length. */
export function wallNearest(wall: Shape, at: Point): { readonly alongMm: number; readonly distanceMm: number } | null {
  let best: { readonly alongMm: number; readonly distanceMm: number } | null = null
  for (const side of wallSides(wall)) {
    const near = segmentNearest(side.a, side.b, at)
    if (best !== null && near.distanceMm >= best.distanceMm) continue
    best = { alongMm: side.startMm + pointDistance(side.a, near.at), distanceMm: near.distanceMm }
  }
  return best
}

/** What an opening in a wall is. */
export function openingOf({ leaf, sillMm }: Pick<Opening, 'leaf' | 'sillMm'>): OpeningOf {
  return sillMm !== null ? 'window' : leaf === null ? 'passage' : 'door'
}

export const openingWord: { readonly [O in OpeningOf]: string } = { door: 'Door', passage: 'Passage', window: 'Window' }

/** The side of its wall that an opening is on: the one that its middle is on. Null: a wall without length. */
export function openingSide(wall: Shape, { fromMm, widthMm }: Pick<Opening, 'fromMm' | 'widthMm'>): Side | null {
  return sideAt(wall, fromMm + widthMm / 2)
}

/** Where an opening begins that should begin at `fromMm`: no door goes round a corner, so it is kept on the side that its middle is on. */
export function openingHeld(wall: Shape, fromMm: number, widthMm: number): number {
  const side = sideAt(wall, fromMm + widthMm / 2)
  if (side === null) return Math.max(fromMm, 0)
  return Math.max(Math.min(fromMm, side.startMm + side.lengthMm - widthMm), side.startMm)
}

/** Middle of the longest side of a wall, along it. */
export function wallMiddle(wall: Shape): number {
  const longest = wallSides(wall).reduce<Side | null>((best, side) => (best !== null && best.lengthMm >= side.lengthMm ? best : side), null)
  return longest === null ? 0 : longest.startMm + longest.lengthMm / 2
}

/** What an opening takes out of its wall, side by side. */
export function openingRings(wall: Shape, { fromMm, widthMm }: Pick<Opening, 'fromMm' | 'widthMm'>): readonly (readonly Point[])[] {
  return wallSides(wall).flatMap((side) => {
    const from = Math.max(fromMm, side.startMm)
    const to = Math.min(fromMm + widthMm, side.startMm + side.lengthMm)
    if (to <= from) return []
    const face = (alongMm: number): Pose => ({
      ...pointLerp(side.a, side.b, (alongMm - side.startMm) / side.lengthMm),
      headingRad: headingOf(side),
    })
    const [start, end] = [face(from), face(to)]
    return [[start, end, poseOffset(end, -wall.thicknessMm), poseOffset(start, -wall.thicknessMm)].map(({ x, y }) => ({ x, y }))]
  })
}

/** A door as a building plan has it: the leaf wide open, and the quarter of a circle that its edge runs along. */
export interface LeafPicture {
  readonly leaf: readonly [Point, Point]
  readonly arc: readonly Point[]
}

const arcSteps = 16

/** The leaf hangs in the face of the wall that it opens to. Null: a passage. */
export function openingLeaf(wall: Shape, { fromMm, widthMm, leaf }: Pick<Opening, 'fromMm' | 'widthMm' | 'leaf'>): LeafPicture | null {
  if (leaf === null) return null
  const face = wallPoseAt(wall, leaf.hinge === 'from' ? fromMm : fromMm + widthMm)
  if (face === null) return null
  const hinge = leaf.side === 'left' ? face : poseOffset(face, -wall.thicknessMm)
  const shutRad = leaf.hinge === 'from' ? face.headingRad : face.headingRad + Math.PI
  const openRad = face.headingRad + (leaf.side === 'left' ? Math.PI / 2 : -Math.PI / 2)
  const turnRad = Math.atan2(Math.sin(openRad - shutRad), Math.cos(openRad - shutRad))
  const edge = (rad: number): Point => ({ x: hinge.x + widthMm * Math.cos(rad), y: hinge.y + widthMm * Math.sin(rad) })
  const arc = Array.from({ length: arcSteps + 1 }, (_, i) => edge(shutRad + (turnRad * i) / arcSteps))
  return { leaf: [{ x: hinge.x, y: hinge.y }, edge(openRad)], arc }
}

/** A joist from above; nothing where it has no length. */
export function joistRing({ from, to, widthMm }: Pick<Joist, 'from' | 'to' | 'widthMm'>): readonly Point[] {
  const lengthMm = pointDistance(from, to)
  if (lengthMm === 0) return []
  const [dx, dy] = [((from.y - to.y) / lengthMm) * (widthMm / 2), ((to.x - from.x) / lengthMm) * (widthMm / 2)]
  return [
    { x: from.x + dx, y: from.y + dy },
    { x: from.x - dx, y: from.y - dy },
    { x: to.x - dx, y: to.y - dy },
    { x: to.x + dx, y: to.y + dy },
  ]
}

/** Sides of a portal follow the track in steps of this. */
const portalStepMm = 20

/** Both sides of a portal, each from the face that is met first to the other one. Beyond the ends of its track it is cut off. */
export function portalSides(
  path: Path,
  isClosed: boolean,
  { stationMm, lengthMm, leftMm, rightMm }: Pick<Portal, 'stationMm' | 'lengthMm' | 'leftMm' | 'rightMm'>,
): { readonly left: readonly Point[]; readonly right: readonly Point[] } {
  const count = Math.min(Math.max(Math.ceil(lengthMm / portalStepMm), 1), 200)
  const around = (mm: number): number =>
    isClosed ? ((mm % path.lengthMm) + path.lengthMm) % path.lengthMm : Math.min(Math.max(mm, 0), path.lengthMm)
  const poses = Array.from({ length: count + 1 }, (_, i) => pathPoseAt(path, around(stationMm + (lengthMm * i) / count)))
  const side = (mm: number): readonly Point[] => poses.map((pose) => poseOffset(pose, mm)).map(({ x, y }) => ({ x, y }))
  return { left: side(leftMm), right: side(-rightMm) }
}
