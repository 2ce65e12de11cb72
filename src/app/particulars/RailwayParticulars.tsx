import { Fragment } from 'react'
import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { FrogDefinition, Plan, Railway, StockKind } from '../../core/plan/types.ts'
import { gaugeByKey, gaugeCustom, railByCode, railwayForGauge, stocksForRailway } from '../../core/standards/index.ts'
import type { GaugeRow } from '../../core/standards/index.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { LengthField, NameField, NumberField } from '../fields/fields.tsx'
import type { LengthBounds } from '../fields/fields.tsx'
import { ChoiceField, ValueField } from '../fields/ValueField.tsx'
import type { Read } from '../fields/ValueField.tsx'
import { angleFormat, angleParse, MM_PER_INCH } from '../../core/units/index.ts'
import { entryProblemText } from '../../words/entryText.ts'
import { lengthText, numberText } from '../../words/measure.ts'
import { gaugeChoices } from '../gaugeChoices.ts'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { Explained } from './Explained.tsx'
import { Act, Fields, ParticularsHead } from './parts.tsx'

/** Towards north, as an angle against the clock from the plan's right; a dash: not known. */
function northRead(text: string): Read<number | null> {
  if (/^[-–—]?$/.test(text.trim())) return { ok: true, value: null }
  const entry = angleParse(text)
  if (!entry.ok) return { ok: false, message: entryProblemText(entry.problem) }
  if (entry.rad >= 0 && entry.rad < 2 * Math.PI) return { ok: true, value: entry.rad }
  return { ok: false, message: 'From 0° up to 360°, against the clock, belongs here: 90° is up, 0° to the right.' }
}

/** Gauges at full size that a model may be of, mm: from a park railway's to a foot beyond the widest that was ever thought of. From memory. */
const fullGaugesMm = { least: 250, most: 3300 }

function gaugeBounds({ ratio }: Railway): LengthBounds {
  return {
    leastMm: fullGaugesMm.least / ratio,
    mostMm: fullGaugesMm.most / ratio,
    because: `That is what railways of 1:${numberText(ratio, 3)} can have; for a gauge of another scale set the scale first.`,
  }
}

