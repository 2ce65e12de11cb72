import type { Path } from '../../geom/types.ts'
import type { TurnoutGap, TurnoutRail, TurnoutRequest, TurnoutTie } from '../types.ts'
import { gapsFixed } from './gapBays.ts'
import { tiesLay } from './lay.ts'
import type { HeadBlocks, TieChoice } from './types.ts'

/** Ties of a turnout when nothing is chosen. */
export const tiesAsUsual: TieChoice = { lay: 'square', spacing: 'even', board: null }

/** What the ties of a turnout must know beyond the request. */
export interface TurnoutTieParts {
  readonly hasHostTrack: boolean
  /** The routes that leave the host. */
  readonly routes: readonly { readonly centre: Path }[]
  readonly heads: readonly HeadBlocks[]
  /** Points and frogs along the host, where ties may be chosen to stand nearer. */
  readonly stressed: readonly { readonly fromMm: number; readonly toMm: number }[]
  /** Gaps and rails of the turnout: ties make room for gaps that cannot be moved. */
  readonly gaps: readonly TurnoutGap[]
  readonly rails: readonly TurnoutRail[]
}

/** The long ties of a turnout as its request chooses them. */
export function turnoutTies(request: TurnoutRequest, parts: TurnoutTieParts): TurnoutTie[] {
  const { host, ratio, tieLengthMm, tieWidthMm, tieSpacingMm } = request
  const { lay, spacing } = request.ties ?? tiesAsUsual
  const close = spacing === 'close' ? parts.stressed : []
  const { hasHostTrack, routes, heads } = parts
  const gaps = gapsFixed(parts.gaps, parts.rails, tieSpacingMm)
  return tiesLay({ host, hasHostTrack, routes, heads, ratio, tieLengthMm, tieWidthMm, tieSpacingMm, lay, close, gaps, reach: 'on' })
}
