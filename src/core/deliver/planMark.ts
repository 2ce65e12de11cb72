import { keptFor } from '../plan/index.ts'
import type { Plan } from '../plan/types.ts'

/** Figures and letters that are not taken for one another when read aloud or off a smudged copy. */
const SIGNS = '23456789ABCDEFGHJKMNPQRSTUVWXYZ'
const LENGTH = 6

/**
 * A short mark of a plan's state: two plans of the same content have the same, whatever the order of their records; two that
 * differ have another one but for a chance of one in 900 million. Sheets carry it, to be told from those of an earlier state.
 */
export const planMark = keptFor((plan: Plan): string => {
  let rest = textHash(contentText(plan))
  let mark = ''
  for (let i = 0; i < LENGTH; i++) {
    mark += SIGNS.charAt(rest % SIGNS.length)
    rest = Math.floor(rest / SIGNS.length)
  }
  return mark
})

/** All that is in a value, keys in the order of their letters. */
function contentText(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(contentText).join()}]`
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? ''
  const entries = Object.entries(value).filter(([, one]) => one !== undefined)
  return `{${entries
    .toSorted(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
    .map(([key, one]) => `${JSON.stringify(key)}:${contentText(one)}`)
    .join()}}`
}

/** 52 bits: two runs of the FNV-1a hash, whose offset and prime are Fowler's, Noll's and Vo's; the second starts elsewhere. */
function textHash(text: string): number {
  let [a, b] = [0x811c9dc5, 0x9e3779b9]
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i)
    a = Math.imul(a ^ code, 0x01000193)
    b = Math.imul(b ^ code, 0x01000193)
    // The low bits of a product know nothing of the high ones: fold them in.
    b ^= b >>> 15
  }
  return (a >>> 0) * 2 ** 20 + ((b >>> 0) & 0xfffff)
}
