import * as v from 'valibot'
import { dataCopy, dataDepthLimit, dataFreeze } from './data.ts'
import type { DataFault } from './data.ts'
import { issueFault } from './issue.ts'
import { planMigrate } from './migrate.ts'
import type { Migration, OldPlan } from './migrate.ts'
import { migrations as allMigrations } from './migrations/index.ts'
import { referenceProblemFind } from './references.ts'
import type { ReferenceProblem } from './references.ts'
import { knownKeys, planSchema } from './schema.ts'
import { idCompare, planVersion, tableNames } from './tables.ts'
import type { AnyRecord, Plan, Table } from './types.ts'

/** Why a document is not a plan that can be opened. `where` is a dotted path in the document. */
export type PlanProblem =
  /** Not our document at all; found: what stands where `format` should say so. */
  | { readonly kind: 'notAPlan'; readonly found: unknown }
  | { readonly kind: 'newerVersion'; readonly version: number; readonly newest: number }
  | { readonly kind: 'tooDeep'; readonly where: string; readonly limit: number }
  | ({ readonly kind: 'badValue' } & DataFault)
  | { readonly kind: 'broken'; readonly reference: ReferenceProblem }

/** What the reader did or saw that the builder may want to know. */
export type PlanNote =
  | { readonly kind: 'migrated'; readonly from: number; readonly to: number }
  /** Keys of other programs, kept as they are; dotted paths. */
  | { readonly kind: 'unknownKeys'; readonly where: readonly string[] }

export type PlanResult =
  | { readonly ok: true; readonly plan: Plan; readonly notes: readonly PlanNote[] }
  | { readonly ok: false; readonly problem: PlanProblem }

/**
 * A plan from the parsed JSON of a file: checked in every value and reference, brought to the current version, frozen.
 *
 * Domain:    any value. Keys that are not ours live on.
 * Exactness: tables come in the order of their ids; otherwise values are those of the file.
 * Outcome:   the first problem, with its place, what stands there and what would be right.
 * Throws:    never.
 */
export function planParse(json: unknown, migrations: readonly Migration[] = allMigrations): PlanResult {
  const copied = dataCopy(json)
  if (!copied.ok) {
    const { fault } = copied
    const isDeep = fault.where.split('.').length >= dataDepthLimit
    return refuse(isDeep ? { kind: 'tooDeep', where: placeShort(fault.where), limit: dataDepthLimit } : { kind: 'badValue', ...fault })
  }
  const { data } = copied
  if (typeof data !== 'object' || data === null || !isOldPlan(data)) return refuse({ kind: 'notAPlan', found: json })
  if (data['format'] !== 'waybench-plan') return refuse({ kind: 'notAPlan', found: data['format'] })
  const version = data['version']
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    return refuse({ kind: 'badValue', where: 'version', value: version, expected: `a whole number of 1 to ${planVersion}` })
  }
  if (version > planVersion) return refuse({ kind: 'newerVersion', version, newest: planVersion })
  const current = planMigrate(data, version, migrations, planVersion)
  if (current === null) return refuse({ kind: 'badValue', where: 'version', value: version, expected: `version ${planVersion}` })
  // The schema's tables would take a list for an object without keys, and lose what is in it.
  const list = tableNames.find((name) => Array.isArray(current[name]))
  if (list !== undefined) return refuse({ kind: 'badValue', where: list, value: current[list], expected: 'a table of records by id' })
  const parsed = v.safeParse(planSchema, current, { abortEarly: true })
  if (!parsed.success) return refuse({ kind: 'badValue', ...issueFault(parsed.issues[0]) })
  const plan = tablesInOrder(parsed.output)
  const reference = referenceProblemFind(plan)
  if (reference !== null) return refuse({ kind: 'broken', reference })
  return { ok: true, plan: dataFreeze(plan), notes: notesOf(plan, version) }
}

const refuse = (problem: PlanProblem): PlanResult => ({ ok: false, problem })

function isOldPlan(data: object): data is OldPlan {
  return !Array.isArray(data)
}

/** The first keys of a path that may be sixty long. */
function placeShort(where: string): string {
  const keys = where.split('.')
  return keys.length > 6 ? `${keys.slice(0, 6).join('.')}...` : where
}

function tablesInOrder(plan: Plan): Plan {
  const tables = tableNames.map((name): [string, Table<AnyRecord>] => [
    name,
    Object.fromEntries(Object.entries<AnyRecord>(plan[name]).sort(([a], [b]) => idCompare(a, b))),
  ])
  return { ...plan, ...(Object.fromEntries(tables) as Partial<Plan>) }
}

function notesOf(plan: Plan, version: number): readonly PlanNote[] {
  const unknown = unknownKeys(plan)
  return [
    ...(version === planVersion ? [] : [{ kind: 'migrated', from: version, to: planVersion } as const]),
    ...(unknown.length === 0 ? [] : [{ kind: 'unknownKeys', where: unknown } as const]),
  ]
}

/** Keys that the schema does not know, at the top, in the railway, in records and corners. */
function unknownKeys(plan: Plan): readonly string[] {
  const found = strangers(plan, knownKeys.plan, '')
  found.push(...strangers(plan.railway, knownKeys.railway, 'railway.'))
  for (const table of tableNames) {
    const known = knownKeys.record(table)
    for (const record of Object.values<AnyRecord>(plan[table])) found.push(...strangers(record, known, `${table}.${record.id}.`))
  }
  for (const track of Object.values(plan.tracks)) {
    for (const [index, corner] of track.corners.entries()) {
      found.push(...strangers(corner, knownKeys.corner, `tracks.${track.id}.corners.${index}.`))
    }
  }
  return found
}

function strangers(object: object, known: readonly string[], prefix: string): string[] {
  return Object.keys(object)
    .filter((key) => !known.includes(key))
    .map((key) => prefix + key)
}
