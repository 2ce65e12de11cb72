/**
 * How often drawings of tracks and turnouts were rendered since the page was opened. Panning and zooming must not count;
 * bench and tests read it as `globalThis.waybenchRenders`.
 */
interface RenderCount {
  count: number
}

declare global {
  var waybenchRenders: RenderCount | undefined
}

export const renders: RenderCount = (globalThis.waybenchRenders ??= { count: 0 })

/** Told by each drawing as it is rendered. */
export function renderCount(): void {
  renders.count++
}
