import { useLayoutEffect, useRef, useState } from 'react'
import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { kindName, nameInRule, vehicleByKey, vehicleOfRow, vehicleRows } from '../../core/vehicles/index.ts'
import { nextName } from '../../tools/index.ts'
import { fullSizeText, lengthText } from '../../words/measure.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { ChoiceField, FactRow } from '../fields/ValueField.tsx'
import { planEdit } from '../planEdit.ts'
import { VehicleOwn } from './VehicleOwn.tsx'

/** Of one's own sizes: what they start from. */
const owns = [
  { value: 'own-car', text: 'A car of your own sizes', like: 'boxcar-40' },
  { value: 'own-engine', text: 'An engine of your own sizes', like: 'steam-2-8-0' },
] as const

/** A car or engine of a kind, brought to the railway's scale, or of one's own sizes; it is one's own from then on, to be measured and changed. */
export default function VehicleAdd({ onDone }: { readonly onDone: () => void }): ReactNode {
  const stores = useStores()
  const ratio = usePlan((state) => state.plan.railway.ratio)
  const prefs = usePrefs((state) => state)
  const [key, setKey] = useState(vehicleRows[0]?.key ?? '')
  const form = useRef<HTMLElement>(null)
  // The button that was pressed is gone: the hand goes on at the choice.
  useLayoutEffect(() => form.current?.querySelector('select')?.focus(), [])
  const row = vehicleByKey(key)
  const like = vehicleByKey(owns.find(({ value }) => value === key)?.like ?? '')
  function add(): void {
    if (row === null) return
    const typical = vehicleOfRow(row, ratio)
    const record = { ...typical, name: nameInRule(typical.name, prefs.units) }
    const { vehicles } = stores.plan.getState().plan
    const alike = Object.values(vehicles).filter(({ name }) => name.startsWith(record.name))
    const name = alike.length === 0 ? record.name : nextName(record.name, alike)
    const { added } = planEdit(stores, { kind: 'vehicle.add', record: { ...record, name } })
    if (added !== null) select(added)
  }
  function select(id: Id): void {
    stores.session.getState().select({ kind: 'record', table: 'vehicles', id })
    onDone()
  }
  return (
    <section className="by-size" ref={form} aria-label="A car or engine by its kind">
      <ChoiceField
        label="Kind"
        value={key}
        choices={[...owns, ...vehicleRows.map((one) => ({ value: one.key, text: kindName(one, prefs.units) }))]}
        onChoose={setKey}
      />
      {row === null ? null : (
        <FactRow
          label="Over couplers"
          value={lengthText(row.overCouplersMm / ratio, prefs)}
          origin={fullSizeText(row.overCouplersMm, prefs)}
        />
      )}
      {like === null ? (
        <div className="acts">
          <button type="button" className="act" onClick={add}>
            Add it
          </button>
          <button type="button" className="act" onClick={onDone}>
            Leave it
          </button>
        </div>
      ) : (
        <VehicleOwn key={key} start={vehicleOfRow(like, ratio)} onAdded={select} onLeave={onDone} />
      )}
    </section>
  )
}
