import type { Point } from '../../geom/types.ts'
import type { TieLay } from '../../plan/types.ts'
import type { HostLine, WorkRoute } from '../types.ts'

export type { BoardPattern, BoardPlace, TieChoice, TieLay } from '../../plan/types.ts'

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
  /** Fanned: about how far the bisector turns from the host, where another track crosses so steeply that no tie square to the host meets it. */
  readonly fanRad?: number
  readonly heads: readonly HeadBlocks[]
  /** Stretches of the host with ties nearer to each other. */
  readonly close: readonly { readonly fromMm: number; readonly toMm: number }[]
  /** on: from station 0 on, as behind points. both: from station 0 both ways, as about a crossing. */
  readonly reach: 'on' | 'both'
  /** Gaps that stay where they are: ties make room for them. See gapsFixed. */
  readonly gaps?: readonly { readonly at: Point }[]
}
