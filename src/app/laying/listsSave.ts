import { planMark } from '../../core/deliver/planMark.ts'
import type { Engine } from '../../engine/protocol.ts'
import type { Prefs } from '../../store/types.ts'
import { layingTablesAll } from '../../words/layingLists.ts'
import { tableRows } from '../../words/tableRows.ts'
import { takeawaySave } from '../file/takeawaySave.ts'
import type { ListsNow } from './useLists.ts'

/** Hands all lists to the browser as pages or for a spreadsheet; says what was saved. Throws an Error with words for a person. */
export async function listsSave(kind: 'pdf' | 'csv', { plan, lists, shopping }: ListsNow, engine: Engine, prefs: Prefs): Promise<string> {
  const tables = layingTablesAll(plan, lists, shopping, prefs)
  const pages = { title: 'What to cut and buy', railway: plan.railway.title, planMark: planMark(plan), tables }
  return takeawaySave(kind, { name: 'cut-and-buy', pages: () => pages, rows: () => tableRows(tables) }, engine, prefs)
}
