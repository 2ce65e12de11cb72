import type { Point } from '../geom/types.ts'
import type {
  AnyRecord,
  Benchwork,
  Corner,
  Crossing,
  Guide,
  Hatch,
  Id,
  Joist,
  LineClass,
  Lock,
  Maker,
  Material,
  Obstacle,
  Opening,
  PlanTables,
  Portal,
  RailJoint,
  Railway,
  Reading,
  Silence,
  Stock,
  TableName,
  Tick,
  Track,
  TrackEnd,
  TrackStart,
  Turnout,
  Underlay,
  Vehicle,
  Wall,
} from '../plan/types.ts'

type New<R> = Omit<R, 'id'> & { readonly id?: Id }

/** Everything a person, a script or a test can do to a plan. `kind` is stable; words for people are in src/words. */
export type PlanCommand =
  | { readonly kind: 'railway.set'; readonly change: Partial<Railway> }
  | { readonly kind: 'lineClass.add'; readonly record: New<LineClass> }
  | { readonly kind: 'lineClass.set'; readonly id: Id; readonly change: Partial<Omit<LineClass, 'id'>> }
  | { readonly kind: 'vehicle.add'; readonly record: New<Vehicle> }
  | { readonly kind: 'vehicle.set'; readonly id: Id; readonly change: Partial<Omit<Vehicle, 'id'>> }
  | { readonly kind: 'wall.add'; readonly record: New<Wall> }
  | { readonly kind: 'wall.set'; readonly id: Id; readonly change: Partial<Omit<Wall, 'id'>> }
  | { readonly kind: 'obstacle.add'; readonly record: New<Obstacle> }
  | { readonly kind: 'obstacle.set'; readonly id: Id; readonly change: Partial<Omit<Obstacle, 'id'>> }
  | { readonly kind: 'benchwork.add'; readonly record: New<Benchwork> }
  | { readonly kind: 'benchwork.set'; readonly id: Id; readonly change: Partial<Omit<Benchwork, 'id'>> }
  /** ring -1: the outline; 0..: that hole. */
  | { readonly kind: 'benchwork.movePoint'; readonly id: Id; readonly ring: number; readonly index: number; readonly to: Point }
  | { readonly kind: 'benchwork.insertPoint'; readonly id: Id; readonly ring: number; readonly index: number; readonly at: Point }
  | { readonly kind: 'benchwork.removePoint'; readonly id: Id; readonly ring: number; readonly index: number }
  | { readonly kind: 'benchwork.addHole'; readonly id: Id; readonly ring: readonly Point[] }
  | { readonly kind: 'benchwork.removeHole'; readonly id: Id; readonly hole: number }
  | { readonly kind: 'opening.add'; readonly record: New<Opening> }
  | { readonly kind: 'opening.set'; readonly id: Id; readonly change: Partial<Omit<Opening, 'id'>> }
  | { readonly kind: 'hatch.add'; readonly record: New<Hatch> }
  | { readonly kind: 'hatch.set'; readonly id: Id; readonly change: Partial<Omit<Hatch, 'id'>> }
  | { readonly kind: 'joist.add'; readonly record: New<Joist> }
  | { readonly kind: 'joist.set'; readonly id: Id; readonly change: Partial<Omit<Joist, 'id'>> }
  | { readonly kind: 'portal.add'; readonly record: New<Portal> }
  | { readonly kind: 'portal.set'; readonly id: Id; readonly change: Partial<Omit<Portal, 'id'>> }
  | { readonly kind: 'material.add'; readonly record: New<Material> }
  | { readonly kind: 'material.set'; readonly id: Id; readonly change: Partial<Omit<Material, 'id'>> }
  | { readonly kind: 'stock.add'; readonly record: New<Stock> }
  | { readonly kind: 'stock.set'; readonly id: Id; readonly change: Partial<Omit<Stock, 'id'>> }
  | { readonly kind: 'railJoint.add'; readonly record: New<RailJoint> }
  | { readonly kind: 'railJoint.set'; readonly id: Id; readonly change: Partial<Omit<RailJoint, 'id'>> }
  | { readonly kind: 'tick.add'; readonly record: New<Tick> }
  | { readonly kind: 'tick.set'; readonly id: Id; readonly change: Partial<Omit<Tick, 'id'>> }
  | { readonly kind: 'guide.add'; readonly record: New<Guide> }
  | { readonly kind: 'guide.set'; readonly id: Id; readonly change: Partial<Omit<Guide, 'id'>> }
  | { readonly kind: 'reading.add'; readonly record: New<Reading> }
  | { readonly kind: 'reading.set'; readonly id: Id; readonly change: Partial<Omit<Reading, 'id'>> }
  | { readonly kind: 'underlay.add'; readonly record: New<Underlay> }
  | { readonly kind: 'underlay.set'; readonly id: Id; readonly change: Partial<Omit<Underlay, 'id'>> }
  | { readonly kind: 'lock.add'; readonly record: New<Lock> }
  | { readonly kind: 'silence.add'; readonly record: New<Silence> }
  | { readonly kind: 'silence.set'; readonly id: Id; readonly change: Partial<Omit<Silence, 'id'>> }
  | { readonly kind: 'track.add'; readonly record: New<Track> }
  | { readonly kind: 'track.set'; readonly id: Id; readonly change: Partial<Pick<Track, 'name' | 'lineClass'>> }
  | { readonly kind: 'track.setStart'; readonly id: Id; readonly start: TrackStart }
  | { readonly kind: 'track.setEnd'; readonly id: Id; readonly end: TrackEnd }
  | { readonly kind: 'corner.insert'; readonly track: Id; readonly index: number; readonly corner: New<Corner> }
  | { readonly kind: 'corner.set'; readonly track: Id; readonly corner: Id; readonly change: Partial<Omit<Corner, 'id'>> }
  | { readonly kind: 'corner.remove'; readonly track: Id; readonly corner: Id }
  | { readonly kind: 'turnout.add'; readonly record: New<Turnout> }
  | { readonly kind: 'turnout.set'; readonly id: Id; readonly change: Partial<Omit<Turnout, 'id'>> }
  | { readonly kind: 'crossing.add'; readonly record: New<Crossing> }
  | { readonly kind: 'crossing.set'; readonly id: Id; readonly change: Partial<Omit<Crossing, 'id'>> }
  /** A maker, new or with other numbers, and all that it makes: those of its records that are not among them any more go. */
  | {
      readonly kind: 'maker.write'
      readonly record: Omit<New<Maker>, 'made'>
      readonly tracks: readonly Track[]
      readonly turnouts: readonly Turnout[]
    }
  | { readonly kind: 'maker.set'; readonly id: Id; readonly change: Partial<Pick<Maker, 'name'>> }
  /** What it made stays, as if drawn by hand. */
  | { readonly kind: 'maker.takeApart'; readonly id: Id }
  /** Removes one record of any table; what depends on it goes too or is set free (see editApply). */
  | { readonly kind: 'remove'; readonly table: TableName; readonly id: Id }
  /** Several commands as one step of the person. */
  /** One step of the person. label null: it is called as its last command is, for which the others make way. */
  | { readonly kind: 'group'; readonly label: string | null; readonly commands: readonly PlanCommand[] }

