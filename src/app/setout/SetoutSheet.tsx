import { useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import type { Alignment } from '../../core/alignment/types.ts'
import { setoutLengthText, setoutSubject, setoutTable } from '../../core/deliver/index.ts'
import type { SetoutSubject } from '../../core/deliver/index.ts'
import type { Id, Track } from '../../core/plan/types.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { CsvAct } from '../file/CsvAct.tsx'
import { fineText } from '../../words/measure.ts'
import { choiceFirst, edgeChoices, marksChoices, marksOf, marksValue, methodChoices, requestOf, stretchChoices } from './setoutChoice.ts'
import type { SetoutChoice } from './setoutChoice.ts'
import { SetoutTables } from './SetoutTables.tsx'
import { setoutRows } from '../../words/setoutRows.ts'
import { setoutProblemText } from '../../words/setoutText.ts'
import './setout.css'

/** Tables to set a track out by without paper. They follow the plan while they are open. */
export default function SetoutSheet({ track: id, onShut }: { readonly track: Id; readonly onShut: () => void }): ReactNode {
  const track = usePlan((state) => state.committed.tracks[id])
  const alignment = useDerived((state) => state.derived.network.tracks.get(id)?.alignment)
  return (
    <Sheet onShut={onShut} look="setout">
      {track === undefined || alignment === undefined || !alignment.ok ? (
        <>
          <Heading slot="title">Set out at the bench</Heading>
          <p>This track has no solved line: its particulars say what hinders it.</p>
          <Acts onShut={onShut} canPrint={false} />
        </>
      ) : (
        <Setout track={track} alignment={alignment} onShut={onShut} />
      )}
    </Sheet>
  )
}

function Setout(props: {
  readonly track: Track
  readonly alignment: Extract<Alignment, { ok: true }>
  readonly onShut: () => void
}): ReactNode {
  const { track, alignment, onShut } = props
  const plan = usePlan((state) => state.committed)
  const prefs = usePrefs((state) => state)
  const stores = useStores()
  const subject = useMemo(() => setoutSubject(plan, alignment), [plan, alignment])
  const [choice, setChoice] = useState<SetoutChoice>(() => {
    const { selection } = stores.session.getState()
    const corner = selection.kind === 'corner' ? track.corners.findIndex((it) => it.id === selection.corner) : null
    return choiceFirst(subject, corner, prefs)
  })
  const [withExact, setWithExact] = useState(false)
  const change = (part: Partial<SetoutChoice>): void => setChoice((before) => ({ ...before, ...part }))
  const marks = marksOf(choice.marks, prefs.units)
  const made = useMemo(() => setoutTable(subject, requestOf(choice, subject, prefs.units)), [subject, choice, prefs.units])
  const how = methodChoices.find(({ value }) => value === choice.method)?.how
  return (
    <>
      <header className="setout-head">
        <Heading slot="title">Set out {track.name} at the bench</Heading>
        <p className="soft small">
          {plan.railway.title}
          {made.ok
            ? ` · station ${setoutLengthText(made.table.fromMm, marks)} to ${setoutLengthText(made.table.toMm, marks)}, along the centreline`
            : ''}
        </p>
      </header>
      <div className="setout-columns">
        <div className="setout-asks">
          <Asks choice={choice} subject={subject} change={change} />
          <div className="acts is-column">
            <button type="button" className="act" aria-pressed={withExact} onClick={() => setWithExact(!withExact)}>
              Exact values beside
            </button>
          </div>
          <Acts onShut={onShut} canPrint={made.ok}>
            {made.ok ? <CsvAct of={`${track.id}-setout`} rows={() => setoutRows(made.table)} /> : null}
          </Acts>
        </div>
        <div className="setout-answer" role="region" aria-label="Table">
          <p className="setout-how">{how}</p>
          {made.ok ? (
            <>
              <p className="small">
                Rounded to {marksValue(marks)} {marks.units === 'imperial' ? 'in' : 'mm'}, no point comes more than{' '}
                <strong>{fineText(made.table.errorMm, prefs)}</strong> from its place.
              </p>
              <SetoutTables table={made.table} withExact={withExact} />
            </>
          ) : (
            <p className="setout-none" role="status">
              {setoutProblemText(made.problem, marks)}
            </p>
          )}
        </div>
      </div>
    </>
  )
}

function Asks(props: {
  readonly choice: SetoutChoice
  readonly subject: SetoutSubject
  readonly change: (part: Partial<SetoutChoice>) => void
}): ReactNode {
  const { choice, subject, change } = props
  const units = usePrefs((prefs) => prefs.units)
  const { method } = choice
  const takesSteps = method !== 'trammel' && method !== 'lath'
  return (
    <div className="fields">
      <ChoiceField label="By" value={method} choices={methodChoices} onChoose={(value) => change({ method: value })} />
      <ChoiceField label="Stretch" value={choice.stretch} choices={stretchChoices(subject)} onChoose={(stretch) => change({ stretch })} />
      {choice.stretch === 'stations' ? (
        <>
          <LengthField label="From station" range="zeroUp" value={choice.fromMm} keep={keepIn((fromMm) => change({ fromMm }))} />
          <LengthField label="To station" value={choice.toMm} keep={keepIn((toMm) => change({ toMm }))} />
        </>
      ) : null}
      {method === 'offset' ? (
        <ChoiceField
          label="Measured from"
          value={choice.datum}
          choices={[
            { value: 'TS', text: 'the ends of the easements (TS and ST)' },
            { value: 'PI', text: 'the corner of the line (PI)' },
          ]}
          onChoose={(datum) => change({ datum })}
        />
      ) : null}
      {method === 'deflection' ? (
        <ChoiceField
          label="Instrument"
          value={choice.instrument}
          choices={[
            { value: 'curves', text: 'where easements begin and end (TS, SC and CS)' },
            { value: 'start', text: 'at the first point only' },
          ]}
          onChoose={(instrument) => change({ instrument })}
        />
      ) : null}
      {method === 'edge' ? (
        <ChoiceField label="Edge" value={choice.edge} choices={edgeChoices(subject)} onChoose={(edge) => change({ edge })} />
      ) : null}
      {method === 'stick' ? <LengthField label="Stick" value={choice.stickMm} keep={keepIn((stickMm) => change({ stickMm }))} /> : null}
      {method === 'lath' ? (
        <LengthField label="Pinned over" value={choice.pinnedMm} keep={keepIn((pinnedMm) => change({ pinnedMm }))} />
      ) : null}
      {takesSteps ? (
        <LengthField
          label={method === 'deflection' ? 'Chord' : 'Step'}
          value={choice.stepMm}
          keep={keepIn((stepMm) => change({ stepMm }))}
        />
      ) : null}
      <ChoiceField
        label="Rounded to"
        value={marksValue(marksOf(choice.marks, units))}
        choices={marksChoices(units)}
        onChoose={(marks) => change({ marks })}
      />
    </div>
  )
}

interface ActsProps {
  readonly onShut: () => void
  readonly canPrint: boolean
  readonly children?: ReactNode
}

function Acts({ onShut, canPrint, children }: ActsProps): ReactNode {
  return (
    <div className="acts">
      {canPrint ? (
        <button type="button" className="act is-main" onClick={() => window.print()}>
          Print
        </button>
      ) : null}
      {children}
      <button type="button" className="act" onClick={onShut}>
        Close
      </button>
    </div>
  )
}
