import type { StockKind } from '../../core/plan/types.ts'

/** What a stock is, in words. */
export const stockWords: { readonly [K in StockKind['kind']]: string } = {
  rail: 'sticks of rail',
  roadbed: 'sheets, strips or rolls of roadbed',
  tie: 'wood for ties',
  board: 'PC-board for ties',
  supply: 'counted things',
}

export type Supply = Extract<StockKind, { readonly kind: 'supply' }>['what']

/** Counted things, in the order in which they are asked for. */
export const supplies: readonly Supply[] = ['spikes', 'joiners', 'insulatedJoiners', 'shimTape']
