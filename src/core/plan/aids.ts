import type { Point } from '../geom/types.ts'
import type { Id } from './types.ts'

// What helps to draw and is no part of the railway: nothing is derived from it, nothing of it is printed unless asked for.

/** A line to draw by, without ends. */
export interface Guide {
  readonly id: Id
  readonly name: string
  readonly at: Point
  readonly angleRad: number
}

/** What was measured. The figure itself is computed when it is shown: it follows the plan. */
export type ReadingOf =
  | { readonly kind: 'distance'; readonly from: Point; readonly to: Point }
  /** At the first place, from the second to the third. */
  | { readonly kind: 'angle'; readonly at: Point; readonly from: Point; readonly to: Point }
  | { readonly kind: 'along'; readonly track: Id; readonly fromMm: number; readonly toMm: number }
  | { readonly kind: 'radius'; readonly track: Id; readonly stationMm: number }
  /** Centreline to the nearest place of the other one. */
  | { readonly kind: 'centres'; readonly track: Id; readonly stationMm: number; readonly other: Id }

/** A measurement that stays on the plan. */
export interface Reading {
  readonly id: Id
  readonly name: string
  readonly of: ReadingOf
}

/** A place on a picture, in its pixels (x to the right, y down, from its upper left corner), and where that place is in the room. */
export interface UnderlayPlace {
  readonly px: Point
  readonly at: Point
}

/** A picture under the drawing: a sketch, a photo of the bench. Set by two places, or by four for one taken at a slant. */
export interface Underlay {
  readonly id: Id
  readonly name: string
  /** SHA-256 of its bytes, in hexadecimal: what they are kept by beside the plan. */
  readonly picture: string
  readonly widthPx: number
  readonly heightPx: number
  /** The picture itself as a data URL; null: it is kept beside the plan. */
  readonly data: string | null
  readonly places: readonly UnderlayPlace[]
  /** Above 0, 1: not faded. */
  readonly opacity: number
  readonly isShown: boolean
}

/** A record that is not to be moved or changed by mistake. */
export interface Lock {
  readonly id: Id
  readonly table: string
  readonly record: Id
}
