import type { TurnoutGeometry } from '../turnout/types.ts'

/** What a maker must know of a turnout, hand left out of it: x ahead of the points, y to the side on which it diverges. mm, rad. */
export interface Shape {
  readonly frogAngleRad: number
  readonly leadMm: number
  /** Stretch of the host that it takes, from PS. */
  readonly fromMm: number
  readonly toMm: number
  /** To where its rails end on the host, from PS. */
  readonly railsMm: number
  readonly legX: number
  readonly legY: number
  /** Where the leg's line, run back, crosses the host's centreline. */
  readonly crossX: number
  /** From there to the leg, along the leg's line. */
  readonly legMm: number
  /** From there to the end of the last long tie, along the leg's line: what stands on the leg must begin behind it. */
  readonly clearMm: number
  readonly heelMm: number
}

/** The shape of a solved turnout of either hand. */
export function shapeOf(geometry: TurnoutGeometry): Shape {
  const { frogAngleRad, leadMm, extent, overallMm, leg, ties, request } = geometry
  const side = request.hand === 'left' ? 1 : -1
  const legY = side * leg.y
  const crossX = leg.x - legY / Math.tan(frogAngleRad)
  const cos = Math.cos(frogAngleRad)
  const sin = Math.sin(frogAngleRad)
  const tieEnds = ties.map((tie) => {
    const far = Math.max(side * tie.from.y, side * tie.to.y)
    return (tie.stationMm + tie.widthMm / 2 - crossX) * cos + far * sin
  })
  const legMm = legY / sin
  return {
    frogAngleRad,
    leadMm,
    fromMm: extent.fromMm,
    toMm: extent.toMm,
    railsMm: overallMm,
    legX: leg.x,
    legY,
    crossX,
    legMm,
    clearMm: Math.max(legMm, ...tieEnds),
    heelMm: request.heelLengthMm,
  }
}
