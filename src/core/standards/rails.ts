import { railSections } from './rails.data.ts'
import type { Sourced } from './source.ts'

/** A rail section in mm. */
export interface Rail extends Sourced {
  readonly code: number
  readonly heightMm: number
  readonly footMm: number
  readonly headMm: number
}

const mm = (inches: number): number => Math.round(inches * 25.4 * 1e6) / 1e6

/**
 * The section of a rail code, mm.
 *
 * Domain:     code > 0; others give null.
 * Exactness:  printed codes as printed. Codes between two of them are interpolated in height; codes beyond the ends keep
 *             the proportions of the end section. Both are marked 'derived'.
 * Source:     [NMRA-RP-15.1 table 1]
 */
export function railByCode(code: number): Rail | null {
  if (!(code > 0) || !Number.isFinite(code)) return null
  const upperIndex = railSections.findIndex((section) => section.code >= code)
  const upper = railSections[upperIndex < 0 ? railSections.length - 1 : upperIndex]
  const lower = railSections[upperIndex < 0 ? railSections.length - 1 : Math.max(0, upperIndex - 1)]
  if (!upper || !lower) return null
  const from = { source: upper.source, clause: upper.clause } as const
  const heightIn = code / 1000
  if (upper.code === code) {
    return { code, heightMm: mm(upper.heightIn), footMm: mm(upper.baseIn), headMm: mm(upper.headIn), ...from, status: 'read' }
  }
  const isBetween = upper.code !== lower.code && code > lower.code && code < upper.code
  const share = isBetween ? (code - lower.code) / (upper.code - lower.code) : 0
  const base = isBetween ? lower.baseIn + share * (upper.baseIn - lower.baseIn) : (upper.baseIn * code) / upper.code
  const head = isBetween ? lower.headIn + share * (upper.headIn - lower.headIn) : (upper.headIn * code) / upper.code
  return { code, heightMm: mm(heightIn), footMm: mm(base), headMm: mm(head), ...from, status: 'derived' }
}
