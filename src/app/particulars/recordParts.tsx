import type { ReactNode } from 'react'
import type { Id, TableName, Track } from '../../core/plan/types.ts'
import { recordRemove } from '../commands/selectionRemove.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { Act } from './acts.tsx'
import { FindingRow } from '../stages/ChecksStage.tsx'
import { tableWord } from '../../words/names.ts'
import { alignmentProblemText } from '../../words/problemText.ts'

/** What is wrong with the record at hand, before its numbers. With a corner: only what is wrong there. */
export function FindingsOf({ table, id, corner }: { readonly table: TableName; readonly id: Id; readonly corner?: Id }): ReactNode {
  const findings = useDerived((state) => state.findings)
  const here = findings.filter(
    (finding) => finding.table === table && finding.record === id && (corner === undefined || finding.corner === corner),
  )
  if (here.length === 0) return null
  return (
    <ol className="findings-here" aria-label="Findings here">
      {here.map((finding) => (
        <FindingRow key={finding.id} finding={finding} />
      ))}
    </ol>
  )
}

/** What hinders a line, as long as no finding says it: findings of a large plan come a moment later. */
export function LineProblems({ track }: { readonly track: Track }): ReactNode {
  const alignment = useDerived((state) => state.derived.network.tracks.get(track.id)?.alignment)
  const isFound = useDerived((state) => state.findings.some((finding) => finding.record === track.id && finding.problem !== null))
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  if (alignment === undefined || alignment.ok || isFound) return null
  return (
    <ul className="problems" aria-label="What hinders the line">
      {alignment.problems.map((problem) => {
        const text = alignmentProblemText(problem, track, plan, prefs)
        return <li key={text}>{text}</li>
      })}
    </ul>
  )
}

/** Takes the record out of the plan. It asks nothing: undo brings it back. */
export function RemoveAct({ table, id }: { readonly table: TableName; readonly id: Id }): ReactNode {
  const stores = useStores()
  return <Act onClick={() => recordRemove(stores, table, id)}>Take this {tableWord(table)} out</Act>
}
