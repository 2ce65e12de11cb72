/** At which edge of the plan the choices lie. */
export type StripEdge = 'low' | 'high'

/** Air between the train and the choices, px. */
const airPx = 24

/**
 * The edge at which the choices cover nothing of a train: they stay where they are as long as the train is clear of them, and go to the
 * other edge when it comes under them, if it is clear of that one.
 *
 * Units:      px from the upper edge of the plan.
 */
export function stripEdge(
  now: StripEdge,
  train: { readonly topPx: number; readonly bottomPx: number },
  strip: { readonly heightPx: number; readonly lowPx: number; readonly highPx: number },
  planPx: number,
): StripEdge {
  const isUnderLow = train.bottomPx + airPx > planPx - strip.lowPx - strip.heightPx
  const isUnderHigh = train.topPx - airPx < strip.highPx + strip.heightPx
  if (now === 'low') return isUnderLow && !isUnderHigh ? 'high' : 'low'
  return isUnderHigh && !isUnderLow ? 'low' : 'high'
}
