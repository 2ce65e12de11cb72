import type { Engine } from '../../engine/protocol.ts'
import { csvWrite } from '../../formats/csv.ts'
import type { Prefs } from '../../store/types.ts'
import { layingTablesAll, tableRows } from '../../words/layingLists.ts'
import { fileSave } from '../file/planFile.ts'
import { dayText, sheetOptions } from '../print/sheetChoice.ts'
import type { ListsNow } from './useLists.ts'

/** A list has no neighbours to overlap; the page wants a number all the same. */
const overlapMm = 10

/** Hands all lists to the browser as pages or for a spreadsheet; says what was saved. Throws an Error with words for a person. */
export async function listsSave(kind: 'pdf' | 'csv', lists: ListsNow, engine: Engine, prefs: Prefs): Promise<string> {
  const { plan, shopping } = lists
  const tables = layingTablesAll(plan, lists.lists, shopping, prefs)
  const name = `cut-and-buy.${kind}`
  if (kind === 'csv') {
    fileSave(name, csvWrite(tableRows(tables)), 'text/csv;charset=utf-8')
    return `Saved as ${name}.`
  }
  const options = sheetOptions(prefs, overlapMm, dayText(new Date()))
  if (options === null) throw new Error('Choose a paper in the stage Sheets first.')
  const answer = await engine.lists({ title: 'What to cut and buy', railway: plan.railway.title, tables }, options)
  if (answer.problems.length > 0) throw new Error(answer.problems.join(' '))
  // A copy of its own: the answer may be a view of a larger buffer.
  fileSave(name, new Uint8Array(answer.pdf), 'application/pdf')
  return `Saved as ${name}, ${answer.sheets.length} ${answer.sheets.length === 1 ? 'page' : 'pages'}.`
}