/** The whole railway: what scale, what gauge, what rail, what room is kept. */
export function RailwayParticulars(): ReactNode {
  const railway = usePlan((state) => state.plan.railway)
  const prefs = usePrefs((state) => state)
  const stores = useStores()
  const keep = useKeepInPlan()
  const set = (change: Partial<Railway>): PlanCommand => ({ kind: 'railway.set', change })
  const row = railway.scaleKey === 'custom' ? null : gaugeByKey(railway.scaleKey)
  const isCustom = row === null
  return (
    <>
      <ParticularsHead title="Railway" sub="What holds for the whole plan. Select something on the plan to see its own numbers." />
      <Fields>
        <NameField label="Title" value={railway.title} keep={keep((title) => set({ title }))} />
        <ValueField<number | null>
          label="North"
          value={railway.northRad}
          show={(rad) => (rad === null ? '–' : angleFormat(rad))}
          read={northRead}
          origin="90° is up"
          keep={keep((northRad) => set({ northRad }))}
        />
        <ChoiceField
          label="Scale, gauge"
          value={isCustom ? 'custom' : railway.scaleKey}
          choices={[...gaugeChoices(), { value: 'custom', text: 'of my own' }]}
          onChoose={(key) => planEdit(stores, scaleCommand(stores.plan.getState().plan, key, prefs.units))}
        />
        <NumberField
          label="Scale 1 :"
          value={railway.ratio}
          decimals={3}
          min={1}
          max={1000}
          origin={isCustom ? 'own' : row.key}
          keep={keep((ratio) => customCommand(stores.plan.getState().plan, { ratio }, prefs.units))}
        />
        <LengthField
          label="Gauge"
          kind="fine"
          bounds={gaugeBounds(railway)}
          value={railway.gaugeMm}
          origin={isCustom ? 'own' : row.source}
          keep={keep((gaugeMm) => customCommand(stores.plan.getState().plan, { gaugeMm }, prefs.units))}
        />
        <LengthField label="Flangeway" kind="fine" value={railway.flangewayMm} keep={keep((flangewayMm) => set({ flangewayMm }))} />
        <LengthField label="Check gauge" kind="fine" value={railway.checkGaugeMm} keep={keep((checkGaugeMm) => set({ checkGaugeMm }))} />
      </Fields>
      <ScaleActs />
      <Fields title="Rail and ties">
        <NumberField
          label="Rail code"
          value={railway.railCode}
          decimals={0}
          min={20}
          max={400}
          origin="thousandths"
          keep={keep((railCode) => {
            const rail = railByCode(railCode)
            return set(rail === null ? { railCode } : { railCode, railHeadMm: rail.headMm, railFootMm: rail.footMm })
          })}
        />
        <LengthField label="Rail head" kind="fine" value={railway.railHeadMm} keep={keep((railHeadMm) => set({ railHeadMm }))} />
        <LengthField label="Rail foot" kind="fine" value={railway.railFootMm} keep={keep((railFootMm) => set({ railFootMm }))} />
        <LengthField label="Tie length" kind="fine" value={railway.tieLengthMm} keep={keep((tieLengthMm) => set({ tieLengthMm }))} />
        <LengthField label="Tie width" kind="fine" value={railway.tieWidthMm} keep={keep((tieWidthMm) => set({ tieWidthMm }))} />
        <ChoiceField<FrogDefinition>
          label="Frog No. means"
          value={railway.frogDefinition}
          choices={[
            { value: 'isosceles', text: '1 / (2 tan F/2)' },
            { value: 'tangent', text: 'tan F = 1 / N' },
          ]}
          onChoose={(frogDefinition) => planEdit(stores, set({ frogDefinition }))}
        />
      </Fields>
      <Fields title="Margins and clearances">
        <LengthField
          label="Edge margin"
          range="zeroUp"
          value={railway.edgeMarginMm}
          origin="from centreline"
          keep={keep((edgeMarginMm) => set({ edgeMarginMm }))}
        />
        <LengthField
          label="Between cars"
          range="zeroUp"
          value={railway.runningClearanceMm}
          origin="clearance"
          keep={keep((runningClearanceMm) => set({ runningClearanceMm }))}
        />
        <LengthField label="Fouling at" value={railway.foulingMm} origin="centres apart" keep={keep((foulingMm) => set({ foulingMm }))} />
      </Fields>
      <Fields title="Hands and feet">
        <LengthField
          label="Reach"
          value={railway.reachMm}
          origin={reachesMm[prefs.units].map((reachMm) => (
            <Fragment key={reachMm}>
              <button
                type="button"
                className="word"
                aria-label={`Reach ${lengthText(reachMm, prefs)}`}
                onClick={() => planEdit(stores, set({ reachMm }))}
              >
                {numberText(reachMm / (prefs.units === 'metric' ? 1 : MM_PER_INCH), 1)}
              </button>{' '}
            </Fragment>
          ))}
          keep={keep((reachMm) => set({ reachMm }))}
        />
        <LengthField label="Aisle" value={railway.aisleMm} origin="at the narrowest" keep={keep((aisleMm) => set({ aisleMm }))} />
        <LengthField label="Hatch" value={railway.hatchMm} origin="least side" keep={keep((hatchMm) => set({ hatchMm }))} />
      </Fields>
      <Explained of="railway" />
    </>
  )
}

/** From a short arm over a high deck to a long one over a low deck; common practice, no source. */
const reachesMm = { imperial: [24 * 25.4, 28 * 25.4, 30 * 25.4], metric: [600, 700, 750] } as const

