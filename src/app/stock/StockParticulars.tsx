import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Id, Stock, StockKind } from '../../core/plan/types.ts'
import { upperFirst } from '../../words/names.ts'
import { whatWords } from '../../words/shoppingText.ts'
import { usePlan, useStores } from '../context.ts'
import { LengthField, NameField, NumberField } from '../fields/fields.tsx'
import { MaybeNumberField } from '../fields/layingFields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import { Act, Fields, ParticularsHead } from '../particulars/parts.tsx'
import { RemoveAct } from '../particulars/recordParts.tsx'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { stockWords, supplies } from './stockWords.ts'

type Keeper = ReturnType<typeof useKeepInPlan>

/** One sort of stock: what it is, how much of it lies on the shelf, and how it is sold. */
export function StockParticulars({ id }: { readonly id: Id }): ReactNode {
  const stock = usePlan((state) => state.plan.stocks[id])
  const stores = useStores()
  const keep = useKeepInPlan()
  if (stock === undefined) return <p className="lead">This stock is no longer on the list.</p>
  const set = (change: Partial<Omit<Stock, 'id'>>): PlanCommand => ({ kind: 'stock.set', id, change })
  return (
    <>
      <ParticularsHead title={stock.name} sub={`Stock · ${stockWords[stock.of.kind]}`} />
      <Fields>
        <NameField label="Name" value={stock.name} keep={keep((name) => set({ name }))} />
        <SizeFields stock={stock} keep={keep} set={set} />
      </Fields>
      <Fields title="On the shelf">
        <NumberField
          label="On hand"
          decimals={0}
          min={0}
          max={1_000_000}
          value={stock.onHand}
          origin="used first"
          keep={keep((count) => set({ onHand: Math.round(count) }))}
        />
        <ChoiceField<'yes' | 'no'>
          label="Can be bought"
          value={stock.canBuy ? 'yes' : 'no'}
          choices={[
            { value: 'yes', text: 'yes' },
            { value: 'no', text: 'no: an offcut' },
          ]}
          onChoose={(value) => planEdit(stores, set({ canBuy: value === 'yes' }))}
        />
        {stock.canBuy ? (
          <>
            <NumberField
              label="In a pack"
              decimals={0}
              min={1}
              max={1_000_000}
              value={stock.packOf}
              keep={keep((count) => set({ packOf: Math.round(count) }))}
            />
            <MaybeNumberField
              label="Price of a pack"
              isZeroGood
              value={stock.packPrice}
              origin="in your money"
              keep={keep((packPrice) => set({ packPrice }))}
            />
          </>
        ) : null}
      </Fields>
      <div className="acts is-column">
        {stock.of.kind === 'supply' ? null : (
          <Act
            onClick={() => {
              const { id: _id, ...record } = stock
              const offcut = { ...record, name: `${stock.name}, offcut`, onHand: 1, canBuy: false, packOf: 1, packPrice: null }
              const { added } = planEdit(stores, { kind: 'stock.add', record: offcut })
              if (added !== null) stores.session.getState().select({ kind: 'record', table: 'stocks', id: added })
            }}
          >
            Put an offcut of it on the shelf
          </Act>
        )}
        <RemoveAct table="stocks" id={id} />
      </div>
    </>
  )
}

function SizeFields({
  stock: { name, of },
  keep,
  set,
}: {
  readonly stock: Stock
  readonly keep: Keeper
  readonly set: (change: Partial<Omit<Stock, 'id'>>) => PlanCommand
}): ReactNode {
  const setOf = (next: StockKind): PlanCommand => set({ of: next })
  const stores = useStores()
  const materials = usePlan((state) => state.plan.materials)
  switch (of.kind) {
    case 'rail':
      return (
        <>
          <NumberField
            label="Rail code"
            decimals={0}
            min={20}
            max={400}
            value={of.code}
            origin="thousandths"
            keep={keep((code) => setOf({ ...of, code }))}
          />
          <LengthField label="Length" value={of.lengthMm} keep={keep((lengthMm) => setOf({ ...of, lengthMm }))} />
        </>
      )
    case 'roadbed':
      return (
        <>
          <ChoiceField
            label="Material"
            value={of.material}
            choices={Object.values(materials).map(({ id, name }) => ({ value: id, text: name }))}
            onChoose={(material) => planEdit(stores, setOf({ ...of, material }))}
          />
          <LengthField label="Thickness" kind="fine" value={of.thicknessMm} keep={keep((thicknessMm) => setOf({ ...of, thicknessMm }))} />
          <LengthField label="Width" value={of.widthMm} keep={keep((widthMm) => setOf({ ...of, widthMm }))} />
          <LengthField label="Length" value={of.lengthMm} keep={keep((lengthMm) => setOf({ ...of, lengthMm }))} />
        </>
      )
    case 'tie':
    case 'board':
      return (
        <>
          <LengthField label="Width" kind="fine" value={of.widthMm} keep={keep((widthMm) => setOf({ ...of, widthMm }))} />
          <LengthField label="Thickness" kind="fine" value={of.thicknessMm} keep={keep((thicknessMm) => setOf({ ...of, thicknessMm }))} />
          <LengthField label="Length" value={of.lengthMm} keep={keep((lengthMm) => setOf({ ...of, lengthMm }))} />
        </>
      )
    case 'supply':
      return (
        <ChoiceField
          label="What"
          value={of.what}
          choices={supplies.map((what) => ({ value: what, text: whatWords[what] }))}
          onChoose={(what) => {
            const next: StockKind = { ...of, what }
            // A name of the builder's own stays.
            planEdit(stores, set(name === upperFirst(whatWords[of.what]) ? { of: next, name: upperFirst(whatWords[what]) } : { of: next }))
          }}
        />
      )
  }
}
