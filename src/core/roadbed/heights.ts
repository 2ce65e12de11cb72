import { railOf, tieOf } from '../plan/index.ts'
import type { LineClass, Railway } from '../plan/types.ts'
import { railByCode } from '../standards/index.ts'

/** What lies between the deck and the railhead. */
export interface TrackHeight {
  readonly roadbedMm: number
  readonly tieMm: number
  readonly railMm: number
}

/** Height of track of a class, in the plan's own railway: its roadbed, its tie and its rail. */
export function trackHeight(railway: Railway, lineClass: LineClass): TrackHeight {
  return {
    roadbedMm: lineClass.roadbed?.thicknessMm ?? 0,
    tieMm: tieOf(lineClass, railway).thicknessMm,
    railMm: railByCode(railOf(lineClass, railway).code)?.heightMm ?? 0,
  }
}

/** One height less another, part by part. */
export function heightLess(a: TrackHeight, b: TrackHeight): TrackHeight {
  return { roadbedMm: a.roadbedMm - b.roadbedMm, tieMm: a.tieMm - b.tieMm, railMm: a.railMm - b.railMm }
}
