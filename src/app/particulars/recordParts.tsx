import type { ReactNode } from 'react'
import type { AlignmentProblem } from '../../core/alignment/types.ts'
import type { Finding } from '../../core/checks/types.ts'
import type { PlacementProblem } from '../../core/network/types.ts'
import type { Id, TableName } from '../../core/plan/types.ts'
import type { CrossingProblem } from '../../core/turnout/crossing/types.ts'
import { recordRemove } from '../commands/selectionRemove.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { Act } from './acts.tsx'
import { FindingRow } from '../stages/ChecksStage.tsx'
import { findingText } from '../../words/findingText.ts'
import { tableWord } from '../../words/names.ts'
import { findingsHere } from './findingsHere.ts'
import { alignmentProblemText, crossingProblemText, placementProblemText } from '../../words/problemText.ts'

/** The record at hand; with a corner, only what stands there. */
export interface RecordAt {
  readonly table: TableName
  readonly id: Id
  readonly corner?: Id
}

const listId = 'findings-here'

/**
 * What is wrong with the record at hand, before its numbers, in one line that is always there: findings come a moment after a change
 * and must not push a field from under the hand. The whole of it stands last.
 */
export function FindingsOf(at: RecordAt): ReactNode {
  const here = useFindingsAt(at)
  const isHindered = useHindered(at) !== null
  const [first] = here
  if (first === undefined && !isHindered) return <p className="findings-line soft">Nothing found here</p>
  const more = here.length - 1
  return (
    <button type="button" className="findings-line is-found" title="Go to the findings, below the numbers" onClick={goToList}>
      <strong>{first === undefined || isHindered ? 'It cannot be laid so' : <TitleOf finding={first} />}</strong>{' '}
      <span>{more > 0 ? `and ${more} more below` : 'see below'}</span>
    </button>
  )
}

function TitleOf({ finding }: { readonly finding: Finding }): ReactNode {
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  return findingText(finding, plan, prefs).title
}

/** The focus brings it into view. */
function goToList(): void {
  document.getElementById(listId)?.focus()
}

/** Each finding at the record at hand, with its cure: last, where it pushes nothing when it comes. */
export function FindingsList(at: RecordAt): ReactNode {
  const here = useFindingsAt(at)
  const hindered = useHindered(at)
  if (here.length === 0 && hindered === null) return null
  return (
    <div id={listId} className="findings-here" tabIndex={-1}>
      {hindered === null ? null : <Hindrances hindered={hindered} id={at.id} />}
      {here.length === 0 ? null : (
        <ol aria-label="Findings here">
          {here.map((finding) => (
            <FindingRow key={finding.id} finding={finding} />
          ))}
        </ol>
      )}
    </div>
  )
}

function Hindrances({ hindered, id }: { readonly hindered: Hindered; readonly id: Id }): ReactNode {
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const texts =
    hindered.table === 'tracks'
      ? hindered.problems.map((problem) => alignmentProblemText(problem, plan.tracks[id], plan, prefs))
      : [hindered.table === 'turnouts' ? placementProblemText(hindered.problem, prefs) : crossingProblemText(hindered.problem, prefs)]
  return (
    <ul className="problems" aria-label="What hinders it">
      {texts.map((text) => (
        <li key={text}>{text}</li>
      ))}
    </ul>
  )
}

function useFindingsAt(at: RecordAt): readonly Finding[] {
  const findings = useDerived((state) => state.findings)
  const network = useDerived(({ derived }) => derived.network)
  const plan = usePlan((state) => state.plan)
  return findingsHere(findings, plan, network, at)
}

type Hindered =
  | { readonly table: 'tracks'; readonly problems: readonly AlignmentProblem[] }
  | { readonly table: 'turnouts'; readonly problem: PlacementProblem }
  | { readonly table: 'crossings'; readonly problem: CrossingProblem }

/** What hinders a line or a work on it, as long as no finding says it: findings of a large plan come a moment later. */
function useHindered({ table, id }: RecordAt): Hindered | null {
  const line = useDerived(({ derived }) => derived.network.tracks.get(id)?.alignment)
  const turnout = useDerived(({ derived }) => derived.network.turnouts.get(id)?.result)
  const crossing = useDerived(({ derived }) => derived.network.crossings.get(id)?.result)
  const isFound = useDerived(({ findings }) =>
    findings.some((finding) => finding.table === table && finding.record === id && finding.problem !== null),
  )
  if (isFound) return null
  if (table === 'tracks' && line?.ok === false) return { table, problems: line.problems }
  if (table === 'turnouts' && turnout?.ok === false) return { table, problem: turnout.problem }
  if (table === 'crossings' && crossing?.ok === false) return { table, problem: crossing.problem }
  return null
}

/** Takes the record out of the plan. It asks nothing: undo brings it back. */
export function RemoveAct({ table, id }: { readonly table: TableName; readonly id: Id }): ReactNode {
  const stores = useStores()
  return <Act onClick={() => recordRemove(stores, table, id)}>Take this {tableWord(table)} out</Act>
}
