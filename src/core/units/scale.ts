/**
 * A full-size length brought to the model: length / ratio.
 *
 * Units: any length in, the same unit out; ratio is n of 1:n, > 0.
 */
export function scaleToModel(prototypeLength: number, ratio: number): number {
  return prototypeLength / ratio
}

/** A model length brought to full size: length x ratio. Same unit out as in. */
export function scaleToPrototype(modelLength: number, ratio: number): number {
  return modelLength * ratio
}

/** Ratio n of 1:n from a scale given in millimetres to the foot: 3.5 mm/ft is 1:87.0857. [NEM-010 cl. 3.4] */
export function scaleRatioFromMmPerFoot(mmPerFoot: number): number {
  return 304.8 / mmPerFoot
}
