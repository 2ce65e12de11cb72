import { recordFind } from '../plan/index.ts'
import type { Id, LineClass, Plan, Silence } from '../plan/types.ts'
import type { Finding, Stage } from './types.ts'

/** A finding that the builder has looked at and lives with. */
export interface SilencedFinding {
  readonly finding: Finding
  readonly silence: Silence
}

/** What is left of the findings once the builder has been heard. */
export interface SettledFindings {
  /** As severe as the class of their track tells them, stage by stage; what waits for another stands behind all others of its stage. */
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
 * Outcome: open and silenced together are the findings without those that a class does not tell, those of a stage in their order and the same
 *          object where nothing is changed. What only waits for another open finding names it, and is cured in its stage. A silence for a place takes the nearest finding there, if its stretch is no farther than 100 mm; one for a
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
  return { open: inTurn(plan, open), silenced, idle }
}

/** In the order in which a railway is made. */
const stages: readonly Stage[] = ['room', 'line', 'turnouts', 'roadbed', 'track']

function inTurn(plan: Plan, open: readonly Finding[]): readonly Finding[] {
  const named = open.map((finding): Finding => {
    const cause = causeOf(plan, finding, open)
    return cause === null
      ? finding
      : { ...finding, stage: cause.stage, waitsFor: { id: cause.id, table: cause.table, record: cause.record } }
  })
  const rank = ({ stage, waitsFor }: Finding): number => 2 * stages.indexOf(stage) + (waitsFor === undefined ? 0 : 1)
  return named.toSorted((a, b) => rank(a) - rank(b))
}

/** Why a track whose turnout has no place has no line: the turnout's own fault, else that of the track it stands on, down to what waits for nothing. */
function causeOf(plan: Plan, finding: Finding, open: readonly Finding[]): Finding | null {
  let cause: Finding | undefined = finding
  for (const seen = new Set<Finding>(); cause?.problem?.kind === 'legUnsolved'; ) {
    if (seen.has(cause)) return null
    seen.add(cause)
    const turnout: Id = cause.problem.turnout
    const host = recordFind(plan, 'turnouts', turnout)?.track
    const own: Finding | undefined = open.find(({ id }) => id === `turnout-place:${turnout}`)
    cause =
      own ??
      open.find(({ rule, table, record }) => table === 'tracks' && record === host && (rule === 'alignment' || rule === 'easement-fit'))
  }
  return cause === finding ? null : (cause ?? null)
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
