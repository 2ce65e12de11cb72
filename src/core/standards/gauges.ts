import { gaugeRows, type GaugeLimit, type GaugeRow } from './gauges.data.ts'

/** Every scale and gauge there is a row for, small to large. */
export function gaugeList(): readonly GaugeRow[] {
  return gaugeRows
}

/**
 * The row of a scale key. HO (letter O, 1:87.1) and H0 (figure 0, 1:87) are two standards and stay apart; otherwise
 * capitals do not matter. Null: no such key.
 */
export function gaugeByKey(key: string): GaugeRow | null {
  const wanted = key.trim().toLowerCase()
  return gaugeRows.find((row) => row.key === key.trim()) ?? gaugeRows.find((row) => row.key.toLowerCase() === wanted) ?? null
}

// Gauge, flangeway, gauge less check gauge: the printed rows of Z, N, TT, HO, O and 1, mm.
const guidance = [
  [6.5, 0.725, 0.6],
  [9, 0.85, 0.9],
  [12, 0.95, 1],
  [16.535, 1.219, 1.118],
  [31.801, 1.956, 1.803],
  [45, 2.692, 2.836],
] as const

/** Linear between the printed gauges, in proportion beyond them. */
function guidanceAt(gaugeMm: number, column: 1 | 2): number {
  const upper = guidance.findIndex(([gauge]) => gauge >= gaugeMm)
  const last = guidance.length - 1
  const high = guidance[upper < 0 ? last : upper] ?? guidance[last]
  const low = guidance[upper <= 0 ? (upper < 0 ? last : 0) : upper - 1]
  if (!high || !low || high === low) return ((high ?? guidance[0])[column] * gaugeMm) / (high ?? guidance[0])[0]
  const share = (gaugeMm - low[0]) / (high[0] - low[0])
  return low[column] + share * (high[column] - low[column])
}

export interface CustomGauge {
  readonly ratio: number
  readonly gaugeMm: number
  readonly flangewayMm?: number
  readonly checkGaugeMm?: number
  readonly prototypeGaugeMm?: number
}

export type CustomGaugeResult =
  | { readonly ok: true; readonly row: GaugeRow }
  | { readonly ok: false; readonly where: keyof CustomGauge; readonly value: number; readonly expected: string }

/**
 * A scale and gauge of one's own, as a row like the others with the key 'custom'.
 *
 * Domain:     ratio and gauge > 0; flangeway under a quarter of the gauge; check gauge between the gauge less three
 *             flangeways and the gauge.
 * Exactness:  guide dimensions left out are interpolated by gauge between the printed rows; rail height is 7 in at full
 *             size (6 in for narrow gauge). All derived.
 * Outcome:    which value is wrong, and what would be right.
 */
export function gaugeCustom(custom: CustomGauge): CustomGaugeResult {
  const refuse = (where: keyof CustomGauge, value: number, expected: string): CustomGaugeResult => ({ ok: false, where, value, expected })
  const { ratio, gaugeMm } = custom
  if (!(ratio > 0 && ratio <= 1000)) return refuse('ratio', ratio, 'a number above 0 and up to 1000')
  if (!(gaugeMm > 0 && gaugeMm <= 3000)) return refuse('gaugeMm', gaugeMm, 'a gauge above 0 and up to 3000 mm')
  const flangewayMm = custom.flangewayMm ?? guidanceAt(gaugeMm, 1)
  if (!(flangewayMm > 0 && flangewayMm < gaugeMm / 4))
    return refuse('flangewayMm', flangewayMm, `more than 0 and under ${(gaugeMm / 4).toFixed(2)} mm`)
  const checkGaugeMm = custom.checkGaugeMm ?? gaugeMm - (custom.flangewayMm ?? guidanceAt(gaugeMm, 2))
  if (!(checkGaugeMm > gaugeMm - 3 * flangewayMm && checkGaugeMm < gaugeMm)) {
    return refuse('checkGaugeMm', checkGaugeMm, `between ${(gaugeMm - 3 * flangewayMm).toFixed(2)} and ${gaugeMm.toFixed(2)} mm`)
  }
  // A gauge that scales to within a tenth of standard gauge stands for standard gauge.
  const scaled = gaugeMm * ratio
  const prototypeGaugeMm = custom.prototypeGaugeMm ?? (Math.abs(scaled / 1435 - 1) < 0.13 ? 1435 : scaled)
  if (!(prototypeGaugeMm > 0)) return refuse('prototypeGaugeMm', prototypeGaugeMm, 'a gauge above 0 mm')
  const open: GaugeLimit = { targetMm: null, minMm: null, maxMm: null }
  return {
    ok: true,
    row: {
      key: 'custom',
      name: `1:${ratio}, ${gaugeMm} mm`,
      ratio,
      gaugeMm,
      flangewayMm,
      checkGaugeMm,
      spanMm: null,
      pointsSpreadMm: null,
      prototypeGaugeMm,
      railCode: Math.round(((prototypeGaugeMm < 1400 ? 6 : 7) / ratio) * 1000),
      limits: { gauge: open, checkGauge: open, span: open, flangeway: open, pointsSpread: open, flangewayDepth: open },
      source: 'NEM-110',
      clause: 'interpolated by gauge',
      status: 'derived',
    },
  }
}
