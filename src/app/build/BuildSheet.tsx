import { useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import { buildTables, crossingParts, turnoutParts } from '../../core/deliver/index.ts'
import type { BuildTable, SheetOptions } from '../../core/deliver/index.ts'
import type { Id, Turnout } from '../../core/plan/types.ts'
import { benchUsual, constructionOf, crossingConstructionOf } from '../../core/turnout/index.ts'
import type { BenchPractice, ThrowWire } from '../../core/turnout/types.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { CsvAct } from '../file/CsvAct.tsx'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { Fields } from '../particulars/parts.tsx'
import '../setout/setout.css'
import { WordTable } from '../tables/WordTable.tsx'
import { tableRows } from '../../words/tableRows.ts'
import { TieFields } from './TieFields.tsx'
import './build.css'

interface Asked {
  readonly of: 'turnout' | 'crossing'
  readonly id: Id
  readonly onShut: () => void
}

/** Rails to cut, bends, filing, offsets, ties and wires of a turnout or crossing. They follow the plan while they are open. */
export default function BuildSheet(asked: Asked): ReactNode {
  const { onShut } = asked
  const work = useWork(asked)
  return (
    <Sheet onShut={onShut} look="setout">
      {work === null ? (
        <>
          <Heading slot="title">Build it</Heading>
          <p>This {asked.of} could not be computed: its particulars say what hinders it.</p>
          <div className="acts">
            <button type="button" className="act" onClick={onShut}>
              Close
            </button>
          </div>
        </>
      ) : (
        <Build {...asked} work={work} />
      )}
    </Sheet>
  )
}

/** What is built, and how its tables come of a practice. */
interface Work {
  readonly name: string
  /** Null: a crossing, whose ties follow from its tracks. */
  readonly turnout: Turnout | null
  /** Whether anything is thrown: a diamond without slips has no points. */
  readonly hasPoints: boolean
  readonly usual: BenchPractice
  readonly tables: (practice: BenchPractice, units: SheetOptions['units']) => readonly BuildTable[]
}

function useWork({ of, id }: Asked): Work | null {
  const turnout = usePlan((state) => (of === 'turnout' ? state.committed.turnouts[id] : undefined))
  const placed = useDerived((state) => (of === 'turnout' ? state.derived.network.turnouts.get(id)?.result : undefined))
  const crossing = useDerived((state) => (of === 'crossing' ? state.derived.network.crossings.get(id) : undefined))
  return useMemo((): Work | null => {
    if (crossing?.result.ok === true) {
      const { crossing: geometry } = crossing.result
      return {
        name: crossing.record?.name ?? 'the crossing',
        turnout: null,
        hasPoints: geometry.slips.length > 0,
        usual: benchUsual(geometry.request),
        tables: (practice, units) => buildTables(crossingParts(geometry), crossingConstructionOf(geometry, practice), units),
      }
    }
    if (turnout === undefined || placed?.ok !== true) return null
    const { geometry } = placed
    return {
      name: turnout.name,
      turnout,
      hasPoints: true,
      usual: benchUsual(geometry.request),
      tables: (practice, units) => buildTables(turnoutParts(geometry), constructionOf(geometry, practice), units),
    }
  }, [turnout, placed, crossing])
}

function Build({ of, id, work, onShut }: Asked & { readonly work: Work }): ReactNode {
  const units = usePrefs((prefs) => prefs.units)
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  const [changed, setChanged] = useState<Partial<BenchPractice>>({})
  const practice = useMemo(() => ({ ...work.usual, ...changed }), [work, changed])
  const tables = useMemo(() => work.tables(practice, units), [work, practice, units])
  const print = (kind: 'cutList' | 'roadbed'): void => {
    setDesk({ sheetSubject: of === 'turnout' ? { kind, id, practice } : { kind, id, of, practice } })
    stores.session.getState().setStage('sheets')
    onShut()
  }
  return (
    <>
      <header className="setout-head">
        <Heading slot="title">Build {work.name}</Heading>
      </header>
      <div className="setout-columns">
        <div className="setout-asks">
          <div className="acts">
            <button type="button" className="act is-main" onClick={() => print('cutList')}>
              Print cut list
            </button>
            <button type="button" className="act" onClick={() => print('roadbed')}>
              Print roadbed card
            </button>
            <CsvAct of={`${id}-build`} rows={() => tableRows(tables)} />
            <button type="button" className="act" onClick={onShut}>
              Close
            </button>
          </div>
          {work.turnout === null ? null : <TieFields turnout={work.turnout} />}
          <Practice practice={practice} hasPoints={work.hasPoints} change={(part) => setChanged((before) => ({ ...before, ...part }))} />
        </div>
        <div className="setout-answer" role="region" aria-label="Tables">
          {tables.map((table, i) => (
            <WordTable key={`${i} ${table.title}`} table={table} look="setout-part" />
          ))}
        </div>
      </div>
    </>
  )
}

const spikeChoices = [1, 2, 3, 4].map((every) => ({
  value: String(every),
  text: every === 1 ? 'in every tie' : `in every ${every}${every === 2 ? 'nd' : every === 3 ? 'rd' : 'th'} tie`,
}))

/** What the tables depend on besides the turnout: how this builder works. */
function Practice({
  practice,
  hasPoints,
  change,
}: {
  readonly practice: BenchPractice
  readonly hasPoints: boolean
  readonly change: (part: Partial<BenchPractice>) => void
}): ReactNode {
  const { throwWire: wire, motor } = practice
  const setWire = (part: Partial<ThrowWire>): void => change({ throwWire: { ...wire, ...part } })
  return (
    <Fields title="Your practice">
      {hasPoints ? (
        <ChoiceField
          label="Stock rail"
          value={practice.nest}
          choices={[
            { value: 'undercut', text: 'undercut for the point' },
            { value: 'set', text: 'set ahead of the point' },
          ]}
          onChoose={(nest) => change({ nest })}
        />
      ) : null}
      <ChoiceField
        label="Spikes"
        value={String(practice.spikeEvery)}
        choices={spikeChoices}
        onChoose={(every) => change({ spikeEvery: Number(every) })}
      />
      {hasPoints ? <ThrowFields wire={wire} motor={motor} setWire={setWire} setMotor={(changed) => change({ motor: changed })} /> : null}
      <LengthField label="Roadbed top" value={practice.roadbedMm} keep={keepIn((roadbedMm) => change({ roadbedMm }))} />
      <LengthField label="Shoulder" range="zeroUp" value={practice.shoulderMm} keep={keepIn((shoulderMm) => change({ shoulderMm }))} />
    </Fields>
  )
}

function ThrowFields({
  wire,
  motor,
  setWire,
  setMotor,
}: {
  readonly wire: ThrowWire
  readonly motor: BenchPractice['motor']
  readonly setWire: (part: Partial<ThrowWire>) => void
  readonly setMotor: (motor: BenchPractice['motor']) => void
}): ReactNode {
  return (
    <>
      <LengthField label="Throw wire" value={wire.wireMm} keep={keepIn((wireMm) => setWire({ wireMm }))} />
      <LengthField label="Bar to underside" value={wire.deckMm} keep={keepIn((deckMm) => setWire({ deckMm }))} />
      <ChoiceField
        label="The wire"
        value={wire.fulcrumMm === null ? 'upright' : 'tilts'}
        choices={[
          { value: 'tilts', text: 'tilts about a fulcrum' },
          { value: 'upright', text: 'keeps upright' },
        ]}
        onChoose={(how) => setWire({ fulcrumMm: how === 'tilts' ? wire.deckMm : null })}
      />
      {wire.fulcrumMm === null ? null : (
        <>
          <LengthField label="Fulcrum depth" value={wire.fulcrumMm} keep={keepIn((fulcrumMm) => setWire({ fulcrumMm }))} />
          <LengthField label="Arm below it" value={wire.armMm} keep={keepIn((armMm) => setWire({ armMm }))} />
        </>
      )}
      <LengthField label="Travel" value={wire.travelMm} keep={keepIn((travelMm) => setWire({ travelMm }))} />
      <LengthField label="Machine along" value={motor.alongMm} keep={keepIn((alongMm) => setMotor({ ...motor, alongMm }))} />
      <LengthField label="Machine across" value={motor.acrossMm} keep={keepIn((acrossMm) => setMotor({ ...motor, acrossMm }))} />
    </>
  )
}
