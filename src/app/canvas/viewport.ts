import type { Box, Point } from '../../core/geom/types.ts'
import type { Viewport } from '../../store/types.ts'

/*
 * Between the plan (millimetres, y up) and the screen (pixels from the upper left corner of the canvas, y down).
 * This file is the only place of the house that turns y over.
 */

/** A place on the canvas in CSS pixels. Named unlike a Point, so that the two cannot be mixed up. */
export interface ScreenPoint {
  readonly left: number
  readonly top: number
}

export interface ScreenSize {
  readonly width: number
  readonly height: number
}

/** What the canvas shows: where it looks and how large it is. */
export interface View extends Viewport {
  readonly size: ScreenSize
}

/**
 * Nearest and farthest that one may look, pixels per mm. Nearest: a 0.7 mm rail head is 28 px wide, more shows nothing
 * new. Farthest: a hall of 60 m still fits a narrow screen.
 */
export const nearestPxPerMm = 40
export const farthestPxPerMm = 0.005

/** Where a point of the plan appears. */
export function screenOfPlan(view: View, point: Point): ScreenPoint {
  return {
    left: view.size.width / 2 + (point.x - view.centre.x) * view.pxPerMm,
    top: view.size.height / 2 - (point.y - view.centre.y) * view.pxPerMm,
  }
}

/** The point of the plan under a place on the canvas. */
export function planOfScreen(view: View, place: ScreenPoint): Point {
  return {
    x: view.centre.x + (place.left - view.size.width / 2) / view.pxPerMm,
    y: view.centre.y - (place.top - view.size.height / 2) / view.pxPerMm,
  }
}

/** The SVG transform that draws the plan on the canvas, from coordinates in units of `unitMm`. */
export function planTransform(view: View, unitMm: number): string {
  const origin = screenOfPlan(view, { x: 0, y: 0 })
  const k = view.pxPerMm * unitMm
  return `matrix(${k} 0 0 ${-k} ${origin.left} ${origin.top})`
}

function withinZoom(pxPerMm: number): number {
  return Math.min(nearestPxPerMm, Math.max(farthestPxPerMm, pxPerMm))
}

/** The view after the drawing was pushed by so many pixels. */
export function viewPannedBy(view: View, right: number, down: number): View {
  const { centre, pxPerMm } = view
  return { ...view, centre: { x: centre.x - right / pxPerMm, y: centre.y + down / pxPerMm } }
}

/** The view enlarged by a factor while the plan point under `place` stays where it is. Stops at the nearest and farthest. */
export function viewZoomedAt(view: View, place: ScreenPoint, factor: number): View {
  if (!(factor > 0) || !Number.isFinite(factor)) return view
  const kept = planOfScreen(view, place)
  const zoomed = { ...view, pxPerMm: withinZoom(view.pxPerMm * factor) }
  const moved = screenOfPlan(zoomed, kept)
  return viewPannedBy(zoomed, place.left - moved.left, place.top - moved.top)
}

/** Two fingers that went from one pair of places to another: the plan points under them follow (no turning). */
export function viewPinched(view: View, from: readonly [ScreenPoint, ScreenPoint], to: readonly [ScreenPoint, ScreenPoint]): View {
  const before = middleOf(from)
  const after = middleOf(to)
  const spreadBefore = spreadOf(from)
  const factor = spreadBefore < 1 ? 1 : spreadOf(to) / spreadBefore
  const panned = viewPannedBy(view, after.left - before.left, after.top - before.top)
  return viewZoomedAt(panned, after, factor)
}

function middleOf([a, b]: readonly [ScreenPoint, ScreenPoint]): ScreenPoint {
  return { left: (a.left + b.left) / 2, top: (a.top + b.top) / 2 }
}

function spreadOf([a, b]: readonly [ScreenPoint, ScreenPoint]): number {
  return Math.hypot(a.left - b.left, a.top - b.top)
}

