import type { ReactNode } from 'react'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { Climate, CuttingRules, JointRules, LayingRules, Rates, SpikingRules } from '../../core/plan/types.ts'
import { usePlan } from '../context.ts'
import { GradeField, LengthField, NumberField } from '../fields/fields.tsx'
import { MaybeNumberField, MaybePaceField, PercentField, TemperatureField } from '../fields/layingFields.tsx'
import { useKeepInPlan } from '../planEdit.ts'
import { Explained } from '../particulars/Explained.tsx'
import { Fields, ParticularsHead } from '../particulars/parts.tsx'

/** By which rules the railway is cut and laid. */
export default function LayingParticulars(): ReactNode {
  const laying = usePlan((state) => state.plan.railway.laying)
  const keep = useKeepInPlan()
  const { joints, cutting, climate, spiking, rates } = laying
  const set = (change: Partial<LayingRules>): PlanCommand => ({ kind: 'railway.set', change: { laying: { ...laying, ...change } } })
  const joint = (change: Partial<JointRules>): PlanCommand => set({ joints: { ...joints, ...change } })
  const cut = (change: Partial<CuttingRules>): PlanCommand => set({ cutting: { ...cutting, ...change } })
  const air = (change: Partial<Climate>): PlanCommand => set({ climate: { ...climate, ...change } })
  const spike = (change: Partial<SpikingRules>): PlanCommand => set({ spiking: { ...spiking, ...change } })
  const pace = (change: Partial<Rates>): PlanCommand => set({ rates: { ...rates, ...change } })
  const distance = (label: string, name: keyof JointRules, origin?: string): ReactNode => (
    <LengthField label={label} range="zeroUp" value={joints[name]} origin={origin} keep={keep((mm) => joint({ [name]: mm }))} />
  )
  const every = (label: string, name: keyof SpikingRules, origin?: string): ReactNode => (
    <NumberField
      label={label}
      decimals={0}
      min={1}
      max={1000}
      value={spiking[name]}
      origin={origin}
      keep={keep((count) => spike({ [name]: Math.round(count) }))}
    />
  )
  return (
    <>
      <ParticularsHead
        title="Rules of laying"
        sub="How the railway is cut and laid. Select a joint, a stock or a track to see its own numbers."
      />
      <Fields title="No joint nearer than">
        {distance('To curve ends', 'curveEndMm')}
        {distance('To points', 'pointsMm')}
        {distance('To a frog', 'frogMm')}
        {distance('To guard rails', 'guardMm')}
        {distance('To a gap', 'gapMm')}
        {distance('To a throw bar', 'throwBayMm', 'either side')}
      </Fields>
      <Fields title="Joints">
        {distance('Stagger', 'staggerMm', 'rail to rail')}
        {distance('Shortest piece', 'leastPieceMm', 'of plain rail')}
        <LengthField
          label="Taken by a joint"
          kind="fine"
          range="zeroUp"
          value={cutting.jointAllowanceMm}
          origin="beyond the pieces"
          keep={keep((jointAllowanceMm) => cut({ jointAllowanceMm }))}
        />
      </Fields>
      <Fields title="Cutting">
        <LengthField
          label="Kerf"
          kind="fine"
          range="zeroUp"
          value={cutting.kerfMm}
          origin="of saw or knife"
          keep={keep((kerfMm) => cut({ kerfMm }))}
        />
        <LengthField
          label="Offcuts kept"
          range="zeroUp"
          value={cutting.leastOffcutMm}
          origin="and longer"
          keep={keep((leastOffcutMm) => cut({ leastOffcutMm }))}
        />
      </Fields>
      <Fields title="Roadbed">
        <LengthField
          label="Stagger"
          range="zeroUp"
          value={cutting.roadbedStaggerMm}
          origin="strip to strip"
          keep={keep((roadbedStaggerMm) => cut({ roadbedStaggerMm }))}
        />
        <GradeField label="Steepest ramp" value={laying.roadbedRamp} keep={keep((roadbedRamp) => set({ roadbedRamp }))} />
        <LengthField label="Shim layer" kind="fine" value={laying.shimMm} origin="tape or card" keep={keep((shimMm) => set({ shimMm }))} />
      </Fields>
      <Fields title="Room on the day of laying">
        <TemperatureField label="Warmth" value={climate.laidC} keep={keep((laidC) => air({ laidC }))} />
        <TemperatureField
          label="Coldest"
          value={climate.coldestC}
          isOver={climate.coldestC > climate.laidC}
          keep={keep((coldestC) => air({ coldestC }))}
        />
        <TemperatureField
          label="Hottest"
          value={climate.hottestC}
          isOver={climate.hottestC < climate.laidC}
          keep={keep((hottestC) => air({ hottestC }))}
        />
        <PercentField label="Humidity" value={climate.laidHumidity} keep={keep((laidHumidity) => air({ laidHumidity }))} />
        <PercentField
          label="Driest"
          value={climate.driestHumidity}
          isOver={climate.driestHumidity > climate.laidHumidity}
          keep={keep((driestHumidity) => air({ driestHumidity }))}
        />
        <PercentField
          label="Dampest"
          value={climate.dampestHumidity}
          isOver={climate.dampestHumidity < climate.laidHumidity}
          keep={keep((dampestHumidity) => air({ dampestHumidity }))}
        />
        <NumberField
          label="Rail grows"
          decimals={1}
          min={0}
          max={1000}
          value={climate.railPerK * 1e6}
          origin="millionths a °C"
          keep={keep((millionths) => air({ railPerK: millionths * 1e-6 }))}
        />
        <PercentField
          label="Bench grows"
          decimals={3}
          most={0.1}
          value={climate.benchPerHumidity}
          origin="dry to soaked"
          keep={keep((benchPerHumidity) => air({ benchPerHumidity }))}
        />
      </Fields>
      <Fields title="Spikes at every … tie">
        {every('First pass', 'firstEvery', 'to hold it')}
        {every('On tangents', 'tangentEvery')}
        {every('On curves', 'curveEvery')}
        {every('In turnouts', 'turnoutEvery')}
      </Fields>
      <Fields title="Your own pace">
        <MaybePaceField
          label="Plain track"
          value={rates.plainMmPerHour}
          origin="an hour"
          keep={keep((plainMmPerHour) => pace({ plainMmPerHour }))}
        />
        <MaybeNumberField
          label="A turnout"
          decimals={1}
          value={rates.turnoutHours}
          origin="hours"
          keep={keep((turnoutHours) => pace({ turnoutHours }))}
        />
        <MaybeNumberField
          label="A crossing"
          decimals={1}
          value={rates.crossingHours}
          origin="hours"
          keep={keep((crossingHours) => pace({ crossingHours }))}
        />
      </Fields>
      <Explained of="laying" />
    </>
  )
}
