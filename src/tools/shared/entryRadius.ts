import { lengthParse } from '../../core/units/index.ts'
import type { Prefs } from '../../store/types.ts'
import type { EntryRefusal } from '../types.ts'

export type EntryRadius =
  /** radiusMm null: none was typed. rest: what stands before it. */
  { readonly ok: true; readonly rest: string; readonly radiusMm: number | null } | { readonly ok: false; readonly refusal: EntryRefusal }

/** An r that a number follows, at the beginning or behind a measure. */
const sign = /(?:^|[\s,])r\s*(?=[\d.,¼½¾⅛⅜⅝⅞-])/i

/** The radius in what was typed for a PI: "r30in", or behind its place, "24in<90 r30in". */
export function entryRadius(text: string, units: Prefs['units']): EntryRadius {
  const found = sign.exec(text)
  if (found === null) return { ok: true, rest: text, radiusMm: null }
  const typed = text.slice(found.index + found[0].length).trim()
  const length = lengthParse(typed, { bare: units === 'imperial' ? 'in' : 'mm' })
  if (!length.ok) return { ok: false, refusal: { kind: 'length', problem: length.problem } }
  if (!(length.mm > 0)) return { ok: false, refusal: { kind: 'notPositive', text: typed } }
  return { ok: true, rest: text.slice(0, found.index).trim(), radiusMm: length.mm }
}
