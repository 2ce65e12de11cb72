import type { Finding } from '../core/checks/types.ts'
import type { Plan } from '../core/plan/types.ts'
import { findingPlace, findingText } from './findingText.ts'
import type { MeasurePrefs } from './measure.ts'

/** What a cure would change among the findings of a plan. */
export interface CureOutcome {
  /** The finding as it then is; null: it is cured. */
  readonly left: Finding | null
  /** Other findings that go with it. */
  readonly gone: readonly Finding[]
  /** Findings that were not there before. */
  readonly come: readonly Finding[]
}

/** A finding whose name changed with its place is the same while it has moved along its track by no more than this, mm. */
const sameWithinMm = 150

/** Findings of one rule and record that lie in several places are counted in their ids; which is which of them their place alone tells. */
const isCounted = ({ id }: Finding): boolean => /:\d+$/.test(id)

/**
 * The findings before and after a cure. Those with a name of their own are matched by it; the rest, of one rule and the same records, by
 * the nearest place: a finding that has moved is neither cured nor new, and one that is now counted as the first was another before.
 */
export function cureOutcome(cured: Finding, before: readonly Finding[], after: readonly Finding[]): CureOutcome {
  const now = new Map(after.map((finding) => [finding.id, finding]))
  const matched = new Map<Finding, Finding>()
  for (const finding of before) {
    const same = now.get(finding.id)
    if (same !== undefined && !isCounted(finding)) matched.set(finding, same)
  }
  const free = new Set(after)
  for (const finding of matched.values()) free.delete(finding)
  const pairs = before
    .filter((finding) => !matched.has(finding))
    .flatMap((was) => [...free].flatMap((is) => (isAlike(was, is) ? [{ was, is, farMm: farBetween(was, is) }] : [])))
    .filter(({ farMm }) => farMm <= sameWithinMm)
    .toSorted((a, b) => a.farMm - b.farMm || Number(b.was.id === b.is.id) - Number(a.was.id === a.is.id))
  for (const { was, is } of pairs) {
    if (matched.has(was) || !free.has(is)) continue
    matched.set(was, is)
    free.delete(is)
  }
  return {
    left: matched.get(before.find(({ id }) => id === cured.id) ?? cured) ?? null,
    gone: before.filter((finding) => finding.id !== cured.id && !matched.has(finding)),
    come: after.filter((finding) => free.has(finding)),
  }
}

function isAlike(a: Finding, b: Finding): boolean {
  return a.rule === b.rule && a.table === b.table && a.record === b.record && a.otherRecord === b.otherRecord
}

/** Between the stretches of two findings, 0 where they overlap, or between their places where that is less: a curve before them shifts all stations. mm. */
function farBetween(a: Finding, b: Finding): number {
  const apartMm = Math.hypot(a.x - b.x, a.y - b.y)
  if (a.stationFromMm === null || b.stationFromMm === null) return apartMm
  const [aTo, bTo] = [a.stationToMm ?? a.stationFromMm, b.stationToMm ?? b.stationFromMm]
  return Math.min(apartMm, Math.max(0, a.stationFromMm - bTo, b.stationFromMm - aTo))
}

/** The outcome of a cure in sentences. plan: as it would be. */
export function cureOutcomeText({ left, gone, come }: CureOutcome, plan: Plan, prefs: MeasurePrefs): readonly string[] {
  const named = (finding: Finding): string => `${findingText(finding, plan, prefs).title} (${findingPlace(finding, plan)})`
  return [
    left === null ? 'It cures this.' : `It does not cure this: ${findingText(left, plan, prefs).body}`,
    ...(gone.length === 0 ? [] : [`It cures ${gone.length === 1 ? 'another finding' : `${gone.length} other findings`} too.`]),
    come.length === 0
      ? 'It brings no new finding.'
      : `It brings ${come.length === 1 ? 'a new finding' : `${come.length} new findings`}: ${come.slice(0, 3).map(named).join('; ')}${come.length > 3 ? '; and more' : ''}.`,
  ]
}
