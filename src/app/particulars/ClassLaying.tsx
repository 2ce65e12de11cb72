import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import { railOf } from '../../core/plan/index.ts'
import type { LineClass, Roadbed } from '../../core/plan/types.ts'
import { gaugeByKey, railByCode, roadbedForClass, serviceRows } from '../../core/standards/index.ts'
import { frogText, lengthText } from '../../words/measure.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { LengthField, NumberField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import { CsvAct } from '../file/CsvAct.tsx'
import { planEdit } from '../planEdit.ts'
import type { useKeepInPlan } from '../planEdit.ts'
import { Fields } from './parts.tsx'

interface OfClass {
  readonly lineClass: LineClass
  readonly keep: ReturnType<typeof useKeepInPlan>
  readonly set: (change: Partial<Omit<LineClass, 'id'>>) => PlanCommand
}

/** The rail of a class: the railway's, or one of its own code. */
export function ClassRail({ lineClass, keep, set }: OfClass): ReactNode {
  const stores = useStores()
  const railway = usePlan((state) => state.plan.railway)
  const { rail } = lineClass
  const own = railOf(lineClass, railway)
  return (
    <Fields title="Rail">
      <ChoiceField<'railway' | 'own'>
        label="Rail"
        value={rail === 'railway' ? 'railway' : 'own'}
        choices={[
          { value: 'railway', text: `the railway’s, code ${railway.railCode}` },
          { value: 'own', text: 'of a code of its own' },
        ]}
        onChoose={(value) => planEdit(stores, set({ rail: value === 'railway' ? 'railway' : own }))}
      />
      {rail === 'railway' ? null : (
        <>
          <NumberField
            label="Rail code"
            value={rail.code}
            decimals={0}
            min={20}
            max={400}
            origin="thousandths"
            keep={keep((code) => {
              const known = railByCode(code)
              return set({ rail: known === null ? { ...rail, code } : { code, headMm: known.headMm, footMm: known.footMm } })
            })}
          />
          <LengthField label="Rail head" kind="fine" value={rail.headMm} keep={keep((headMm) => set({ rail: { ...rail, headMm } }))} />
          <LengthField label="Rail foot" kind="fine" value={rail.footMm} keep={keep((footMm) => set({ rail: { ...rail, footMm } }))} />
        </>
      )}
      <LengthField
        label="Superelevation"
        kind="fine"
        range="zeroUp"
        value={lineClass.superelevationMm}
        origin="outer rail, on arcs"
        keep={keep((superelevationMm) => set({ superelevationMm }))}
      />
    </Fields>
  )
}

type StripsKind = 'fit' | 'one' | 'halves' | 'own'

const stripsKind = (strips: Roadbed['strips']): StripsKind =>
  strips === 'fit' ? 'fit' : strips === 1 ? 'one' : strips === 2 ? 'halves' : 'own'

const stripsOf: { readonly [K in StripsKind]: Roadbed['strips'] } = { fit: 'fit', one: 1, halves: 2, own: 3 }

