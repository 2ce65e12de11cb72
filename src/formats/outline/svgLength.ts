/** CSS's absolute units, of which 96 px are an inch. [CSS-VALUES-3] section 6.2. */
const unitsMm: Readonly<Record<string, number>> = { mm: 1, cm: 10, q: 0.25, in: 25.4, pt: 25.4 / 72, pc: 25.4 / 6, px: 25.4 / 96 }
export const pxMm = 25.4 / 96

const lengthPattern = /^\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?)\s*([a-z%]*)\s*$/i

interface SvgLength {
  readonly value: number
  /** '': none, which is px. */
  readonly unit: string
}

export function svgLengthRead(text: string | undefined): SvgLength | null {
  const [, value, unit = ''] = lengthPattern.exec(text ?? '') ?? []
  return value === undefined || !Number.isFinite(Number(value)) ? null : { value: Number(value), unit: unit.toLowerCase() }
}

/** A length within the drawing, in user units; null: a share of something, or no length. */
export function svgUserLength(text: string | undefined): number | null {
  const read = svgLengthRead(text)
  if (read === null) return null
  const mm = read.unit === '' ? pxMm : unitsMm[read.unit]
  return mm === undefined ? null : (read.value * mm) / pxMm
}

/** The size of the page in mm where the drawing states it in a unit that can be held a rule against; px it does not count. */
export function svgPageMm(text: string | undefined): number | null {
  const read = svgLengthRead(text)
  if (read === null || read.unit === '' || read.unit === 'px') return null
  const mm = unitsMm[read.unit]
  return mm === undefined || !(read.value > 0) ? null : read.value * mm
}