/** The row of the standards that the railway stands on, a custom one computed from its own numbers. */
function railwayRow(railway: Railway): GaugeRow | null {
  const row = railway.scaleKey === 'custom' ? null : gaugeByKey(railway.scaleKey)
  if (row !== null) return row
  const custom = gaugeCustom({ ratio: railway.ratio, gaugeMm: railway.gaugeMm })
  return custom.ok ? custom.row : null
}

/** Another scale: all that follows from it comes along, the title stays. */
function scaleCommand(plan: Plan, key: string, units: Units): PlanCommand {
  const row = key === 'custom' ? null : gaugeByKey(key)
  if (row === null) return { kind: 'railway.set', change: { scaleKey: 'custom' } }
  return rowCommand(plan, row, row.key, null, units)
}

type Units = 'imperial' | 'metric'
type Rail = Pick<Railway, 'railCode' | 'railHeadMm' | 'railFootMm'>

/** What follows from a row; how far the builder reaches, how the work is done and what things cost stays, and rail and ties that nothing is at hand for join the stock. */
function rowCommand({ railway, stocks }: Plan, row: GaugeRow, scaleKey: string, rail: Rail | null, units: Units): PlanCommand {
  const standard = { ...railwayForGauge(row), ...rail }
  const laying = { ...railway.laying, joints: standard.laying.joints }
  const { reachMm, aisleMm, hatchMm, title } = railway
  const set: PlanCommand = { kind: 'railway.set', change: { ...standard, title, reachMm, aisleMm, hatchMm, scaleKey, laying } }
  const isThere = (wanted: StockKind): boolean => Object.values(stocks).some(({ of }) => isSameStock(of, wanted))
  const missing = stocksForRailway(standard, units).filter(({ of }) => of.kind !== 'supply' && of.kind !== 'roadbed' && !isThere(of))
  const adds = missing.map(({ id: _id, ...record }): PlanCommand => ({ kind: 'stock.add', record }))
  return { kind: 'group', label: rail === null ? 'Set scale' : 'Set gauge', commands: [set, ...adds] }
}

function isSameStock(one: StockKind, other: StockKind): boolean {
  if (one.kind === 'rail' && other.kind === 'rail') return one.code === other.code
  if ((one.kind === 'tie' || one.kind === 'board') && one.kind === other.kind)
    return one.widthMm === other.widthMm && one.thicknessMm === other.thicknessMm
  return false
}

/** A typed scale or gauge makes it one's own; what follows from them is derived anew. Rail is bought for a scale: another gauge leaves it. */
function customCommand(plan: Plan, change: { readonly ratio?: number; readonly gaugeMm?: number }, units: Units): PlanCommand {
  const { railway } = plan
  const custom = gaugeCustom({ ratio: change.ratio ?? railway.ratio, gaugeMm: change.gaugeMm ?? railway.gaugeMm })
  // A refused pair goes on as typed: the plan itself says what is wrong with it.
  if (!custom.ok) return { kind: 'railway.set', change: { ...change, scaleKey: 'custom' } }
  const { railCode, railHeadMm, railFootMm } = railway
  return rowCommand(plan, custom.row, 'custom', change.gaugeMm === undefined ? null : { railCode, railHeadMm, railFootMm }, units)
}

// The library of cars comes when it is asked for.
const limits = (): Promise<typeof import('./usualLimits.ts')> => import('./usualLimits.ts')

/** Radii and cars do not change with the scale by themselves; this brings them along when asked. */
function ScaleActs(): ReactNode {
  const stores = useStores()
  const railway = usePlan((state) => state.plan.railway)
  const row = railwayRow(railway)
  if (row === null) return null
  return (
    <div className="acts is-column">
      <Act
        onClick={() =>
          void limits().then(({ usualLimits }) =>
            planEdit(stores, usualLimits(stores.plan.getState().plan, row, stores.prefs.getState().units)),
          )
        }
      >
        Take the usual limits and cars of this scale
      </Act>
    </div>
  )
}
