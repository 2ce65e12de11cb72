import type { Obstacle, Opening, Plan, Table } from './types.ts'

/** A person goes upright under what begins so high: 6 ft 6 in; common practice, no source. */
export const HEAD_MM = 1981.2

/** Roadbed, ties and rail between a deck and the wheels, and a hand's breadth over the highest roof; common practice, no source. */
const OVER_DECK_MM = 100

/** Obstacles that begin below a height over the floor; the same table where all of them do. */
export function obstaclesBelow(obstacles: Table<Obstacle>, heightMm: number): Table<Obstacle> {
  const all = Object.entries(obstacles)
  const below = all.filter(([, { undersideMm }]) => undersideMm < heightMm)
  return below.length === all.length ? obstacles : Object.fromEntries(below)
}

/**
 * Over the floor, what hangs as high as this is over every train: the highest benchwork, what lies on it, the tallest car, a hand's
 * breadth. No benchwork: nothing hangs over trains, Infinity.
 */
export function overTrainsMm({ benchworks, vehicles }: Pick<Plan, 'benchworks' | 'vehicles'>): number {
  const decks = Object.values(benchworks).map(({ heightMm }) => heightMm)
  if (decks.length === 0) return Infinity
  return Math.max(...decks) + Math.max(0, ...Object.values(vehicles).map(({ heightMm }) => heightMm)) + OVER_DECK_MM
}

/** Whether one goes through it: a window is wall up to its sill. */
export const isWay = ({ sillMm }: Pick<Opening, 'sillMm'>): boolean => sillMm === null
