import { useState } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import { planEmpty } from '../../core/plan/index.ts'
import { gaugeList } from '../../core/standards/index.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { usePrefs, useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { gaugeChoices } from '../gaugeChoices.ts'
import { useIsExample } from '../stages/ExampleCard.tsx'
import { planBegun } from './planBegun.ts'
import { planBeforeText, planPut, planSave } from './planFile.ts'

/** Begins an empty room. Says what becomes of the plan on the desk before it goes. */
export default function NewRoom(): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const [scaleKey, setScaleKey] = useState(() => {
    const { scaleKey: current } = stores.plan.getState().plan.railway
    return gaugeList().some((gauge) => gauge.key === current) ? current : 'HO'
  })
  const units = usePrefs((prefs) => prefs.units)
  const setPrefs = usePrefs((prefs) => prefs.setPrefs)
  const isExample = useIsExample()
  const close = (): void => desk.getState().set({ dialog: null })
  return (
    <Sheet onShut={close}>
      <Heading slot="title">New room</Heading>
      <p>
        {isExample
          ? 'An empty room, to be filled with your own benchwork and track. The demo railway can be had again from the File menu.'
          : `An empty room, beside the plan on the desk. ${planBeforeText(desk)} The new room has a history of its own: Undo does not reach behind it.`}
      </p>
      <div className="fields">
        <ChoiceField label="Scale, gauge" value={scaleKey} choices={gaugeChoices()} onChoose={setScaleKey} />
        <ChoiceField
          label="Lengths in"
          value={units}
          choices={[
            { value: 'imperial', text: 'feet and inches' },
            { value: 'metric', text: 'millimetres' },
          ]}
          onChoose={(value) => setPrefs({ units: value === 'metric' ? 'metric' : 'imperial' })}
        />
      </div>
      <div className="acts">
        <button
          type="button"
          className="act is-main"
          onClick={() => {
            planPut(stores, desk, { plan: planBegun(scaleKey, units) ?? planEmpty(), notice: null })
            stores.session.getState().setStage('room')
            // On a narrow screen an empty room would be an empty screen.
            desk.getState().set({ drawer: 'stage' })
          }}
        >
          Begin the new room
        </button>
        {isExample ? null : (
          <button type="button" className="act" onClick={() => planSave(stores)}>
            Save the plan to a file first
          </button>
        )}
        <button type="button" className="act" onClick={close}>
          {isExample ? 'Look around first' : 'Stay with this plan'}
        </button>
      </div>
    </Sheet>
  )
}
