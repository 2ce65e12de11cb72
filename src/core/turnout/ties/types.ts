import type { Point } from '../../geom/types.ts'
import type { HostLine, WorkRoute } from '../types.ts'

/** square: every tie square to the host, bent or not. fanned: square to the bisector of the outermost routes there. */
export type TieLay = 'square' | 'fanned'

/** Where a turnout has PC-board ties: every nth, and at chosen places. */
export interface BoardPattern {
  /** Counted from the first tie; null: none by count. */
  readonly every: number | null
  readonly at: readonly BoardPlace[]
}

export type BoardPlace = 'tips' | 'heel' | 'toe' | 'frog' | 'gaps'

/** How the ties of a turnout or crossing are laid. close: nearer to each other under points and frogs. */
export interface TieChoice {
  readonly lay: TieLay
  readonly spacing: 'even' | 'close'
  readonly board: BoardPattern | null
}

/** Points of which the throw is carried by a pair of long ties: their tip, the way to their heel, and the side of the stand. */
export interface HeadBlocks {
  readonly stationMm: number
  readonly ahead: 1 | -1
  readonly side: 1 | -1
}

export interface TieRequest {
  readonly host: HostLine | null
  /** The host itself is one of the routes; a wye has none there. */
  readonly hasHostTrack: boolean
  /** The other routes. Ahead of its start a route is not there; behind its end it runs straight on. */
  readonly routes: readonly Pick<WorkRoute, 'centre'>[]
  readonly ratio: number
  readonly tieLengthMm: number
  readonly tieWidthMm: number
  readonly tieSpacingMm: number
  readonly lay: TieLay
  readonly heads: readonly HeadBlocks[]
  /** Stretches of the host with ties nearer to each other. */
  readonly close: readonly { readonly fromMm: number; readonly toMm: number }[]
  /** on: from station 0 on, as behind points. both: from station 0 both ways, as about a crossing. */
  readonly reach: 'on' | 'both'
  /** Gaps that stay where they are: ties make room for them. See gapsFixed. */
  readonly gaps?: readonly { readonly at: Point }[]
}
