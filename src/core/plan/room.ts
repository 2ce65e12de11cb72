import type { Point } from '../geom/types.ts'
import type { Id } from './types.ts'

// The room as it was measured, the wood in it, and what stands or opens there. Lengths mm.

/** Walls as they were measured; a polyline, drawn with its thickness to the right of its direction. */
export interface Wall {
  readonly id: Id
  readonly name: string
  readonly points: readonly Point[]
  readonly thicknessMm: number
  readonly isClosed: boolean
}

/** A post, chimney or furnace, or a pipe that hangs low: a closed outline that nothing may enter. */
export interface Obstacle {
  readonly id: Id
  readonly name: string
  readonly outline: readonly Point[]
  /** From the floor to where it begins; 0: it stands on the floor. */
  readonly undersideMm: number
}

/** A piece of benchwork: outline with holes, each a ring of three or more points without repetition of the first. */
export interface Benchwork {
  readonly id: Id
  readonly name: string
  readonly outline: readonly Point[]
  readonly holes: readonly (readonly Point[])[]
  readonly heightMm: number
}

/** The leaf of a door: hinged where the opening begins or ends along its wall, and the side of the wall's direction to which it opens. */
export interface DoorLeaf {
  readonly hinge: 'from' | 'to'
  readonly side: 'left' | 'right'
}

/** A door, a passage or a window in a wall: from so far along the wall's line. */
export interface Opening {
  readonly id: Id
  readonly name: string
  readonly wall: Id
  readonly fromMm: number
  readonly widthMm: number
  /** null: a passage, or a window. */
  readonly leaf: DoorLeaf | null
  /** From the floor to the sill of a window; null: open down to the floor. */
  readonly sillMm: number | null
}

/** A place within the benchwork where a person can stand up. */
export interface Hatch {
  readonly id: Id
  readonly name: string
  readonly outline: readonly Point[]
}

/** Timber under the deck, or a riser: nothing can be drilled through it or hung under it. */
export interface Joist {
  readonly id: Id
  readonly name: string
  readonly from: Point
  readonly to: Point
  readonly widthMm: number
}

/** An opening that a track runs through: a portal, a hole in a wall, a girder bridge. Sides as seen along the track, from its centreline. */
export interface Portal {
  readonly id: Id
  readonly name: string
  readonly track: Id
  /** Where it begins. */
  readonly stationMm: number
  readonly lengthMm: number
  readonly leftMm: number
  readonly rightMm: number
  readonly heightMm: number
}
