import { pathPoseAt } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { Id } from '../plan/types.ts'
import { hurdleNearest } from './hurdles.ts'
import type { HurdleGap, Hurdles } from './hurdles.ts'
import type { SweptTrack } from './types.ts'

/** What is free beside a band: negative by how much the nearest thing stands in it. `from`: the band's edge. */
export type FreeGap = HurdleGap

/** A station of a track, how far what runs there reaches to both sides, and what is free beyond. Null: nothing within the distance looked at. */
export interface TracePlace {
  readonly stationMm: number
  readonly leftMm: number
  readonly rightMm: number
  readonly left: FreeGap | null
  readonly right: FreeGap | null
}

export interface TraceOptions {
  /** Stations farther apart than this are not left out. */
  readonly everyMm: number
  readonly withinMm: number
  /** Tracks that meet this one at a station are left out there: up to the fouling points. */
  readonly isPassed: (track: Id, stationMm: number) => boolean
}

/** So many stations are looked at between two pauses. */
const placesAtOnce = 8

/** Rounding of a place on the band's edge, mm. */
const onEdgeMm = 1e-6

/**
 * Reach and free room to both sides all along a track, a few stations at a time, the diverging routes it hangs on included (stations below 0 or beyond its length).
 *
 * Exactness:  at each station the distance from the band's edge to the nearest side of anything on that side of the line; bands of other
 *             tracks as chords of their step. Source: derived.
 */
export function* clearanceTrace(
  { line, band, edges }: SweptTrack,
  hurdles: Hurdles,
  options: TraceOptions,
): Generator<undefined, readonly TracePlace[]> {
  const places: TracePlace[] = []
  let lastMm = -Infinity
  for (const [i, { stationMm: runMm, leftMm, rightMm }] of band.reaches.entries()) {
    const isEnd = i === band.reaches.length - 1
    if (!isEnd && runMm - lastMm < options.everyMm) continue
    lastMm = runMm
    const [left, right] = [edges.left[i], edges.right[i]]
    if (!left || !right || leftMm + rightMm === 0) continue
    const stationMm = runMm - line.startMm
    const { x, y, headingRad } = pathPoseAt(line.path, runMm)
    const along = (place: Point): number => (place.x - x) * Math.cos(headingRad) + (place.y - y) * Math.sin(headingRad)
    const offset = (place: Point): number => (place.y - y) * Math.cos(headingRad) - (place.x - x) * Math.sin(headingRad)
    const free = (side: 1 | -1, from: Point, reachMm: number): FreeGap | null => {
      const isPassed = (track: Id): boolean => track === line.track || options.isPassed(track, stationMm)
      const own = { withinMm: options.withinMm, isPassed, place: line.level && { level: line.level, stationMm } }
      const found = hurdleNearest(hurdles, from, own, (place) => side * offset(place) > 0)
      if (found === null) return null
      // What lies nearer to the line than the edge stands in the band, if it does so here and not only farther on.
      const isInBand = side * offset(found.to) < reachMm - onEdgeMm && Math.abs(along(found.to)) <= options.everyMm / 2
      return isInBand ? { ...found, gapMm: -found.gapMm } : found
    }
    if (places.length % placesAtOnce === 0) yield undefined
    places.push({ stationMm, leftMm, rightMm, left: free(1, left, leftMm), right: free(-1, right, rightMm) })
  }
  return places
}
