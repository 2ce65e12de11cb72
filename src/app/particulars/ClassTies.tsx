import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import { tieOf } from '../../core/plan/index.ts'
import type { LineClass, Railway, TieSize } from '../../core/plan/types.ts'
import { tiePresetList, tiesOfPreset } from '../../core/standards/index.ts'
import { usePlan, useStores } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import { planEdit } from '../planEdit.ts'
import type { useKeepInPlan } from '../planEdit.ts'
import { Fields } from './parts.tsx'

/** Ties beside a joint start out closer by a tenth; to be changed. Full size 17 1/2 in for 19 1/2 in. */
const firstCloser = 0.9
/** Sizes that differ by less are the same: presets are told to a thousandth of a mm. */
const sameMm = 0.01

/** The ties of a class: the railway's, those of a time and kind of railway, or of a size of its own; and how close they are at joints. */
export function ClassTies({
  lineClass,
  keep,
  set,
}: {
  readonly lineClass: LineClass
  readonly keep: ReturnType<typeof useKeepInPlan>
  readonly set: (change: Partial<Omit<LineClass, 'id'>>) => PlanCommand
}): ReactNode {
  const stores = useStores()
  const railway = usePlan((state) => state.plan.railway)
  const { tie, jointTieSpacingMm, tieSpacingMm } = lineClass
  const own = tieOf(lineClass, railway)
  const presets = tiePresetList()
  const choose = (value: string): void => {
    const preset = presets.find(({ key }) => key === value)
    if (preset) planEdit(stores, set(tiesOfPreset(preset, railway)))
    else planEdit(stores, set({ tie: value === 'railway' ? 'railway' : own }))
  }
  return (
    <Fields title="Ties">
      <ChoiceField
        label="Ties"
        value={tie === 'railway' ? 'railway' : (presetOf(lineClass, railway) ?? 'own')}
        choices={[
          { value: 'railway', text: 'as the railway has them' },
          { value: 'own', text: 'of a size of their own' },
          ...presets.map(({ key, name }) => ({ value: key, text: name })),
        ]}
        onChoose={choose}
      />
      {tie === 'railway' ? null : (
        <>
          <TieSide label="Tie length" value={tie.lengthMm} keep={keep((lengthMm) => set({ tie: { ...tie, lengthMm } }))} />
          <TieSide label="Tie width" value={tie.widthMm} keep={keep((widthMm) => set({ tie: { ...tie, widthMm } }))} />
          <TieSide label="Tie thickness" value={tie.thicknessMm} keep={keep((thicknessMm) => set({ tie: { ...tie, thicknessMm } }))} />
        </>
      )}
      <ChoiceField<'alike' | 'closer'>
        label="Beside rail joints"
        value={jointTieSpacingMm === null ? 'alike' : 'closer'}
        choices={[
          { value: 'alike', text: 'as elsewhere' },
          { value: 'closer', text: 'closer' },
        ]}
        onChoose={(value) => planEdit(stores, set({ jointTieSpacingMm: value === 'alike' ? null : tieSpacingMm * firstCloser }))}
      />
      {jointTieSpacingMm === null ? null : (
        <LengthField
          label="Spacing at joints"
          kind="fine"
          value={jointTieSpacingMm}
          origin="centre to centre"
          isOver={jointTieSpacingMm > tieSpacingMm || jointTieSpacingMm < own.widthMm}
          keep={keep((value) => set({ jointTieSpacingMm: value }))}
        />
      )}
    </Fields>
  )
}

function TieSide(props: {
  readonly label: string
  readonly value: TieSize['lengthMm']
  readonly keep: Parameters<typeof LengthField>[0]['keep']
}): ReactNode {
  return <LengthField kind="fine" {...props} />
}

/** The preset that a class has all of; null: none. */
function presetOf({ tie, tieSpacingMm, jointTieSpacingMm }: LineClass, railway: Railway): string | null {
  if (tie === 'railway') return null
  const isSame = (a: number | null, b: number | null): boolean => (a === null || b === null ? a === b : Math.abs(a - b) < sameMm)
  const found = tiePresetList().find((preset) => {
    const of = tiesOfPreset(preset, railway)
    return (
      isSame(of.tie.lengthMm, tie.lengthMm) &&
      isSame(of.tie.widthMm, tie.widthMm) &&
      isSame(of.tie.thicknessMm, tie.thicknessMm) &&
      isSame(of.tieSpacingMm, tieSpacingMm) &&
      isSame(of.jointTieSpacingMm, jointTieSpacingMm)
    )
  })
  return found?.key ?? null
}
