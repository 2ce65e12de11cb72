import type { Path, Point } from '../geom/types.ts'
import type { TurnoutGap, TurnoutRailRole, TurnoutTie } from '../turnout/types.ts'

/** One rail of plain track, of a turnout or of a crossing, in the plan. */
export interface Rail {
  readonly role: 'left' | 'right' | TurnoutRailRole
  readonly gaugeLine: RailLine
  readonly headSide: 1 | -1
  readonly headWidthMm: number
  readonly footWidthMm: number
  readonly startHeadMm?: number
  readonly endHeadMm?: number
}

/** A stretch of the exact offset of a path; offset 0 and the whole path for turnout rails. */
export interface RailLine {
  readonly path: Path
  readonly offsetMm: number
  readonly fromMm: number
  readonly toMm: number
}

export interface Tie {
  readonly centre: Point
  /** Direction of the tie's long axis. */
  readonly axisRad: number
  readonly lengthMm: number
  readonly widthMm: number
  readonly stationMm: number
}

/** Rails and ties of the plain stretches of one track: what its turnouts do not take. */
export interface PlainTrack {
  readonly trackId: string
  readonly rails: readonly Rail[]
  readonly ties: readonly Tie[]
}

/** Rails, ties and gaps of special work set in the plan. */
export interface WorkTrack {
  readonly rails: readonly Rail[]
  readonly ties: readonly (Tie & Pick<TurnoutTie, 'isHeadBlock'>)[]
  readonly gaps: readonly TurnoutGap[]
}

export interface TurnoutTrack extends WorkTrack {
  readonly turnoutId: string
}

/** crossingId: as the network names it. */
export interface CrossingTrack extends WorkTrack {
  readonly crossingId: string
}

export interface Trackwork {
  readonly tracks: ReadonlyMap<string, PlainTrack>
  readonly turnouts: ReadonlyMap<string, TurnoutTrack>
  readonly crossings: ReadonlyMap<string, CrossingTrack>
}
