import { useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import { jigKinds, jigSolve, jigUsual, jigWith, pointAngleUsual } from '../../core/jigs/index.ts'
import type { JigKind, JigRequest, JigResult } from '../../core/jigs/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import { jigNames, jigUses } from '../../words/jigText.ts'
import { recordName } from '../../words/names.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { usePlan, usePrefs } from '../context.ts'
import { useDesk } from '../desk.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { JigFields, PrinterFields } from './JigFields.tsx'
import { JigSave } from './JigSave.tsx'
import { JigView } from './JigView.tsx'
import { useSolids } from './useSolids.ts'
import './jigs.css'

/** Numbers typed for each kind, over those that the line class gives. */
type Typed = { readonly [K in JigKind]?: ReadonlyMap<string, number> }

const nothing: ReadonlyMap<string, number> = new Map()

/** Jigs for the bench: chosen, measured, looked at, and saved for the printer or the knife. */
export default function JigsSheet(): ReactNode {
  const plan = usePlan((state) => state.committed)
  const setDesk = useDesk((desk) => desk.set)
  const [kind, setKind] = useState<JigKind>('tieSpacing')
  const [chosenClass, setChosenClass] = useState<string | null>(null)
  const [typed, setTyped] = useState<Typed>({})
  const classes = Object.values(plan.lineClasses)
  const classId = classes.some(({ id }) => id === chosenClass) ? chosenClass : (classes[0]?.id ?? null)
  const typedHere = typed[kind] ?? nothing
  const { request, result } = useJig(plan, classId, kind, typedHere)
  const jig = result?.ok === true ? result.jig : null
  const solids = useSolids(jig)
  const close = (): void => setDesk({ dialog: null })
  const title = [jigNames[kind], plan.railway.title].filter((text) => text.trim() !== '').join(', ')

  return (
    <Sheet onShut={close} look="jigs">
      <header className="jigs-head">
        <Heading slot="title">Jigs to print or cut</Heading>
        <button type="button" className="act" onClick={close}>
          Close
        </button>
      </header>
      <div className="jigs">
        <div className="jigs-numbers">
          <div className="fields">
            <ChoiceField
              label="Jig"
              value={kind}
              choices={jigKinds.map((value) => ({ value, text: jigNames[value] }))}
              onChoose={setKind}
            />
            <ChoiceField
              label="Sizes of"
              value={classId ?? ''}
              choices={classes.map(({ id }) => ({ value: id, text: recordName(plan, 'lineClasses', id) }))}
              onChoose={setChosenClass}
            />
          </div>
          <p className="small soft">{jigUses[kind]}</p>
          {request === null || result === null ? (
            <p>The plan has no line class; a jig takes its sizes from one.</p>
          ) : (
            <JigFields
              request={request}
              typed={typedHere}
              problems={result.ok ? [] : result.problems}
              onType={(name, value) => setTyped({ ...typed, [kind]: new Map([...typedHere, [name, value]]) })}
              onUsual={() => setTyped({ ...typed, [kind]: nothing })}
            />
          )}
          <PrinterFields problems={result === null || result.ok ? [] : result.problems} />
        </div>
        <div className="jigs-look">
          <JigView result={result} solids={solids} />
          <JigSave kind={kind} title={title} jig={jig} solids={solids} />
        </div>
      </div>
    </Sheet>
  )
}

/** The jig of these numbers for the printer at hand; null: there is no class to take numbers from. */
function useJig(
  plan: Plan,
  classId: string | null,
  kind: JigKind,
  typed: ReadonlyMap<string, number>,
): { readonly request: JigRequest | null; readonly result: JigResult | null } {
  const printer = usePrefs((prefs) => prefs.printer)
  const request = useMemo(() => (classId === null ? null : requestOf(plan, classId, kind, typed)), [plan, classId, kind, typed])
  const result = useMemo(() => (request === null ? null : jigSolve(request, printer)), [request, printer])
  return { request, result }
}

/** The class's own jig with what was typed; another frog brings the point angle of its turnout with it, unless that was typed as well. */
function requestOf(plan: Plan, classId: string, kind: JigKind, typed: ReadonlyMap<string, number>): JigRequest | null {
  const lineClass = plan.lineClasses[classId]
  if (lineClass === undefined) return null
  const usual = jigUsual(kind, plan.railway, lineClass)
  const frog = typed.get('frog')
  if (frog === undefined || typed.has('pointAngleRad')) return jigWith(usual, typed)
  return jigWith(usual, new Map([...typed, ['pointAngleRad', pointAngleUsual(plan.railway, lineClass, frog)]]))
}
