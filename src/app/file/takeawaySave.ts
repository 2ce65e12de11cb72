import { USUAL_MARGIN_MM, USUAL_OVERLAP_MM, type ListRequest } from '../../core/deliver/index.ts'
import type { Engine } from '../../engine/protocol.ts'
import { csvWrite } from '../../formats/csv.ts'
import type { Prefs } from '../../store/types.ts'
import { dayText, sheetOptions } from '../print/sheetChoice.ts'
import { fileSave } from './planFile.ts'

/** Tables to take away: as pages by the engine, or as rows for a spreadsheet. Each is made only when it is what is wanted. */
export interface Takeaway {
  /** Of the file, without its ending. */
  readonly name: string
  readonly pages: () => ListRequest
  readonly rows: () => readonly (readonly string[])[]
}

/** Hands them to the browser; says what was saved. Throws an Error with words for a person. */
export async function takeawaySave(
  kind: 'pdf' | 'csv',
  { name: stem, pages, rows }: Takeaway,
  engine: Engine,
  prefs: Prefs,
): Promise<string> {
  const name = `${stem}.${kind}`
  if (kind === 'csv') {
    fileSave(name, csvWrite(rows()), 'text/csv;charset=utf-8')
    return `Saved as ${name}.`
  }
  const options = sheetOptions(prefs, { marginMm: USUAL_MARGIN_MM, overlapMm: USUAL_OVERLAP_MM, tiling: 'fewest' }, dayText(new Date()))
  if (options === null) throw new Error('Choose a paper in the stage Sheets first.')
  const answer = await engine.lists(pages(), options)
  if (answer.problems.length > 0) throw new Error(answer.problems.join(' '))
  // A copy of its own: the answer may be a view of a larger buffer.
  fileSave(name, new Uint8Array(answer.pdf), 'application/pdf')
  return `Saved as ${name}, ${answer.sheets.length} ${answer.sheets.length === 1 ? 'page' : 'pages'}.`
}
