/** What of a car counts for its swing: a rigid body carried on two pivots. mm on the model. */
export interface CarShape {
  readonly bodyLengthMm: number
  readonly bodyWidthMm: number
  /** Pivot to pivot. */
  readonly truckCentresMm: number
  /** Axle to axle within one truck; 0: the pivot itself runs on the centreline. */
  readonly truckWheelbaseMm: number
}

export interface Swing {
  /** Body side beyond half the width, towards the curve's centre, half way between the pivots. */
  readonly insideMm: number
  /** Body corner beyond half the width, away from the centre; negative when the corners stay within it. */
  readonly outsideMm: number
}

export type SwingProblem =
  | { readonly kind: 'notFinite'; readonly where: string }
  | { readonly kind: 'notPositive'; readonly where: 'radiusMm' | 'bodyLengthMm' | 'bodyWidthMm'; readonly value: number }
  | { readonly kind: 'negative'; readonly where: 'truckCentresMm' | 'truckWheelbaseMm' | 'clearanceMm'; readonly value: number }
  | { readonly kind: 'pivotsBeyondBody'; readonly truckCentresMm: number; readonly bodyLengthMm: number }
  /** The car cannot stand on so sharp a curve: its body would reach the curve's centre. */
  | { readonly kind: 'radiusTooSmall'; readonly radiusMm: number; readonly leastMm: number }
