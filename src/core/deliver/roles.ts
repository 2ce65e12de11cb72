import type { LineRole } from './types.ts'

/** How a role is drawn on paper. Width 0: never stroked, only filled. */
export interface LineStyle {
  readonly widthMm: number
  readonly dashMm: readonly number[]
  /** 0 black to 1 white. */
  readonly grey: number
}

/**
 * Line styles of the sheets, black and grey only, so that a copier keeps them. Nothing thinner than 0.1 mm.
 * What is worked to (gauge line, ticks, marks) is black; what only surrounds it is grey. Chosen by looking at printed-size
 * pages: no source.
 */
export const lineStyles = {
  'rail-head': { widthMm: 0, dashMm: [], grey: 0 },
  'rail-foot': { widthMm: 0.1, dashMm: [], grey: 0.55 },
  'rail-gauge': { widthMm: 0.1, dashMm: [], grey: 0 },
  centreline: { widthMm: 0.18, dashMm: [8, 1.5, 1.5, 1.5], grey: 0 },
  tie: { widthMm: 0.15, dashMm: [], grey: 0.35 },
  tangent: { widthMm: 0.12, dashMm: [4, 2], grey: 0.5 },
  tick: { widthMm: 0.18, dashMm: [], grey: 0 },
  mark: { widthMm: 0.3, dashMm: [], grey: 0 },
  gap: { widthMm: 0.45, dashMm: [], grey: 0 },
  hole: { widthMm: 0.25, dashMm: [], grey: 0 },
  match: { widthMm: 0.1, dashMm: [], grey: 0 },
  trim: { widthMm: 0.12, dashMm: [1.2, 1.6], grey: 0.4 },
  frame: { widthMm: 0.15, dashMm: [], grey: 0.3 },
  'scale-bar': { widthMm: 0.2, dashMm: [], grey: 0 },
  benchwork: { widthMm: 0.35, dashMm: [6, 2], grey: 0.45 },
  joist: { widthMm: 0.15, dashMm: [3, 1.5], grey: 0.5 },
  roadbed: { widthMm: 0.15, dashMm: [2.5, 0.8], grey: 0.5 },
  'tie-end': { widthMm: 0.12, dashMm: [], grey: 0.2 },
  joint: { widthMm: 0.3, dashMm: [], grey: 0 },
  offset: { widthMm: 0.1, dashMm: [], grey: 0.3 },
  punch: { widthMm: 0.1, dashMm: [], grey: 0 },
} as const satisfies Record<LineRole, LineStyle>

/** Fill of a rail head: dark enough to read as steel, light enough that the gauge line shows on its edge. */
export const RAIL_HEAD_GREY = 0.28
/** Fill of a tie: enough to tell it from the gap beside it at arm's length, little ink, and a pencil line shows on it. */
export const TIE_GREY = 0.88
