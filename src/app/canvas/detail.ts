import type { Railway } from '../../core/plan/types.ts'

/** How much of a track is drawn: one line; two rails and ties; heads and feet, gaps, marks. */
export type Detail = 'far' | 'middle' | 'near'

/** Below this gauge on the screen, px, two rails and their ties run together to grey. */
const farGaugePx = 3.2
/** From this head on the screen, px, head and foot can be told apart. */
const nearHeadPx = 1.7
/** A step back comes this much later than the step forth, so that a view at the step does not flicker. */
const holdShare = 0.88

/** Detail at a scale. `now` is what is shown: near a step it stays. */
export function detailAt(pxPerMm: number, railway: Pick<Railway, 'gaugeMm' | 'railHeadMm'>, now: Detail | null): Detail {
  const gaugePx = railway.gaugeMm * pxPerMm
  const headPx = railway.railHeadMm * pxPerMm
  const farStep = now === 'middle' || now === 'near' ? farGaugePx * holdShare : farGaugePx
  const nearStep = now === 'near' ? nearHeadPx * holdShare : nearHeadPx
  if (headPx >= nearStep) return 'near'
  return gaugePx >= farStep ? 'middle' : 'far'
}
