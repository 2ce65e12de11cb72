import { recordFind } from '../plan/index.ts'
import type { Id, LineClass, Plan, Silence } from '../plan/types.ts'
import type { Finding } from './types.ts'

/** A finding that the builder has looked at and lives with. */
export interface SilencedFinding {
  readonly finding: Finding
  readonly silence: Silence
}

/** What is left of the findings once the builder has been heard. */
export interface SettledFindings {
  /** As severe as the class of their track tells them. */
  readonly open: readonly Finding[]
  readonly silenced: readonly SilencedFinding[]
  /** Silences of what is not wrong any more. */
  readonly idle: readonly Silence[]
}

/** A finding may wander so far along its track, mm, and is still the one that was silenced. */
const WANDER_MM = 100

/**
 * Takes what the builder said of rules and places into the findings of a plan: what is silenced for a place, and what a line class tells as
 * an error, a warning, or not at all.
 *
 * Outcome: open and silenced together are the findings without those that a class does not tell, each in its order and the same object where
 *          nothing is changed. A silence for a place takes the nearest finding there, if its stretch is no farther than 100 mm; one for a
 *          whole record takes all. A finding of nobody's track (a wall, a car) is told as usual.
 * Throws:  never.
 */
export function settleFindings(plan: Plan, findings: readonly Finding[]): SettledFindings {
  const silences = Object.values(plan.silences)
  const by = new Map<Finding, Silence>()
  const idle: Silence[] = []
  for (const silence of silences) {
    const meant = findingsMeant(silence, findings)
    if (meant.length === 0) idle.push(silence)
    for (const finding of meant) if (!by.has(finding)) by.set(finding, silence)
  }
  const open: Finding[] = []
  const silenced: SilencedFinding[] = []
  for (const finding of findings) {
    const told = toldAs(finding, findingClass(plan, finding))
    const silence = by.get(finding)
    if (told === null) continue
    if (silence === undefined) open.push(told)
    else silenced.push({ finding: told, silence })
  }
  return { open, silenced, idle }
}

/** What a silence would have to say to take this finding, and for this place only where it has one. */
export function silenceOf(finding: Finding, reason: string): Omit<Silence, 'id'> {
  const { rule, table, record, otherRecord, stationFromMm: from, stationToMm: to } = finding
  return { rule, table, record, otherRecord, stationMm: from === null ? null : (from + (to ?? from)) / 2, reason }
}

/** The class whose rules tell a finding; null: that of no track. */
export function findingClass(plan: Plan, { table, record }: Finding): LineClass | null {
  const id = classId(plan, table, record)
  return id === null ? null : recordFind(plan, 'lineClasses', id)
}

function classId(plan: Plan, table: Finding['table'], record: Id): Id | null {
  const ofTrack = (track: Id | undefined): Id | null =>
    track === undefined ? null : (recordFind(plan, 'tracks', track)?.lineClass ?? null)
  switch (table) {
    case 'tracks':
      return ofTrack(record)
    case 'turnouts':
      return ofTrack(recordFind(plan, 'turnouts', record)?.track)
    case 'portals':
      return ofTrack(recordFind(plan, 'portals', record)?.track)
    case 'crossings':
      // One at which nothing was chosen is named by its tracks.
      return ofTrack(recordFind(plan, 'crossings', record)?.track ?? record.split(':')[0])
    case 'makers':
      return recordFind(plan, 'makers', record)?.lineClass ?? null
    default:
      return null
  }
}

function toldAs(finding: Finding, lineClass: LineClass | null): Finding | null {
  const level = lineClass !== null && Object.hasOwn(lineClass.rules, finding.rule) ? lineClass.rules[finding.rule] : undefined
  if (level === 'off') return null
  return level === undefined || level === finding.severity ? finding : { ...finding, severity: level }
}

function findingsMeant(silence: Silence, findings: readonly Finding[]): readonly Finding[] {
  const ofRecord = findings.filter(
    ({ rule, table, record, otherRecord }) =>
      rule === silence.rule && table === silence.table && record === silence.record && otherRecord === silence.otherRecord,
  )
  const { stationMm } = silence
  if (stationMm === null) return ofRecord
  let nearest: Finding | null = null
  let leastMm = WANDER_MM
  for (const finding of ofRecord) {
    const farMm = farFrom(finding, stationMm)
    if (farMm > leastMm || (nearest !== null && farMm === leastMm)) continue
    nearest = finding
    leastMm = farMm
  }
  return nearest === null ? [] : [nearest]
}

function farFrom({ stationFromMm: from, stationToMm: to }: Finding, stationMm: number): number {
  return from === null ? 0 : Math.max(0, from - stationMm, stationMm - (to ?? from))
}
