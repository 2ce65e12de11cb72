import type { Point } from '../../geom/types.ts'
import type { GaugeLimit, SourceStatus } from '../../standards/index.ts'
import type { RouteName } from '../types.ts'

/**
 * What a gauge is laid on and what a wheel is guided by. gauge: between the running faces; check-gauge: guard face to the frog's
 * face behind its point; span: guard face to the wing's face there; guard-, wing-, throat-flangeway: between the faces of guard and stock
 * rail, wing and frog, wing and wing; points-spread: face of the stock rail on the closed point's side to the back of the open
 * point, at its tip; open-point: the narrowest way between an open point's back and its stock rail. Of an elbow: elbow-flangeway: between
 * its check rail and the faces that wheels run along there; elbow-open: the length of a line over which neither rail nor the check rail
 * opposite holds a wheel.
 */
export type CheckDimensionKind =
  | 'gauge'
  | 'check-gauge'
  | 'span'
  | 'guard-flangeway'
  | 'wing-flangeway'
  | 'throat-flangeway'
  | 'points-spread'
  | 'open-point'
  | 'elbow-flangeway'
  | 'elbow-open'

/** One dimension where it is worst along a route. mm. */
export interface CheckDimension {
  readonly kind: CheckDimensionKind
  readonly route: RouteName
  /** Which frog of the work it belongs to; null: none. */
  readonly frog: number | null
  /** null: what it is measured to is not there. */
  readonly valueMm: number | null
  /** Station of the route, and the place. */
  readonly stationMm: number
  readonly at: Point
  /** null: no limit is known on that side. */
  readonly leastMm: number | null
  readonly mostMm: number | null
  readonly isWithin: boolean
}

/** The limits of a scale, and where they are printed; 'railway': no row, so what the railway itself is laid to. */
export interface CheckStandard {
  readonly gauge: GaugeLimit
  readonly checkGauge: GaugeLimit
  readonly span: GaugeLimit
  readonly flangeway: GaugeLimit
  readonly pointsSpread: GaugeLimit
  /** The narrowest way between two faces that a flange passes, where the standard prints none: beside guard rails and behind open points. */
  readonly flangeWayMm: number
  readonly source: string
  readonly clause: string
  readonly status: SourceStatus
}
