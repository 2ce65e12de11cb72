/*
 * What a room and the wood in it are like as long as nobody said otherwise, each in a round figure of either rule. Common practice, no
 * source: a top at 48 in, plywood of 4 by 8 ft, a door of 32 in, timber of nominal 1 by 4 on edge, a
 * wall of 4 1/2 in.
 */

export interface RoomUsual {
  /** Height of the top above the floor. */
  readonly topMm: number
  readonly tableLongMm: number
  readonly tableDeepMm: number
  /** A leg of an L or a U. */
  readonly legMm: number
  readonly legDeepMm: number
  /** What an inner corner is cut or rounded by. */
  readonly cornerMm: number
  readonly shelfDeepMm: number
  readonly doorMm: number
  readonly sillMm: number
  readonly joistMm: number
  /** Side of a square post of a cellar, or thickness of a round one. */
  readonly postMm: number
  readonly roomLongMm: number
  readonly roomDeepMm: number
  /** One side of a room more. */
  readonly sideMm: number
  /** A stud wall with board on both sides; only drawn, nothing is computed from it. */
  readonly wallMm: number
}

const inFeet: RoomUsual = {
  topMm: 1219.2,
  tableLongMm: 2438.4,
  tableDeepMm: 914.4,
  legMm: 2438.4,
  legDeepMm: 609.6,
  cornerMm: 304.8,
  shelfDeepMm: 457.2,
  doorMm: 812.8,
  sillMm: 914.4,
  joistMm: 19.05,
  postMm: 101.6,
  roomLongMm: 3657.6,
  roomDeepMm: 3048,
  sideMm: 609.6,
  wallMm: 114.3,
}

const inMillimetres: RoomUsual = {
  topMm: 1200,
  tableLongMm: 2400,
  tableDeepMm: 900,
  legMm: 2400,
  legDeepMm: 600,
  cornerMm: 300,
  shelfDeepMm: 450,
  doorMm: 800,
  sillMm: 900,
  joistMm: 18,
  postMm: 100,
  roomLongMm: 3600,
  roomDeepMm: 3000,
  sideMm: 600,
  wallMm: 100,
}

export function roomUsual(units: 'imperial' | 'metric'): RoomUsual {
  return units === 'metric' ? inMillimetres : inFeet
}
