import { knownKeys, planParse, tableNames } from '../core/plan/index.ts'
import type { AnyRecord, Plan, PlanNote, PlanProblem } from '../core/plan/index.ts'
import { jsonFaultFind } from './jsonFault.ts'
import type { JsonFault } from './jsonFault.ts'

/**
 * A larger file is refused before it is read. A plan of 200 tracks with eight corners each and 100 turnouts has 0.4 MB
 * and is read in some 50 ms; this leaves room for what other programs may keep in it, and reading still ends within seconds.
 */
export const planSizeLimit = 32 * 1024 * 1024

/** Why a file cannot be opened: what is wrong with it as a text, or with the plan in it. */
export type PlanFileProblem =
  | { readonly kind: 'tooLarge'; readonly size: number; readonly limit: number }
  | { readonly kind: 'empty' }
  /** The text breaks off: what is there so far may be right. */
  | ({ readonly kind: 'truncated' } & JsonFault)
  | ({ readonly kind: 'damaged' } & JsonFault)
  | { readonly kind: 'unreadable'; readonly reason: string }
  | PlanProblem

export type PlanFileResult =
  | { readonly ok: true; readonly plan: Plan; readonly notes: readonly PlanNote[] }
  | { readonly ok: false; readonly problem: PlanFileProblem }

/**
 * A plan from the text of its file.
 *
 * Domain:  any text; size in characters is checked first.
 * Outcome: the plan and notes on it, or the first problem with its place.
 * Throws:  never.
 */
export function planRead(text: string): PlanFileResult {
  if (text.length > planSizeLimit) return refuse({ kind: 'tooLarge', size: text.length, limit: planSizeLimit })
  const body = text.startsWith('\uFEFF') ? text.slice(1) : text
  if (body.trim() === '') return refuse({ kind: 'empty' })
  let json: unknown
  try {
    json = JSON.parse(body)
  } catch (error) {
    const fault = jsonFaultFind(body)
    if (fault === null) return refuse({ kind: 'unreadable', reason: error instanceof Error ? error.message : String(error) })
    return refuse({ kind: fault.found === null ? 'truncated' : 'damaged', ...fault })
  }
  return planParse(json)
}

/** A plan from a file that the person chose: its size is looked at before anything is read. */
export async function planFileRead(file: Blob): Promise<PlanFileResult> {
  if (file.size > planSizeLimit) return refuse({ kind: 'tooLarge', size: file.size, limit: planSizeLimit })
  try {
    return planRead(await file.text())
  } catch (error) {
    // The file went away or may not be read: the system's words are all that is known.
    return refuse({ kind: 'unreadable', reason: error instanceof Error ? error.message : String(error) })
  }
}

const refuse = (problem: PlanFileProblem): PlanFileResult => ({ ok: false, problem })

/**
 * The text of a plan file: two-space JSON, line feed at the end.
 *
 * Exactness: reading it gives an equal plan; equal plans give equal bytes, because known keys come in the order of the schema, records by id,
 *            keys of other programs after ours in the order of the alphabet.
 */
export function planWrite(plan: Plan): string {
  const tables = tableNames.map((table): [string, object] => [
    table,
    Object.fromEntries(Object.entries<AnyRecord>(plan[table]).map(([id, record]) => [id, recordInOrder(record, knownKeys.record(table))])),
  ])
  const ordered = { ...plan, railway: inOrder(plan.railway, knownKeys.railway), ...Object.fromEntries(tables) }
  return `${JSON.stringify(inOrder(ordered, knownKeys.plan), null, 2)}\n`
}

function recordInOrder(record: AnyRecord, known: readonly string[]): object {
  const ordered = 'corners' in record ? { ...record, corners: record.corners.map((corner) => inOrder(corner, knownKeys.corner)) } : record
  return inOrder(ordered, known)
}

function inOrder(object: object, known: readonly string[]): object {
  const rank = (key: string): number => (known.includes(key) ? known.indexOf(key) : known.length)
  const compare = (a: string, b: string): number => rank(a) - rank(b) || (a < b ? -1 : 1)
  return Object.fromEntries(Object.entries(object).sort(([a], [b]) => compare(a, b)))
}

/** Name under which a plan is saved: its title in letters that every file system takes. */
export function planFileName(plan: Plan): string {
  const stem = plan.railway.title
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase()
    .slice(0, 60)
  return `${stem === '' ? 'railway' : stem}.json`
}
