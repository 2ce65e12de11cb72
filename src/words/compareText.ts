import { dataEqual, tableNames } from '../core/plan/index.ts'
import type { Plan, TableName, Track } from '../core/plan/types.ts'
import { cornersDifferText } from './cornersDiffer.ts'
import { angleText, fineText, frogText, gradeText, lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName, tableWord, upperFirst } from './names.ts'

/** One record that stands in one plan only, or differs. */
export interface PlanDifference {
  readonly table: TableName
  readonly id: string
  readonly what: 'added' | 'removed' | 'changed'
  /** What of it differs, by its keys; empty if it stands in one plan only. */
  readonly keys: readonly string[]
}

/** What the second plan has otherwise than the first, table by table, records by their id. Of the railway as a whole: the keys that differ. */
export function planDifferences(
  before: Plan,
  after: Plan,
): { readonly railway: readonly string[]; readonly records: readonly PlanDifference[] } {
  return {
    railway: keysThatDiffer(before.railway, after.railway),
    records: tableNames.flatMap((table) => {
      const [old, now] = [before[table], after[table]] as readonly { readonly [id: string]: object }[]
      const ids = [...new Set([...Object.keys(old ?? {}), ...Object.keys(now ?? {})])]
      return ids.flatMap((id): readonly PlanDifference[] => {
        const [a, b] = [old?.[id], now?.[id]]
        if (a === undefined) return [{ table, id, what: 'added', keys: [] }]
        if (b === undefined) return [{ table, id, what: 'removed', keys: [] }]
        const keys = keysThatDiffer(a, b)
        return keys.length === 0 ? [] : [{ table, id, what: 'changed', keys }]
      })
    }),
  }
}

function keysThatDiffer(a: object, b: object): readonly string[] {
  const [old, now] = [a, b] as { readonly [key: string]: unknown }[]
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].filter((key) => !dataEqual(old?.[key], now?.[key]))
}

/** Signs beside the words and on the drawing: a difference is told without its colour. */
export const differenceSigns = { added: '+', removed: '−', changed: '≠' } as const

const whatWords = { added: 'only in the second', removed: 'only in the first', changed: 'differs' } as const

export function differenceText(before: Plan, after: Plan, { table, id, what, keys }: PlanDifference, prefs: MeasurePrefs): string {
  const name = recordName(what === 'removed' ? before : after, table, id)
  const old = recordName(before, table, id)
  const renamed = what === 'changed' && old !== name ? ` (was ${old})` : ''
  const which = keys.filter((key) => key !== 'name' || keys.length === 1)
  const [was, is] = [before[table], after[table]] as readonly Values[]
  const told = which.flatMap((key) => keyTold(key, was?.[id], is?.[id], { before, after, prefs }))
  return `${upperFirst(tableWord(table))} ${name}${renamed}: ${whatWords[what]}${told.length === 0 ? '' : ` in ${told.join(', ')}`}.`
}

export function railwayDifferenceText(before: Plan, after: Plan, keys: readonly string[], prefs: MeasurePrefs): string | null {
  if (keys.length === 0) return null
  const told = keys.flatMap((key) => keyTold(key, before.railway, after.railway, { before, after, prefs }))
  return `The railway as a whole differs in ${told.join(', ')}.`
}

interface Between {
  readonly before: Plan
  readonly after: Plan
  readonly prefs: MeasurePrefs
}
type Values = { readonly [key: string]: unknown }

/** What of a record differs, with the numbers of both where it is one; which PIs, of the corners of a track. */
function keyTold(key: string, was: unknown, is: unknown, { before, after, prefs }: Between): readonly string[] {
  if (key === 'corners') return cornersDifferText(was as Track, is as Track, prefs)
  const word = keyText(key)
  const [old, now] = [(was as Values)[key], (is as Values)[key]]
  const pair = (text: (value: never) => string): readonly string[] => {
    const [first, second] = [text(old as never), text(now as never)]
    return [first === second ? word : `${word} (${second}, was ${first})`]
  }
  if (key === 'lineClass') return [`${word} (${className(after, now)}, was ${className(before, old)})`]
  if (isFreeEnd(old) && isFreeEnd(now)) return [`${word} (moved ${lengthText(Math.hypot(now.x - old.x, now.y - old.y), prefs)})`]
  if (typeof old !== 'number' || typeof now !== 'number') return [word]
  // Small sizes in tenths and hundredths, where a sixteenth of an inch is coarser than what differs.
  if (key.endsWith('Mm')) return pair((mm: number) => (Math.abs(now - old) < 0.4 ? fineText(mm, prefs) : lengthText(mm, prefs)))
  if (key.endsWith('Rad')) return pair(angleText)
  if (/frog$/i.test(key)) return pair(frogText)
  if (/grade$/i.test(key)) return pair(gradeText)
  return pair((value: number) => numberText(value, 3))
}

const className = (plan: Plan, id: unknown): string => recordName(plan, 'lineClasses', String(id))

const isFreeEnd = (end: unknown): end is { readonly x: number; readonly y: number } =>
  typeof end === 'object' && end !== null && 'kind' in end && end.kind === 'free'

/** `stationMm` → station: the words of the plan file are plain enough to be read. */
const keyText = (key: string): string =>
  key
    .replace(/(?:Mm|Rad)$/, '')
    .replace(/([A-Z])/g, ' $1')
    .toLowerCase()
