import { dataEqual, tableNames } from '../core/plan/index.ts'
import type { Plan, TableName } from '../core/plan/types.ts'
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

export function differenceText(before: Plan, after: Plan, { table, id, what, keys }: PlanDifference): string {
  const name = recordName(what === 'removed' ? before : after, table, id)
  const old = recordName(before, table, id)
  const renamed = what === 'changed' && old !== name ? ` (was ${old})` : ''
  const which = keys.filter((key) => key !== 'name' || keys.length === 1).map(keyText)
  return `${upperFirst(tableWord(table))} ${name}${renamed}: ${whatWords[what]}${which.length === 0 ? '' : ` in ${which.join(', ')}`}.`
}

export function railwayDifferenceText(keys: readonly string[]): string | null {
  return keys.length === 0 ? null : `The railway as a whole differs in ${keys.map(keyText).join(', ')}.`
}

/** `stationMm` → station: the words of the plan file are plain enough to be read. */
const keyText = (key: string): string =>
  key
    .replace(/(?:Mm|Rad)$/, '')
    .replace(/([A-Z])/g, ' $1')
    .toLowerCase()