/** What a class is laid on: nothing, or a material with its section and the strips it is cut into. */
export function ClassRoadbed({ lineClass, keep, set }: OfClass): ReactNode {
  const stores = useStores()
  const railway = usePlan((state) => state.plan.railway)
  const materials = usePlan((state) => state.plan.materials)
  const { roadbed } = lineClass
  const first = (): Roadbed => {
    const ratio = gaugeByKey(railway.scaleKey)?.ratio ?? railway.ratio
    const usual = roadbedForClass('main', ratio, railway.tieLengthMm)
    return materials[usual.material] === undefined ? { ...usual, material: Object.keys(materials)[0] ?? usual.material } : usual
  }
  const change = (part: Partial<Roadbed>): PlanCommand => set({ roadbed: roadbed === null ? first() : { ...roadbed, ...part } })
  return (
    <Fields title="Roadbed">
      <ChoiceField
        label="Material"
        value={roadbed === null ? '' : roadbed.material}
        choices={[{ value: '', text: 'none: on the deck' }, ...Object.values(materials).map(({ id, name }) => ({ value: id, text: name }))]}
        onChoose={(material) =>
          planEdit(stores, material === '' ? set({ roadbed: null }) : set({ roadbed: { ...(roadbed ?? first()), material } }))
        }
      />
      {roadbed === null ? null : (
        <>
          <LengthField label="Thickness" kind="fine" value={roadbed.thicknessMm} keep={keep((thicknessMm) => change({ thicknessMm }))} />
          <LengthField label="Top width" kind="fine" value={roadbed.topWidthMm} keep={keep((topWidthMm) => change({ topWidthMm }))} />
          <NumberField
            label="Shoulder 1 :"
            value={roadbed.shoulderRun}
            min={0}
            max={10}
            stepBy={0.25}
            origin="run; 0: upright"
            keep={keep((shoulderRun) => change({ shoulderRun }))}
          />
          <ChoiceField<StripsKind>
            label="Laid as"
            value={stripsKind(roadbed.strips)}
            choices={[
              { value: 'fit', text: 'as few strips as will bend' },
              { value: 'one', text: 'one strip' },
              { value: 'halves', text: 'split halves' },
              { value: 'own', text: 'a number of strips' },
            ]}
            onChoose={(kind) => planEdit(stores, change({ strips: stripsOf[kind] }))}
          />
          {stripsKind(roadbed.strips) === 'own' ? (
            <NumberField
              label="Strips"
              value={roadbed.strips === 'fit' ? 1 : roadbed.strips}
              decimals={0}
              min={1}
              max={40}
              keep={keep((strips) => change({ strips: Math.round(strips) }))}
            />
          ) : null}
        </>
      )}
    </Fields>
  )
}

/** Published radii are stated for this scale. */
const HO_RATIO = 87.1

const serviceHeads = ['Equipment', 'Radius and frog', 'This class'] as const

/** What the published classes of equipment ask, and whether this class gives it. */
function serviceTexts(lineClass: LineClass, ratio: number, prefs: MeasurePrefs): readonly (readonly [string, string, string])[] {
  return serviceRows.map(({ equipment, minRadiusHoMm, minFrog }) => {
    const radiusMm = (minRadiusHoMm * HO_RATIO) / ratio
    const isWide = lineClass.minRadiusMm >= radiusMm - 1e-6
    const isLong = lineClass.minFrog >= minFrog
    const here = isWide && isLong ? 'takes it' : isWide ? 'frog too short' : isLong ? 'too sharp' : 'too sharp, frog too short'
    return [equipment, `${lengthText(radiusMm, prefs)}, ${frogText(minFrog)}`, here]
  })
}

/** How wide curves are to be for the longest car: everywhere, and where cars are coupled; and what the published classes ask beside it. */
export function ClassCarLengths({ lineClass, keep, set }: OfClass): ReactNode {
  const prefs = usePrefs((state) => state)
  const ratio = usePlan((state) => state.plan.railway.ratio)
  const asked = serviceTexts(lineClass, ratio, prefs)
  return (
    <Fields title="Curves by what runs">
      <NumberField
        label="Radius at least"
        value={lineClass.curveCarLengths}
        min={0}
        max={100}
        stepBy={0.5}
        origin="cars; 0: any"
        keep={keep((curveCarLengths) => set({ curveCarLengths }))}
      />
      <NumberField
        label="Where coupled"
        value={lineClass.couplingCarLengths}
        min={0}
        max={100}
        stepBy={0.5}
        origin="cars; 0: never"
        keep={keep((couplingCarLengths) => set({ couplingCarLengths }))}
      />
      <table className="service">
        <caption className="soft small">
          Beside it, what the classes of equipment of {serviceRows[0]?.source ?? ''} ask, brought to this scale.
        </caption>
        <thead className="visually-hidden">
          <tr>
            {serviceHeads.map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {asked.map(([equipment, radiusAndFrog, here]) => (
            <tr key={equipment}>
              <td>{equipment}</td>
              <td>{radiusAndFrog}</td>
              <td>{here}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <div className="acts is-column">
        <CsvAct of={`${lineClass.id}-equipment`} rows={() => [serviceHeads, ...asked]} />
      </div>
    </Fields>
  )
}