/**
 * So much of the edges of the canvas is not for the plan, px: rulers, the choices of a tool along the top, scale and words below. Alike on
 * both sides, so that the middle of what is shown is the middle of the canvas, where the keyboard points.
 */
const edgesPx = { across: 52, upright: 64 } as const

/** On a small canvas the edges take no more than this share of it each, so that there is something left to look at. */
const edgeShare = 0.18

/** What is left for the plan between the edges of the canvas. */
export function clearOfEdges({ width, height }: ScreenSize): { readonly left: number; readonly top: number } & ScreenSize {
  const [left, top] = [Math.min(edgesPx.across, width * edgeShare), Math.min(edgesPx.upright, height * edgeShare)]
  return { left, top, width: width - 2 * left, height: height - 2 * top }
}

/**
 * The view that holds a box clear of the edges, no nearer than `mostPxPerMm`. A box without width and height is looked at from the
 * present distance.
 */
export function viewFitting(view: View, box: Box, mostPxPerMm = nearestPxPerMm): View {
  const width = box.maxX - box.minX
  const height = box.maxY - box.minY
  const centre = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 }
  if (!Number.isFinite(centre.x) || !Number.isFinite(centre.y)) return view
  const clear = clearOfEdges(view.size)
  const fitting = Math.min(clear.width / Math.max(width, 1e-9), clear.height / Math.max(height, 1e-9))
  const pxPerMm = withinZoom(Math.min(width <= 0 && height <= 0 ? view.pxPerMm : fitting, mostPxPerMm))
  return { ...view, centre, pxPerMm }
}

/** What can be seen, in the plan. */
export function viewBoxInPlan(view: View): Box {
  const a = planOfScreen(view, { left: 0, top: view.size.height })
  const b = planOfScreen(view, { left: view.size.width, top: 0 })
  return { minX: a.x, minY: a.y, maxX: b.x, maxY: b.y }
}

/** A box and so much of its width and height more on every side. */
export function boxBeyond({ minX, minY, maxX, maxY }: Box, share: number): Box {
  const [x, y] = [(maxX - minX) * share, (maxY - minY) * share]
  return { minX: minX - x, minY: minY - y, maxX: maxX + x, maxY: maxY + y }
}

/** What a wheel event asks for. Trackpads pan with both axes and pinch as "ctrl + wheel"; a wheel with notches zooms. */
export type WheelWish =
  | { readonly kind: 'pan'; readonly right: number; readonly down: number }
  | { readonly kind: 'zoom'; readonly factor: number }

interface WheelLike {
  readonly deltaX: number
  readonly deltaY: number
  /** 0 pixels, 1 lines, 2 pages. */
  readonly deltaMode: number
  readonly ctrlKey: boolean
  readonly metaKey: boolean
  readonly shiftKey: boolean
}

/**
 * A notch of a mouse wheel comes as lines or as a whole step of at least 50 px along one axis; anything finer or slanted
 * is a trackpad. Common practice, no source.
 */
export function wheelWish(event: WheelLike): WheelWish {
  const unit = event.deltaMode === 1 ? 33 : event.deltaMode === 2 ? 400 : 1
  const dx = event.deltaX * unit
  const dy = event.deltaY * unit
  // A pinch sends small steps and must feel direct; 100 px of wheel is one notch and about a sixth nearer.
  if (event.ctrlKey || event.metaKey) return { kind: 'zoom', factor: Math.exp(-clampStep(dy) * 0.01) }
  if (event.shiftKey) return { kind: 'pan', right: -(dx === 0 ? dy : dx), down: 0 }
  const isNotch = dx === 0 && (event.deltaMode !== 0 || (Math.abs(dy) >= 50 && Number.isInteger(dy)))
  if (isNotch) return { kind: 'zoom', factor: Math.exp(-clampStep(dy) * 0.0015) }
  return { kind: 'pan', right: -dx, down: -dy }
}

/** No single event may throw the view away: some mice send 1000 px at once. */
function clampStep(px: number): number {
  return Math.max(-300, Math.min(300, px))
}
