import type { Path, Point } from '../geom/types.ts'
import type { LineLevel } from '../levels/index.ts'
import type { Id } from '../plan/types.ts'
import type { BandEdges, SweptBand } from '../vehicles/index.ts'

/** A stretch of stations. */
export interface Span {
  readonly fromMm: number
  readonly toMm: number
}

/**
 * A track with the diverging routes of the turnouts it hangs on, and beyond both ends what cars stand on that come from there. Stations
 * count along `path`; those of the track are less by startMm.
 */
export interface TrackLine {
  readonly track: Id
  readonly path: Path
  readonly isClosed: boolean
  /** The track with its routes. */
  readonly span: Span
  /** Start and end of the track itself. */
  readonly startMm: number
  readonly endMm: number
  /** Heights at stations of the track; null: nothing is known. */
  readonly level: LineLevel | null
}

/** What vehicles sweep on a track. */
export interface SweptTrack {
  readonly line: TrackLine
  readonly band: SweptBand
  readonly edges: BandEdges
}

/**
 * How near something comes to a swept band: across the gap, negative by how much it lies in it. Where on the track (below 0 or beyond its
 * length: on the route of the turnout it hangs on), and the place of the band's edge in the plan.
 */
export interface Gap extends Point {
  readonly gapMm: number
  readonly stationMm: number
}

/** joined: the tracks part or meet at a turnout or go on end to end; crossing: they cross. Stations of the first track. */
export interface Meeting extends Span {
  readonly kind: 'joined' | 'crossing'
}

/** How near the swept bands of two tracks come to each other. */
export interface TrackGap {
  readonly track: Id
  readonly other: Id
  /** Away from the meetings; null: there is no such place, or none within the distance looked at. */
  readonly least: (Gap & { readonly otherStationMm: number }) | null
  /** Stretches over which they foul each other because they meet: up to the fouling points. */
  readonly meetings: readonly Meeting[]
}

export type FixedKind = 'benchworks' | 'walls' | 'obstacles'

/** Something that stands still: rings, free of it within (`isRoom`) or without. A point lies within by the even-odd rule of all rings. */
export interface FixedShape {
  readonly kind: FixedKind
  /** null: all benchwork together. */
  readonly record: Id | null
  readonly rings: readonly (readonly Point[])[]
  readonly isRoom: boolean
}

export interface FixedGap extends Gap {
  readonly kind: FixedKind
  readonly record: Id | null
}
