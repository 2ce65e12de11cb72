import { entryRefuse, type EntryRefused } from './problem.ts'
import { mixedRead, quantityParse, type UnitForm } from './quantity.ts'
import { tokensOf, type Token } from './tokens.ts'

export type NumberResult = { readonly ok: true; readonly value: number } | EntryRefused

const one: UnitForm = { size: 1, family: 'number' }

/** A typed number without a unit: 6, 87.1, 5 1/2, -3. |number| up to 1e12. */
export function numberParse(text: string): NumberResult {
  return quantityParse(text, { units: {}, bare: one, max: 1e12, expected: '6, 5.5 or 87.1' })
}

/** A rise or spread written as a proportion: 1:40, 1 in 40; `value` is the second number over the first. */
export function proportionRead(tokens: readonly Token[], from: number, entry: string, expected: string): NumberResult | null {
  const over = mixedRead(tokens, from, entry, expected)
  if (!over.ok) return null
  const joint = tokens[over.next]
  const isJoint = (joint?.kind === 'mark' && joint.mark === ':') || (joint?.kind === 'word' && joint.text.toLowerCase() === 'in')
  if (!isJoint) return null
  const under = mixedRead(tokens, over.next + 1, entry, expected)
  if (!under.ok) return under
  const rest = tokens[under.next]
  if (rest) return entryRefuse('unexpected', rest.text, rest.at, expected)
  const at = tokens[over.next + 1]?.at ?? 0
  if (under.value === 0) return entryRefuse('zeroDenominator', '0', at, expected)
  if (over.value === 0) return entryRefuse('outOfRange', entry.trim(), tokens[from]?.at ?? 0, expected)
  return { ok: true, value: under.value / over.value }
}

export type FrogNumberResult =
  | {
      readonly ok: true
      readonly frog: number /** 1:9 is the slope that European practice means: tan F = 1/N. */
      readonly writtenAs: 'number' | 'slope'
    }
  | EntryRefused

const frogExpected = '6, 5 1/2, #6, No. 6 or 1:9'

/**
 * A typed frog number: 6, 5 1/2, #6, No. 6, 1:9.
 *
 * Domain:     any text; the number must be positive. Whether a turnout can be built of it is the turnout's to say.
 * Outcome:    `writtenAs` keeps how it was written, since No. 9 and 1:9 are not the same angle.
 */
export function frogNumberParse(text: string): FrogNumberResult {
  const tokens = tokensOf(text)
  const first = tokens[0]
  if (!first) return entryRefuse('empty', '', 0, frogExpected)
  const isPrefix = (first.kind === 'mark' && first.mark === '#') || (first.kind === 'word' && /^(no\.?|nr\.?|number)$/i.test(first.text))
  const from = isPrefix ? 1 : 0
  const slope = proportionRead(tokens, from, text, frogExpected)
  if (slope) return slope.ok ? { ok: true, frog: slope.value, writtenAs: 'slope' } : slope
  const read = mixedRead(tokens, from, text, frogExpected)
  if (!read.ok) return read
  const rest = tokens[read.next]
  if (rest) return entryRefuse('unexpected', rest.text, rest.at, frogExpected)
  if (!(read.value > 0) || read.value > 1e6) return entryRefuse('outOfRange', text.trim(), first.at, frogExpected)
  return { ok: true, frog: read.value, writtenAs: 'number' }
}
