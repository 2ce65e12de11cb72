import type { ReactNode } from 'react'
import { makerCure } from '../../core/makers/index.ts'
import type { MakerFact, MakerProblem } from '../../core/makers/index.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Id, Maker } from '../../core/plan/types.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { FactRow } from '../fields/ValueField.tsx'
import { Act, Fields, ParticularsHead } from '../particulars/parts.tsx'
import { FindingsOf, RemoveAct } from '../particulars/recordParts.tsx'
import { planEdit } from '../planEdit.ts'
import { makerKeep } from './makerSteps.ts'
import { MakerFields } from './MakerFields.tsx'
import { useMakerPreview } from './makerPreview.ts'
import { factText, kindWords } from './makerText.ts'
import { makerProblemText } from '../../words/makerText.ts'

/** The numbers of a maker; with each change all that it made follows. */
export default function MakerParticulars({ id }: { readonly id: Id }): ReactNode {
  const maker = usePlan((state) => recordFind(state.plan, 'makers', id))
  return maker === null ? <p className="lead">This maker is no longer there.</p> : <MakerNumbersOf maker={maker} />
}

function MakerNumbersOf({ maker }: { readonly maker: Maker }): ReactNode {
  const stores = useStores()
  const plan = usePlan((state) => state.plan)
  const preview = useMakerPreview(maker)
  const keep = makerKeep(stores, maker.id)
  const { id, numbers } = maker
  return (
    <>
      <ParticularsHead title={maker.name} sub={kindWords[numbers.kind].about} />
      <FindingsOf table="makers" id={id} />
      <MakerFields maker={maker} plan={plan} keep={keep} />
      {/* Below what is typed: it comes and goes with every number. */}
      {preview.ok ? (
        <MakerFacts facts={preview.facts} />
      ) : (
        <MakerTrouble maker={maker} problem={preview.problem} onCure={keep((_was, cured: Maker) => cured).commit}>
          What it made stays as it was.
        </MakerTrouble>
      )}
      <MadeList maker={maker} />
      <div className="acts is-column">
        <Act onClick={() => planEdit(stores, { kind: 'maker.takeApart', id })}>Take it apart to edit by hand</Act>
        <RemoveAct table="makers" id={id} />
      </div>
    </>
  )
}

/** Why it cannot be made, with the change that would do for one press. */
export function MakerTrouble({
  maker,
  problem,
  onCure,
  children,
}: {
  readonly maker: Maker
  readonly problem: MakerProblem
  readonly onCure: (cured: Maker) => void
  readonly children?: ReactNode
}): ReactNode {
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const cured = makerCure(maker.numbers, problem)
  return (
    <section className="fields-part" role="status">
      <p className="problems">
        {makerProblemText(problem, plan, prefs)} {children}
      </p>
      {cured === null ? null : (
        <div className="acts">
          <Act onClick={() => onCure({ ...maker, numbers: cured })}>Take what would do</Act>
        </div>
      )}
    </section>
  )
}

export function MakerFacts({ facts }: { readonly facts: readonly MakerFact[] }): ReactNode {
  const prefs = usePrefs((state) => state)
  return (
    <Fields title="As it comes out">
      {facts.map((fact) => {
        const { label, value, origin } = factText(fact, prefs)
        return <FactRow key={fact.name} label={label} value={value} origin={origin} isOver={fact.isOver === true} />
      })}
    </Fields>
  )
}

/** What it made, each a way to its own particulars. */
function MadeList({ maker }: { readonly maker: Maker }): ReactNode {
  const plan = usePlan((state) => state.plan)
  const stores = useStores()
  const made = (['tracks', 'turnouts'] as const).flatMap((table) =>
    maker.made[table].map((id) => ({ table, id, name: recordFind<typeof table>(plan, table, id)?.name ?? id })),
  )
  return (
    <section className="record-list">
      <h3>What it made</h3>
      <ul>
        {made.map(({ table, id, name }) => (
          <li key={`${table} ${id}`}>
            <button type="button" onClick={() => stores.session.getState().select({ kind: 'record', table, id })}>
              <span>{name}</span>
              <span className="note">{table === 'tracks' ? 'track' : 'turnout'}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}
