import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import { kindUsual } from '../../core/network/index.ts'
import type { Turnout, TurnoutKind } from '../../core/plan/types.ts'
import { useDerived, useStores } from '../context.ts'
import { FrogField, LengthField, NumberField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { turnoutKindChoices } from '../../words/turnoutText.ts'

/** What kind of turnout it is, and the numbers that this kind has beyond the frog. */
export function TurnoutKindFields({ turnout }: { readonly turnout: Turnout }): ReactNode {
  const stores = useStores()
  const keep = useKeepInPlan()
  const host = useDerived((state) => state.derived.network.tracks.get(turnout.track))
  const { kind, frog } = turnout
  const set = (next: TurnoutKind): PlanCommand => ({ kind: 'turnout.set', id: turnout.id, change: { kind: next } })
  return (
    <>
      <ChoiceField
        label="Kind"
        value={kind.kind}
        choices={turnoutKindChoices}
        onChoose={(of) => {
          if (host !== undefined && of !== kind.kind) planEdit(stores, set(kindUsual(of, host, frog)))
        }}
      />
      {kind.kind === 'wye' ? (
        <NumberField
          label="Share"
          value={Math.round(kind.share * 1000) / 10}
          decimals={1}
          min={1}
          max={99}
          stepBy={5}
          origin="% of the frog angle to its hand"
          keep={keep((percent) => set({ kind: 'wye', share: percent / 100 }))}
        />
      ) : null}
      {kind.kind === 'three-way' ? (
        <>
          <FrogField
            label="Second frog"
            value={kind.secondFrog}
            origin="to the other hand"
            keep={keep((secondFrog) => set({ ...kind, secondFrog }))}
          />
          <LengthField
            label="Second points"
            kind="fine"
            range="zeroUp"
            value={kind.secondAfterMm}
            origin="behind the first; 0: at one place"
            keep={keep((secondAfterMm) => set({ ...kind, secondAfterMm }))}
          />
        </>
      ) : null}
    </>
  )
}
