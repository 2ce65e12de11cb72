import { gaugeByKey, gaugeCustom, gaugeList, type GaugeRow } from '../core/standards/index.ts'
import { lengthFormat, numberParse } from '../core/units/index.ts'
import type { Args } from './args.ts'
import { BadInput } from './badInput.ts'
import { nearestHint } from './nearest.ts'
import { lengthOption } from './values.ts'

export interface ChosenScale {
  readonly row: GaugeRow
  /** What was taken for granted, to be shown with the result. */
  readonly notes: readonly string[]
}

/** A gauge that differs from its scale's by more than this factor is of another scale. */
const FOREIGN_GAUGE = 1.6
const STANDARD_GAUGE_MM = 1435.1

/**
 * Scale and gauge from --scale (a key such as HO, or 1:87) and --gauge. A gauge of one's own near to the scale's keeps
 * the scale's other dimensions; one that is far from it (a full-size turnout) takes all of them from the gauge.
 */
export function scaleChosen(args: Args): ChosenScale {
  const gaugeMm = lengthOption(args, 'gauge')
  const typed = args.values.get('scale')
  if (typed === undefined) {
    if (gaugeMm === null) throw new BadInput('waybench turnout needs --scale HO (or --gauge for a gauge of your own).')
    return customFor(STANDARD_GAUGE_MM / gaugeMm, gaugeMm, [
      `no --scale: taken from the gauge, 1:${(STANDARD_GAUGE_MM / gaugeMm).toFixed(2)}`,
    ])
  }
  const named = gaugeByKey(typed)
  if (!named) return ratioTyped(typed, gaugeMm)
  if (gaugeMm === null) return { row: named, notes: [] }
  const factor = gaugeMm / named.gaugeMm
  if (factor > FOREIGN_GAUGE || factor < 1 / FOREIGN_GAUGE) {
    const ratio = STANDARD_GAUGE_MM / gaugeMm
    return customFor(ratio, gaugeMm, [
      `--gauge ${lengthFormat(gaugeMm, { units: 'metric', fraction: 64 })} is none of ${named.key}: ties, rail and flangeway are those of 1:${ratio.toFixed(2)}`,
    ])
  }
  // The guard keeps its distance from the frog rail, so the check gauge moves with the gauge.
  const checkGaugeMm = named.checkGaugeMm + gaugeMm - named.gaugeMm
  return { row: { ...named, gaugeMm, checkGaugeMm, status: 'derived' }, notes: [] }
}

function ratioTyped(typed: string, gaugeMm: number | null): ChosenScale {
  const read = numberParse(typed.replace(/^\s*1\s*[:/]/, ''))
  if (!read.ok || read.value <= 0) {
    throw new BadInput(
      `--scale ${typed}: no such scale. ${nearestHint(
        typed,
        gaugeList().map((row) => row.key),
      )} A ratio such as 1:50 will do too.`,
    )
  }
  return customFor(read.value, gaugeMm ?? STANDARD_GAUGE_MM / read.value, gaugeMm === null ? ['no --gauge: standard gauge to scale'] : [])
}

function customFor(ratio: number, gaugeMm: number, notes: readonly string[]): ChosenScale {
  const full = ratio > 0.9 && ratio < 1.1 ? gaugeByKey('full-size') : null
  if (full) return { row: { ...full, ratio, gaugeMm, checkGaugeMm: full.checkGaugeMm + gaugeMm - full.gaugeMm }, notes }
  const made = gaugeCustom({ ratio, gaugeMm })
  if (!made.ok) throw new BadInput(`--${made.where === 'ratio' ? 'scale' : 'gauge'}: ${made.value} cannot be; it must be ${made.expected}.`)
  return { row: made.row, notes }
}
