import { benchBack, freePlaceIn, roomCorners, shelfAlong, squarePlace } from '../../core/room/index.ts'
import type { BackPlace, InnerCorner, RoomCorner, Shelf } from '../../core/room/index.ts'
import { boxOfPoints } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { Plan } from '../../core/plan/types.ts'
import { nextName } from '../../tools/index.ts'
import type { Stores } from '../context.ts'
import { planBoxNow } from '../planBox.ts'
import { planEdit } from '../planEdit.ts'
import { viewportFit } from '../viewportShow.ts'

/** Benchwork by its sizes, before it stands anywhere. One leg: a table; two an L, three a U. */
export interface BenchHeld {
  readonly word: string
  readonly lengthsMm: readonly number[]
  readonly depthsMm: readonly number[]
  readonly inner: InnerCorner
  readonly heightMm: number
  /** The way that the leg behind its corner goes where it stands in no corner of the room. */
  readonly alongRad: number
}

export function benchOutline({ lengthsMm, depthsMm, inner }: BenchHeld, place: BackPlace): Shelf {
  return shelfAlong(benchBack(lengthsMm, place), { side: 'left', depthMm: depthsMm, inner })
}

/** A corner of a room, and the wall that has it. */
export interface NamedCorner {
  readonly key: string
  readonly wall: string
  readonly corner: RoomCorner
}

export function cornersOfPlan(plan: Plan): readonly NamedCorner[] {
  return Object.values(plan.walls).flatMap(({ id, name, points, isClosed }) =>
    roomCorners(points, isClosed).map((corner) => ({ key: `${id} ${corner.point}`, wall: name, corner })),
  )
}

/** Where a corner at that point stands: along the walls where it is a corner of the room, else as it is held. */
export function placeAt(plan: Plan, held: BenchHeld, at: Point): BackPlace {
  const there = cornersOfPlan(plan).find(({ corner }) => corner.at.x === at.x && corner.at.y === at.y)
  return there === undefined ? squarePlace(at, held.alongRad) : placeInCorner(there.corner, held.lengthsMm)
}

/** Half a millimetre: a back as long as its wall as far as a tape can say. */
const SAME_MM = 0.5

/** The third leg of a U follows the room only where the back fills its wall. */
export function placeInCorner(corner: RoomCorner, lengthsMm: readonly number[]): BackPlace {
  const isFull = Math.abs((lengthsMm[1] ?? 0) - corner.wallsMm[1]) <= SAME_MM
  return isFull ? corner : { ...corner, endInsideRad: Math.PI / 2 }
}

/** Beside what is there, so that two pieces do not lie on each other: in a room that has space for it, else right of all. */
export function placeBeside(stores: Stores, held: BenchHeld): BackPlace {
  const flat = squarePlace({ x: 0, y: 0 }, held.alongRad)
  const shelf = benchOutline(held, flat)
  const box = shelf.ok ? boxOfPoints(shelf.outline) : null
  if (box === null) return flat
  const { benchworks, walls } = stores.plan.getState().plan
  const benches = Object.values(benchworks).map(({ outline }) => outline)
  const size = { longMm: box.maxX - box.minX, deepMm: box.maxY - box.minY }
  const rooms = Object.values(walls).filter(({ isClosed }) => isClosed)
  const inRoom = rooms.map(({ points }) => freePlaceIn(points, benches, size)).find((place) => place !== null)
  const whole = planBoxNow(stores)
  const low = inRoom ?? { x: whole === null ? 0 : whole.maxX + 300, y: whole?.minY ?? 0 }
  return squarePlace({ x: low.x - box.minX, y: low.y - box.minY }, held.alongRad)
}

/** Puts it into the plan in one step and shows the whole; what is wrong in words, or null. */
export function benchAdd(stores: Stores, held: BenchHeld, outline: readonly Point[]): string | null {
  const pieces = Object.values(stores.plan.getState().plan.benchworks)
  const name = pieces.length > 0 ? nextName(held.word, pieces) : held.word
  const { added, problem } = planEdit(stores, { kind: 'benchwork.add', record: { name, outline, holes: [], heightMm: held.heightMm } })
  if (added === null) return problem
  stores.session.getState().select({ kind: 'record', table: 'benchworks', id: added })
  const whole = planBoxNow(stores)
  if (whole !== null) viewportFit(stores, whole)
  return null
}
