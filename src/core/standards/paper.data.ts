/** A sheet of paper, portrait. mm. `source` is a key of REFERENCES.md. */
export interface PaperSize {
  readonly name: string
  readonly widthMm: number
  readonly heightMm: number
  readonly source: 'ISO-216' | 'ANSI-Y14.1' | 'COMMON-PRACTICE'
}

const iso = (name: string, widthMm: number, heightMm: number): PaperSize => ({ name, widthMm, heightMm, source: 'ISO-216' })
const inch = (name: string, width: number, height: number, source: PaperSize['source']): PaperSize => ({
  name,
  widthMm: Math.round(width * 25.4 * 1e3) / 1e3,
  heightMm: Math.round(height * 25.4 * 1e3) / 1e3,
  source,
})

/** Sizes that printers and plotters take, the office ones first. */
export const paperSizes: readonly PaperSize[] = [
  inch('letter', 8.5, 11, 'COMMON-PRACTICE'),
  inch('legal', 8.5, 14, 'COMMON-PRACTICE'),
  inch('tabloid', 11, 17, 'COMMON-PRACTICE'),
  iso('A4', 210, 297),
  iso('A3', 297, 420),
  iso('A2', 420, 594),
  iso('A1', 594, 841),
  iso('A0', 841, 1189),
  iso('A5', 148, 210),
  iso('A6', 105, 148),
  iso('A7', 74, 105),
  iso('B0', 1000, 1414),
  iso('B1', 707, 1000),
  iso('B2', 500, 707),
  iso('B3', 353, 500),
  iso('B4', 250, 353),
  iso('B5', 176, 250),
  inch('ANSI A', 8.5, 11, 'ANSI-Y14.1'),
  inch('ANSI B', 11, 17, 'ANSI-Y14.1'),
  inch('ANSI C', 17, 22, 'ANSI-Y14.1'),
  inch('ANSI D', 22, 34, 'ANSI-Y14.1'),
  inch('ANSI E', 34, 44, 'ANSI-Y14.1'),
  inch('ARCH A', 9, 12, 'ANSI-Y14.1'),
  inch('ARCH B', 12, 18, 'ANSI-Y14.1'),
  inch('ARCH C', 18, 24, 'ANSI-Y14.1'),
  inch('ARCH D', 24, 36, 'ANSI-Y14.1'),
  inch('ARCH E', 36, 48, 'ANSI-Y14.1'),
  inch('ARCH E1', 30, 42, 'ANSI-Y14.1'),
]
