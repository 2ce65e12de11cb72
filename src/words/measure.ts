import { angleFormat, frogNumberFormat, lengthFormat, MM_PER_FOOT, NO_VALUE } from '../core/units/index.ts'

/** How a measure reads: in one system, as a person prefers, or in both side by side. */
export interface MeasurePrefs {
  readonly units: 'imperial' | 'metric' | 'both'
  /** Finest fraction of an inch. */
  readonly fraction: 16 | 32 | 64
}

/** Shop lengths (radii, gaps, tie spacing) read in inches; rooms and runs of track in feet and inches. */
export type LengthKind = 'shop' | 'room'

/** A length as it is read at the bench, with real fractions and its unit. */
export function lengthText(mm: number, prefs: MeasurePrefs, kind: LengthKind = 'shop'): string {
  if (prefs.units === 'both') return lengthInBoth(mm, prefs.fraction)
  const text = lengthFormat(mm, {
    units: prefs.units,
    fraction: prefs.fraction,
    style: kind === 'room' ? 'feet' : 'inches',
    fractions: 'typeset',
  })
  // No decimals that say nothing.
  return prefs.units === 'metric' ? text.replace(/\.0 mm$/, ' mm') : text
}

/** What a length of the model is at full size, as roads print it: feet or metres, to a tenth. */
export function fullSizeText(fullMm: number, prefs: MeasurePrefs): string {
  const text = prefs.units === 'metric' ? `${numberText(fullMm / 1000, 1)} m` : `${numberText(fullMm / MM_PER_FOOT, 1)} ft`
  return `${text} full size`
}

/** What may be typed while a side is drawn: its length, and where it goes. */
export function typedSideExample(prefs: MeasurePrefs): string {
  return prefs.units === 'metric' ? '600<90' : '24in<90'
}

/** Millimetres to a hundredth, and inches beside them. */
function lengthInBoth(mm: number, fraction: MeasurePrefs['fraction']): string {
  return Number.isFinite(mm) ? `${mm.toFixed(2)} mm (${lengthFormat(mm, { units: 'imperial', fraction, style: 'inches' })})` : NO_VALUE
}

/**
 * Small fixed sizes (gauge, flangeway, rail head), where a sixteenth is coarser than the thing: decimal inches as the
 * standards print them, or hundredths of a millimetre.
 */
export function fineText(mm: number, prefs: MeasurePrefs, moreDigits = 0): string {
  const [metric, imperial] = [`${mm.toFixed(2 + moreDigits)} mm`, `${(mm / 25.4).toFixed(3 + moreDigits)} in`]
  if (prefs.units === 'both') return `${metric} (${imperial})`
  return prefs.units === 'metric' ? metric : imperial
}

/** Two fine sizes that differ, each with as many digits as show it in every unit. */
export function fineTextsApart(a: number, b: number, prefs: MeasurePrefs): readonly [string, string] {
  const most = 3
  for (let more = 0; ; more++) {
    const texts = [fineText(a, prefs, more), fineText(b, prefs, more)] as const
    const [first, second] = texts.map((text) => text.split(' ('))
    const isSame = first?.some((text, unit) => text === second?.[unit]) === true
    if (!isSame || more === most) return texts
  }
}

/** What `fineText` rounds to, mm. */
export function fineGrainMm(prefs: MeasurePrefs): number {
  return prefs.units === 'imperial' ? 0.0254 : 0.01
}

/** An angle without a side; the sign is worded by `turnText`. */
export function angleText(rad: number): string {
  return angleFormat(Math.abs(rad))
}

/** A grade in hundredths of a per cent: what a level of some feet can be set to. */
export function gradeText(grade: number): string {
  return `${numberText(100 * grade, 2)} %`
}

/** A deflection with the side it turns to. */
export function turnText(rad: number): string {
  return `${angleText(rad)} ${rad >= 0 ? 'left' : 'right'}`
}

/** A plain number without trailing zeros. */
export function numberText(value: number, decimals: number): string {
  return Number.isFinite(value) ? String(Number(value.toFixed(decimals))) : '—'
}

/** A turnout in the shortest trade form: No. 6 L. */
export function frogText(frog: number): string {
  return `No. ${frogNumberFormat(frog, 'typeset')}`
}

/** One arrow step: a sixteenth of an inch, or a millimetre. Lands on the ruler's marks. */
export function lengthStep(mm: number, direction: 1 | -1, prefs: MeasurePrefs): number {
  const step = prefs.units === 'metric' ? 1 : 25.4 / 16
  const marks = mm / step
  // A value on a mark goes to the next one, a value between marks to the nearest mark that way.
  const next = direction > 0 ? Math.floor(marks + 1e-6) + 1 : Math.ceil(marks - 1e-6) - 1
  return next * step
}
