import type { SilencedFinding } from '../../core/checks/index.ts'
import type { Finding } from '../../core/checks/types.ts'
import type { Plan } from '../../core/plan/types.ts'
import type { Engine } from '../../engine/protocol.ts'
import type { Prefs } from '../../store/types.ts'
import { reportList, reportRows } from '../../words/reportText.ts'
import { takeawaySave } from '../file/takeawaySave.ts'

export interface ReportOf {
  readonly engine: Engine
  readonly plan: Plan
  readonly findings: readonly Finding[]
  readonly silenced: readonly SilencedFinding[]
  readonly prefs: Prefs
}

/** Makes the report of a plan and hands it to the browser; says what was saved. Throws an Error with words for a person. */
export async function reportSave(kind: 'pdf' | 'csv', { engine, plan, findings, silenced, prefs }: ReportOf): Promise<string> {
  const report = await engine.report(plan, { open: findings, silenced })
  const takeaway = { name: 'report', pages: () => reportList(report, prefs), rows: () => reportRows(report, prefs) }
  return takeawaySave(kind, takeaway, engine, prefs)
}
