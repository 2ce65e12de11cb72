import type { ReactNode } from 'react'
import type { Plan, Stock, StockKind } from '../../core/plan/types.ts'
import { upperFirst } from '../../words/names.ts'
import { whatWords } from '../../words/shoppingText.ts'
import { usePlan, useStores } from '../context.ts'
import type { Stores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { planEdit } from '../planEdit.ts'
import { RecordList } from '../stages/RecordList.tsx'
import { supplies } from './stockWords.ts'
import type { Supply } from './stockWords.ts'

/** What lies on the shelf or can be bought, for one of the stages of laying; and the way to add to it. */
export function StockList({ stage }: { readonly stage: 'track' | 'roadbed' }): ReactNode {
  const stocks = usePlan((state) => state.committed.stocks)
  const shown = Object.values(stocks).filter(({ of }) => (of.kind === 'roadbed' || isTape(of)) === (stage === 'roadbed'))
  return (
    <>
      <RecordList
        table="stocks"
        title="On the shelf and in the shop"
        records={shown.map(({ id, name, onHand, canBuy }) => ({
          id,
          name,
          note: onHand === 0 ? (canBuy ? 'to buy' : 'none left') : `${onHand} on hand`,
        }))}
      />
      <div className="acts">
        {firsts[stage].map(({ word, record }) => (
          <AddAct key={word} word={word} command={(plan) => record(plan)} />
        ))}
      </div>
    </>
  )
}

/** Materials of roadbed, and the way to add one. */
export function MaterialList(): ReactNode {
  const materials = usePlan((state) => state.committed.materials)
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  return (
    <>
      <RecordList table="materials" title="Materials" records={Object.values(materials)} />
      <div className="acts">
        <button
          type="button"
          className="act"
          onClick={() => {
            const { added } = planEdit(stores, { kind: 'material.add', record: { name: 'Another material', strainLimit: 0.01 } })
            select(stores, 'materials', added)
            setDesk({ drawer: 'particulars' })
          }}
        >
          Add a material
        </button>
      </div>
    </>
  )
}

const isTape = (of: StockKind): boolean => of.kind === 'supply' && of.what === 'shimTape'

const inch = 25.4

/** A first size that is changed at once: what the railway itself is laid with. */
const firsts: {
  readonly [S in 'track' | 'roadbed']: readonly { readonly word: string; readonly record: (plan: Plan) => Omit<Stock, 'id'> }[]
} = {
  track: [
    {
      word: 'Add rail',
      record: ({ railway }) => stock(`Rail code ${railway.railCode}, 1 m`, { kind: 'rail', code: railway.railCode, lengthMm: 1000 }),
    },
    {
      word: 'Add tie wood',
      record: ({ railway }) =>
        stock('Tie strip', { kind: 'tie', widthMm: railway.tieWidthMm, thicknessMm: railway.tieThicknessMm, lengthMm: 24 * inch }),
    },
    {
      word: 'Add PC-board',
      record: ({ railway }) =>
        stock('PC-board strip', { kind: 'board', widthMm: railway.tieWidthMm, thicknessMm: railway.tieThicknessMm, lengthMm: 12 * inch }),
    },
    { word: 'Add spikes or joiners', record: (plan) => supply(firstMissing(plan)) },
  ],
  roadbed: [
    {
      word: 'Add roadbed',
      record: ({ lineClasses, materials }) => {
        const used = Object.values(lineClasses).find(({ roadbed }) => roadbed !== null)?.roadbed
        const material = used?.material ?? Object.keys(materials)[0] ?? ''
        return stock('Roadbed sheet', {
          kind: 'roadbed',
          material,
          thicknessMm: used?.thicknessMm ?? 5,
          widthMm: 12 * inch,
          lengthMm: 36 * inch,
        })
      },
    },
    { word: 'Add shim tape', record: () => supply('shimTape') },
  ],
}

/** Of what is counted for the rails, the first that no stock is of yet. */
function firstMissing({ stocks }: Plan): Supply {
  const isThere = (what: Supply): boolean => Object.values(stocks).some(({ of }) => of.kind === 'supply' && of.what === what)
  return supplies.find((what) => what !== 'shimTape' && !isThere(what)) ?? 'spikes'
}

const supply = (what: Supply): Omit<Stock, 'id'> => stock(upperFirst(whatWords[what]), { kind: 'supply', what })

function stock(name: string, of: StockKind): Omit<Stock, 'id'> {
  return { name, of, onHand: 0, canBuy: true, packOf: 1, packPrice: null }
}

function AddAct({ word, command }: { readonly word: string; readonly command: (plan: Plan) => Omit<Stock, 'id'> }): ReactNode {
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  return (
    <button
      type="button"
      className="act"
      onClick={() => {
        const { added } = planEdit(stores, { kind: 'stock.add', record: command(stores.plan.getState().plan) })
        select(stores, 'stocks', added)
        setDesk({ drawer: 'particulars' })
      }}
    >
      {word}
    </button>
  )
}

function select(stores: Stores, table: 'stocks' | 'materials', id: string | null): void {
  if (id !== null) stores.session.getState().select({ kind: 'record', table, id })
}
