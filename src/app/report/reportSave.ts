import type { SilencedFinding } from '../../core/checks/index.ts'
import type { Finding } from '../../core/checks/types.ts'
import type { Plan } from '../../core/plan/types.ts'
import type { Engine } from '../../engine/protocol.ts'
import { csvWrite } from '../../formats/csv.ts'
import type { Prefs } from '../../store/types.ts'
import { reportList, reportRows } from '../../words/reportText.ts'
import { fileSave } from '../file/planFile.ts'
import { dayText, sheetOptions } from '../print/sheetChoice.ts'

export interface ReportOf {
  readonly engine: Engine
  readonly plan: Plan
  readonly findings: readonly Finding[]
  readonly silenced: readonly SilencedFinding[]
  readonly prefs: Prefs
}

/** A report has no neighbours to overlap; the page wants a number all the same. */
const overlapMm = 10

/** Makes the report of a plan and hands it to the browser; says what was saved. Throws an Error with words for a person. */
export async function reportSave(kind: 'pdf' | 'csv', { engine, plan, findings, silenced, prefs }: ReportOf): Promise<string> {
  const report = await engine.report(plan, { open: findings, silenced })
  const name = `report.${kind}`
  if (kind === 'csv') {
    fileSave(name, csvWrite(reportRows(report, prefs)), 'text/csv;charset=utf-8')
    return `Saved as ${name}.`
  }
  const options = sheetOptions(prefs, overlapMm, dayText(new Date()))
  if (options === null) throw new Error('Choose a paper in the stage Sheets first.')
  const answer = await engine.lists(reportList(report, prefs), options)
  if (answer.problems.length > 0) throw new Error(answer.problems.join(' '))
  // A copy of its own: the answer may be a view of a larger buffer.
  fileSave(name, new Uint8Array(answer.pdf), 'application/pdf')
  return `Saved as ${name}, ${answer.sheets.length} ${answer.sheets.length === 1 ? 'page' : 'pages'}.`
}
