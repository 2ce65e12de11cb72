import { entryRefuse, type EntryRefused } from './problem.ts'
import { tokensOf, type Token } from './tokens.ts'

/** A unit as it may be written: its size, and the family within which parts may follow each other (ft, then in). */
export interface UnitForm {
  readonly size: number
  /** The result is divided by this, once: 254/10 keeps 3′ 4″ at 1016 mm exactly where 25.4 would not. */
  readonly per?: number
  readonly family: string
  /** The unit that a bare number after this one has: 3' 4 1/2 means inches. */
  readonly next?: UnitForm
  /** A part in this unit after a larger one stays below this (minutes, seconds). */
  readonly below?: number
}

/** Units by the word or mark that names them, in lower case without a closing point. */
export type UnitForms = Readonly<Record<string, UnitForm>>

export interface QuantityRules {
  readonly units: UnitForms
  /** What a number without a unit means; null: it is refused. */
  readonly bare: UnitForm | null
  /** Largest size of the result that is still believable. */
  readonly max: number
  /** A sample of a right entry, for problems. */
  readonly expected: string
}

export type QuantityResult = { readonly ok: true; readonly value: number } | EntryRefused

interface Read<T> {
  readonly ok: true
  readonly value: T
  readonly next: number
}

/** Reads `sign? part+` where a part is a mixed number and its unit, larger units first. */
export function quantityParse(entry: string, rules: QuantityRules): QuantityResult {
  const tokens = tokensOf(entry)
  const first = tokens[0]
  if (!first) return entryRefuse('empty', '', 0, rules.expected)
  let index = 0
  let sign = 1
  if (first.kind === 'mark' && (first.mark === '-' || first.mark === '+')) {
    sign = first.mark === '-' ? -1 : 1
    index = 1
  }
  if (first.kind === 'word') return entryRefuse('noNumber', entry.trim(), first.at, rules.expected)
  let total = 0
  let previous: UnitForm | null = null
  do {
    const mixed = mixedRead(tokens, index, entry, rules.expected)
    if (!mixed.ok)
      return mixed.problem.kind === 'noNumber' && previous
        ? entryRefuse('unexpected', mixed.problem.text, mixed.problem.at, rules.expected)
        : mixed
    const start = tokens[index]
    const unit = unitRead(tokens, mixed.next, entry, rules, previous, start)
    if (!unit.ok) return unit
    const below: number | undefined = previous ? unit.value.below : undefined
    if (below !== undefined && mixed.value >= below) {
      return entryRefuse('outOfRange', start?.text ?? '', start?.at ?? 0, `less than ${below} here`)
    }
    total += mixed.value * unit.value.size
    previous = unit.value
    index = unit.next
    // 3'-4 1/2": the dash between feet and inches is punctuation.
    const dash: Token | undefined = tokens[index]
    if (dash?.kind === 'mark' && dash.mark === '-' && index + 1 < tokens.length) index += 1
  } while (index < tokens.length)
  total /= previous.per ?? 1
  if (!(total <= rules.max)) return entryRefuse('tooLarge', entry.trim(), first.at, rules.expected)
  return { ok: true, value: total === 0 ? 0 : sign * total }
}

/**
 * A number that may carry a fraction: 40, 40.5, 5/8, 40 1/2, 40-1/2, 40½, ¹¹⁄₆₄.
 * A comma is a decimal comma; where three digits follow it could as well be a thousands mark, and is refused.
 */
export function mixedRead(tokens: readonly Token[], from: number, entry: string, expected: string): Read<number> | EntryRefused {
  const token = tokens[from]
  if (!token) {
    const text = tokens.at(-1)?.text ?? ''
    return entryRefuse('unexpected', text, tokens.at(-1)?.at ?? entry.length, expected)
  }
  if (token.kind === 'fraction') return { ok: true, value: token.value, next: from + 1 }
  if (token.kind === 'power') return entryRefuse('powerOfTen', token.text, token.at, writtenOut(token.value) ?? expected)
  if (token.kind !== 'number') {
    return entryRefuse(token.kind === 'word' ? 'noNumber' : 'unexpected', token.text, token.at, expected)
  }
  if (!Number.isFinite(token.value)) return entryRefuse('tooLarge', token.text, token.at, expected)
  if (/^[1-9]\d{0,2},\d{3}$/.test(token.text)) {
    const [before, after] = token.text.split(',')
    return entryRefuse('ambiguousComma', token.text, token.at, `${before}${after} or ${before}.${after}`)
  }
  const plain = fractionRead(tokens, from, expected)
  if (plain) return plain
  if (!token.isWhole) return { ok: true, value: token.value, next: from + 1 }
  const joint = tokens[from + 1]
  const isDashed = joint?.kind === 'mark' && joint.mark === '-'
  const at = isDashed ? from + 2 : from + 1
  const follower = tokens[at]
  if (follower?.kind === 'fraction') return { ok: true, value: token.value + follower.value, next: at + 1 }
  const fraction = fractionRead(tokens, at, expected)
  if (fraction?.ok) return { ok: true, value: token.value + fraction.value, next: fraction.next }
  return fraction ?? { ok: true, value: token.value, next: from + 1 }
}

/** A power of ten as one writes it at a bench; null where that would be a row of noughts. */
function writtenOut(value: number): string | null {
  const text = String(value)
  return /^[\d.]{1,12}$/.test(text) ? text : null
}

/** `whole / whole`; null when no slash follows the number. */
function fractionRead(tokens: readonly Token[], from: number, expected: string): Read<number> | EntryRefused | null {
  const [over, slash, under] = [tokens[from], tokens[from + 1], tokens[from + 2]]
  if (over?.kind !== 'number' || slash?.kind !== 'mark' || slash.mark !== '/') return null
  if (!over.isWhole) return entryRefuse('unexpected', slash.text, slash.at, 'a fraction of whole numbers, such as 5/8')
  if (under?.kind !== 'number' || !under.isWhole) {
    const wrong = under ?? slash
    return entryRefuse('unexpected', wrong.text, wrong.at, 'a fraction of whole numbers, such as 5/8')
  }
  if (under.value === 0) return entryRefuse('zeroDenominator', under.text, under.at, expected)
  return { ok: true, value: over.value / under.value, next: from + 3 }
}

function unitRead(
  tokens: readonly Token[],
  at: number,
  entry: string,
  rules: QuantityRules,
  previous: UnitForm | null,
  start: Token | undefined,
): Read<UnitForm> | EntryRefused {
  const token = tokens[at]
  const named = token?.kind === 'word' || token?.kind === 'mark' ? rules.units[token.text.toLowerCase().replace(/\.$/, '')] : undefined
  const marked = token?.kind === 'mark' ? rules.units[token.mark] : undefined
  const unit = named ?? marked
  if (unit && token) {
    if (previous && (unit.family !== previous.family || unit.size >= previous.size)) {
      return entryRefuse('unitOrder', token.text, token.at, rules.expected)
    }
    return { ok: true, value: unit, next: at + 1 }
  }
  if (token?.kind === 'word') return entryRefuse('unknownUnit', token.text, token.at, rules.expected)
  if (token) return entryRefuse('unexpected', token.text, token.at, rules.expected)
  const implied = previous ? previous.next : rules.bare
  if (implied) return { ok: true, value: implied, next: at }
  return previous
    ? entryRefuse('unitMissing', start?.text ?? '', start?.at ?? 0, rules.expected)
    : entryRefuse('unitMissing', entry.trim(), start?.at ?? 0, rules.expected)
}
