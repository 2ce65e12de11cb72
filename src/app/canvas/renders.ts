/**
 * How often drawings of tracks and turnouts were rendered since the page was opened. Panning and zooming must not count;
 * bench and tests read it as `globalThis.__waybenchRenders`.
 */
interface RenderCount {
  count: number
}

declare global {
  var __waybenchRenders: RenderCount | undefined
}

export const renders: RenderCount = (globalThis.__waybenchRenders ??= { count: 0 })
