const mmPerInch = 25.4
/**
 * Throw at the tip: 4 1/2 in full size, and on models with their wide flangeways at least this many of them.
 * [NMRA-S-3.2-2010] leaves between gauge and points spread 1.31 flangeways in HO and 1.25 in O.
 */
const throwInches = 4.5
const throwFlangeways = 1.3

/** How far the tip of a point moves, mm on the model. */
export function throwOf({ ratio, flangewayMm }: { readonly ratio: number; readonly flangewayMm: number }): number {
  return Math.max((throwInches * mmPerInch) / ratio, throwFlangeways * flangewayMm)
}