/** One record before and after; null: not there. */
export interface RecordChange {
  readonly table: TableName
  readonly id: Id
  readonly before: AnyRecord | null
  readonly after: AnyRecord | null
}

/** A change of a plan that can be applied, inverted and squashed mechanically. */
export interface PlanPatch {
  readonly railway: { readonly before: Railway; readonly after: Railway } | null
  readonly records: readonly RecordChange[]
}

export type EditProblem =
  | { readonly kind: 'notFound'; readonly table: TableName; readonly id: Id }
  | { readonly kind: 'idTaken'; readonly table: TableName; readonly id: Id }
  /** A value that the document cannot hold: where, what it was, what would be right. */
  | { readonly kind: 'badValue'; readonly where: string; readonly value: unknown; readonly expected: string }
  | { readonly kind: 'inUse'; readonly table: TableName; readonly id: Id; readonly by: string }
  /** A maker decides this; its numbers can be changed, or it can be taken apart. */
  | { readonly kind: 'madeBy'; readonly table: 'tracks' | 'turnouts'; readonly id: Id; readonly maker: Id }
  /** The builder has locked it. */
  | { readonly kind: 'locked'; readonly table: TableName; readonly id: Id }

export type EditResult =
  | { readonly ok: true; readonly patch: PlanPatch /** Id of the record that an add made. */; readonly added: Id | null }
  | { readonly ok: false; readonly problem: EditProblem }

export type RecordOf<T extends TableName> = PlanTables[T]
