import { makerOf, recordFind } from '../plan/index.ts'
import type { Plan } from '../plan/types.ts'
import type { Cure, Finding } from './types.ts'

/**
 * What is offered for a finding, the gentlest first: its cures, and behind them the largest radius that fits where that is less than
 * the class asks. It breaks that limit, and whoever has no more room takes it: a curve that is too tight is a line, one that does not fit is none.
 *
 * Units:   mm.
 * Outcome: none where only a hand can help; never such a radius on what a maker made.
 * Throws:  never.
 */
export function curesOffered(finding: Finding, plan: Plan): readonly Cure[] {
  const safe = finding.cure === null ? [] : [finding.cure, ...(finding.others ?? [])]
  const largest = largestThatFits(finding, plan)
  return largest === null ? safe : [...safe, largest]
}

/** True for a cure that sets the largest radius that fits, under that of the class. */
export function isLargestFitting(cure: Cure, { room }: Finding): boolean {
  return cure.kind === 'setRadius' && room !== undefined && cure.radiusMm === room.mostMm && room.mostMm < room.classMm
}

function largestThatFits({ table, record, room }: Finding, plan: Plan): Cure | null {
  const corner = room === undefined || table !== 'tracks' ? undefined : recordFind(plan, 'tracks', record)?.corners[room.corner]
  if (corner === undefined || room === undefined || room.mostMm === null || makerOf(plan, 'tracks', record) !== null) return null
  const { mostMm, leastMm, classMm, radiusMm } = room
  const isLine = mostMm > 0 && mostMm >= (leastMm ?? 0)
  return isLine && mostMm < classMm && mostMm !== radiusMm
    ? { kind: 'setRadius', track: record, corner: corner.id, radiusMm: mostMm }
    : null
}
