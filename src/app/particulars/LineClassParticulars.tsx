import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { EasementRule, Id, LineClass } from '../../core/plan/types.ts'
import { planNextId } from '../../core/plan/index.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { FrogField, GradeField, LengthField, NameField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { ClassCars } from './ClassCars.tsx'
import { ClassCarLengths, ClassRail, ClassRoadbed } from './ClassLaying.tsx'
import { ClassRules } from './ClassRules.tsx'
import { ClassTies } from './ClassTies.tsx'
import { WideningSteps } from './WideningSteps.tsx'
import { Act, Fields, ParticularsHead } from './parts.tsx'
import { RemoveAct } from './recordParts.tsx'

export function LineClassParticulars({ id }: { readonly id: Id }): ReactNode {
  const lineClass = usePlan((state) => state.plan.lineClasses[id])
  const usedBy = usePlan((state) => Object.values(state.plan.tracks).filter((track) => track.lineClass === id).length)
  const stores = useStores()
  const keep = useKeepInPlan()
  if (lineClass === undefined) return <p className="lead">This line class is no longer there.</p>
  const set = (change: Partial<Omit<LineClass, 'id'>>): PlanCommand => ({ kind: 'lineClass.set', id, change })
  return (
    <>
      <ParticularsHead
        title={lineClass.name}
        sub={`Line class · ${usedBy === 0 ? 'no track uses it yet' : `${usedBy} ${usedBy === 1 ? 'track' : 'tracks'}`}`}
      />
      <Fields>
        <NameField label="Name" value={lineClass.name} keep={keep((name) => set({ name }))} />
        <LengthField
          label="Least radius"
          value={lineClass.minRadiusMm}
          origin="findings below it"
          keep={keep((minRadiusMm) => set({ minRadiusMm }))}
        />
        <LengthField
          label="Usual radius"
          value={lineClass.usualRadiusMm}
          origin="by class"
          isOver={lineClass.usualRadiusMm < lineClass.minRadiusMm}
          keep={keep((usualRadiusMm) => set({ usualRadiusMm }))}
        />
        <EasementRuleFields rule={lineClass.easement} onRule={(easement) => planEdit(stores, set({ easement })).problem} />
      </Fields>
      <Fields title="Turnouts">
        <FrogField label="Least frog" value={lineClass.minFrog} keep={keep((minFrog) => set({ minFrog }))} />
        <FrogField label="Usual frog" value={lineClass.usualFrog} keep={keep((usualFrog) => set({ usualFrog }))} />
      </Fields>
      <Fields title="Track">
        <LengthField label="Track centres" value={lineClass.trackCentresMm} keep={keep((trackCentresMm) => set({ trackCentresMm }))} />
        <LengthField
          label="Tie spacing"
          kind="fine"
          value={lineClass.tieSpacingMm}
          origin="centre to centre"
          keep={keep((tieSpacingMm) => set({ tieSpacingMm }))}
        />
        <LengthField
          label="Shortest curve"
          range="zeroUp"
          value={lineClass.minCurveMm}
          origin="0: any"
          keep={keep((minCurveMm) => set({ minCurveMm }))}
        />
        <GradeField
          label="Steepest grade"
          value={lineClass.maxGrade}
          origin="begins a helix; all else is level"
          keep={keep((maxGrade) => set({ maxGrade }))}
        />
      </Fields>
      <ClassRail lineClass={lineClass} keep={keep} set={set} />
      <ClassTies lineClass={lineClass} keep={keep} set={set} />
      <ClassRoadbed lineClass={lineClass} keep={keep} set={set} />
      <ClassCarLengths lineClass={lineClass} keep={keep} set={set} />
      <ClassCars lineClass={lineClass} onCars={(cars) => planEdit(stores, set({ cars }))} />
      <ClassRules lineClass={lineClass} onRules={(rules) => planEdit(stores, set({ rules }))} />
      <WideningSteps lineClass={lineClass} keep={keep} set={(widening) => set({ widening })} />
      <div className="acts is-column">
        <Act
          onClick={() => {
            const { id: _id, ...record } = lineClass
            const next = planNextId(stores.plan.getState().plan, 'lineClasses')
            const done = planEdit(stores, { kind: 'lineClass.add', record: { ...record, id: next, name: `${lineClass.name}, another` } })
            if (done.added !== null) stores.session.getState().select({ kind: 'record', table: 'lineClasses', id: done.added })
          }}
        >
          Make another class like it
        </Act>
        {usedBy === 0 ? <RemoveAct table="lineClasses" id={id} /> : null}
      </div>
    </>
  )
}

/** How the easement follows from the radius: none, a fixed length, or the length that gives a fixed shift. */
function EasementRuleFields({
  rule,
  onRule,
}: {
  readonly rule: EasementRule
  readonly onRule: (rule: EasementRule) => string | null
}): ReactNode {
  const units = usePrefs((prefs) => prefs.units)
  return (
    <>
      <ChoiceField<EasementRule['kind']>
        label="Easements"
        value={rule.kind}
        choices={[
          { value: 'none', text: 'none' },
          { value: 'length', text: 'of one length' },
          { value: 'shift', text: 'of one shift' },
        ]}
        onChoose={(kind) => onRule(ruleOfKind(kind, rule, units))}
      />
      {rule.kind === 'length' ? (
        <LengthField
          label="Length"
          range="zeroUp"
          value={rule.lengthMm}
          keep={{ commit: (lengthMm) => onRule({ kind: 'length', lengthMm }) }}
        />
      ) : null}
      {rule.kind === 'shift' ? (
        <LengthField label="Shift" range="zeroUp" value={rule.shiftMm} keep={{ commit: (shiftMm) => onRule({ kind: 'shift', shiftMm }) }} />
      ) : null}
    </>
  )
}

function ruleOfKind(kind: EasementRule['kind'], before: EasementRule, units: 'imperial' | 'metric'): EasementRule {
  if (kind === before.kind) return before
  switch (kind) {
    case 'none':
      return { kind: 'none' }
    case 'length':
      return { kind: 'length', lengthMm: units === 'metric' ? 300 : 304.8 }
    case 'shift':
      return { kind: 'shift', shiftMm: units === 'metric' ? 10 : 9.525 }
  }
}
