import { createContext, useContext } from 'react'
import type { ChartPlace } from './chartScale.ts'

/** What the chart says beside what is held: what it comes to, or why it cannot be. */
export interface ChartNote {
  readonly at: ChartPlace
  readonly words: string
  readonly isRefused: boolean
}

/** What all handles of one chart share. */
export interface ChartHand {
  placeOf(at: { readonly clientX: number; readonly clientY: number }): ChartPlace
  say(note: ChartNote | null): void
  readonly widthPx: number
  /** Where fields stand, over the drawing. */
  readonly over: HTMLElement | null
}

export const ChartHandContext = createContext<ChartHand | null>(null)

export function useChartHand(): ChartHand {
  const hand = useContext(ChartHandContext)
  if (hand === null) throw new Error('useChartHand outside of a track chart')
  return hand
}
