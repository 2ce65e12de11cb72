import type { Wheelset } from './wheelsetWalk.ts'

const inch = 25.4

/** Freight car wheels of the steam and diesel years: 33 in. Common practice, no source. */
const wheelInches = 33

/** K most, B least, width least, flange depth most, flange thickness. Inches. Both ends of what the standard lets pass. */
function wheelsOf(scale: string, ratio: number, [k, b, n, d]: readonly [number, number, number, number], t: number): readonly Wheelset[] {
  const common = { flangeMm: t * inch, wheelWidthMm: n * inch, flangeDepthMm: d * inch, diameterMm: (wheelInches * inch) / ratio }
  return [
    { name: `${scale}, least back to back`, backToBackMm: b * inch, ...common },
    { name: `${scale}, most check gauge`, backToBackMm: (k - t) * inch, ...common },
  ]
}

/**
 * Wheelsets at the limits of their standard. Check gauge (most), back to back (least), wheel width (least) and flange depth (most) in HO, S and O:
 * NMRA S-4.2, table, as printed; flange thickness of codes 110 and 172 NMRA RP-25, from memory.
 * N runs on track to NEM 110, so its wheels are to NEM 310: K 8.1, B 7.4, N 2.2, T 0.6, D 0.9 mm, from memory.
 */
export const wheelsets: Readonly<Record<'HO' | 'N' | 'S' | 'O', readonly Wheelset[]>> = {
  HO: wheelsOf('HO', 87.1, [0.605, 0.566, 0.108, 0.028], 0.03),
  S: wheelsOf('S', 64, [0.839, 0.8, 0.108, 0.03], 0.03),
  O: wheelsOf('O', 48, [1.179, 1.118, 0.172, 0.047], 0.045),
  N: wheelsOf('N', 160, [8.1 / inch, 7.4 / inch, 2.2 / inch, 0.9 / inch], 0.6 / inch),
}
