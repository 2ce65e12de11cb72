/**
 * An entry cut into its signs. A number is a value with its place; a fraction glyph (½, ¹¹⁄₆₄) is a number already
 * divided; everything else is one of the few marks that quantities are written with.
 */
export type Token =
  | { readonly kind: 'number'; readonly value: number; readonly isWhole: boolean; readonly text: string; readonly at: number }
  /** 1e3, 2.5E-2: read by calculators, not by people at a bench. */
  | { readonly kind: 'power'; readonly value: number; readonly text: string; readonly at: number }
  | { readonly kind: 'fraction'; readonly value: number; readonly text: string; readonly at: number }
  | { readonly kind: 'word'; readonly text: string; readonly at: number }
  | { readonly kind: 'mark'; readonly mark: Mark; readonly text: string; readonly at: number }

export type Mark = '-' | '+' | '/' | ':' | "'" | '"' | '°' | '%' | '‰' | '#' | '?'

const glyphs: Readonly<Record<string, number>> = {
  '½': 1 / 2,
  '⅓': 1 / 3,
  '⅔': 2 / 3,
  '¼': 1 / 4,
  '¾': 3 / 4,
  '⅕': 1 / 5,
  '⅖': 2 / 5,
  '⅗': 3 / 5,
  '⅘': 4 / 5,
  '⅙': 1 / 6,
  '⅚': 5 / 6,
  '⅛': 1 / 8,
  '⅜': 3 / 8,
  '⅝': 5 / 8,
  '⅞': 7 / 8,
}

// Every way in which keyboards, phones and word processors write the same mark.
const marks: Readonly<Record<string, Mark>> = {
  '-': '-',
  '−': '-',
  '–': '-',
  '‑': '-',
  '‐': '-',
  '+': '+',
  '/': '/',
  '⁄': '/',
  '∕': '/',
  ':': ':',
  "'": "'",
  '′': "'",
  '’': "'",
  '‘': "'",
  ʹ: "'",
  '"': '"',
  '″': '"',
  '”': '"',
  '“': '"',
  ʺ: '"',
  '°': '°',
  º: '°',
  '%': '%',
  '‰': '‰',
  '#': '#',
}

const superscripts = '⁰¹²³⁴⁵⁶⁷⁸⁹'
const subscripts = '₀₁₂₃₄₅₆₇₈₉'
const numberPattern = /(?:\d+(?:[.,]\d+)?|[.,]\d+)/y
const powerPattern = /(?:\d+(?:[.,]\d+)?|[.,]\d+)[eE][-+−]?\d+/y
const wordPattern = /\p{L}+\.?/uy
const spacePattern = /[\s\u00a0\u2009\u202f]+/uy
const raisedPattern = /([⁰¹²³⁴⁵⁶⁷⁸⁹]+)[⁄/]([₀₁₂₃₄₅₆₇₈₉]+|\d+)/y

function matchAt(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at
  return pattern.exec(text)
}

function plainDigits(text: string): string {
  return [...text]
    .map((digit) => {
      const index = Math.max(superscripts.indexOf(digit), subscripts.indexOf(digit))
      return index < 0 ? digit : String(index)
    })
    .join('')
}

/** Cuts an entry into tokens; spaces only separate. A sign that nobody writes quantities with becomes the mark '?'. */
export function tokensOf(entry: string): readonly Token[] {
  const tokens: Token[] = []
  let at = 0
  while (at < entry.length) {
    const space = matchAt(spacePattern, entry, at)
    if (space) {
      at += space[0].length
      continue
    }
    const token = tokenAt(entry, at)
    tokens.push(token)
    at += token.text.length
  }
  return tokens
}

function tokenAt(entry: string, at: number): Token {
  const power = matchAt(powerPattern, entry, at)
  if (power) return { kind: 'power', value: Number(power[0].replace(',', '.').replace('−', '-')), text: power[0], at }
  const number = matchAt(numberPattern, entry, at)
  if (number) {
    const text = number[0]
    return { kind: 'number', value: Number(text.replace(',', '.')), isWhole: /^\d+$/.test(text), text, at }
  }
  const raised = matchAt(raisedPattern, entry, at)
  if (raised) {
    const value = Number(plainDigits(raised[1] ?? '')) / Number(plainDigits(raised[2] ?? ''))
    return { kind: 'fraction', value, text: raised[0], at }
  }
  const word = matchAt(wordPattern, entry, at)
  const sign = String.fromCodePoint(entry.codePointAt(at) ?? 0)
  const mark = marks[sign]
  if (mark === "'" && marks[entry.charAt(at + 1)] === "'") {
    return { kind: 'mark', mark: '"', text: entry.slice(at, at + 2), at }
  }
  if (mark) return { kind: 'mark', mark, text: sign, at }
  const glyph = glyphs[sign]
  if (glyph !== undefined) return { kind: 'fraction', value: glyph, text: sign, at }
  if (word) return { kind: 'word', text: word[0], at }
  return { kind: 'mark', mark: '?', text: sign, at }
}
