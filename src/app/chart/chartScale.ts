/** Rows of the chart, px from its top. The curve row has its axis in the middle; the scale of stations lies under the track. */
export const rows = { curveTop: 6, curveAxis: 62, curveFoot: 118, track: 160, scale: 174, foot: 198 } as const
export const gutter = { left: 62, right: 22 } as const

/** A place on the chart, px from its upper left corner. */
export interface ChartPlace {
  readonly x: number
  readonly y: number
}

/** From station and curvature to px, and back. */
export interface ChartScale {
  readonly pxPerMm: number
  readonly x: (stationMm: number) => number
  readonly y: (curvature: number) => number
  /** Curvature that fits into the row; sharper curves are cut off there. */
  readonly reach: number
  /** Of the top of a curve, as far as the row reaches. */
  readonly topY: (curvature: number) => number
  /** Beyond the ends of the track too: what is held there is for the hand that holds it to say. */
  readonly stationAt: (x: number) => number
  readonly curvatureAt: (y: number) => number
}

export function chartScale(lengthMm: number, reach: number, width: number): ChartScale {
  const pxPerMm = Math.max(1, width - gutter.left - gutter.right) / Math.max(lengthMm, 1)
  const heights = curveHeights(reach)
  return {
    pxPerMm,
    x: (stationMm) => gutter.left + stationMm * pxPerMm,
    ...heights,
    reach,
    topY: (curvature) => heights.y(Math.max(-reach, Math.min(reach, curvature))),
    stationAt: (x) => (x - gutter.left) / pxPerMm,
  }
}

/** What a height of the curve row means when it reaches so far. */
function curveHeights(reach: number): Pick<ChartScale, 'y' | 'curvatureAt'> {
  const half = rows.curveAxis - rows.curveTop
  return {
    y: (curvature) => rows.curveAxis - (curvature / reach) * half,
    curvatureAt: (y) => ((rows.curveAxis - y) / half) * reach,
  }
}

/**
 * What heights mean to a hand on the top of a curve. One that is cut off at the top stands there with all its curvature: the row reaches
 * so far as long as it is held, and from there down to the axis it is pulled through everything between.
 */
export function heightsHeld(curvature: number, { reach }: Pick<ChartScale, 'reach'>): Pick<ChartScale, 'y' | 'curvatureAt'> {
  return curveHeights(Math.max(reach, Math.abs(curvature)))
}

/** Lanes for names and marks that would cover each other: the lowest one that is free of the mark before. */
export function lanesOf<T>(
  items: readonly T[],
  middleOf: (item: T) => number,
  widthPx: number,
): readonly { readonly item: T; readonly lane: number }[] {
  const ends: number[] = []
  return items
    .toSorted((a, b) => middleOf(a) - middleOf(b))
    .map((item) => {
      const middle = middleOf(item)
      const free = ends.findIndex((end) => end <= middle - widthPx / 2)
      const lane = free < 0 ? ends.length : free
      ends[lane] = middle + widthPx / 2
      return { item, lane }
    })
}
