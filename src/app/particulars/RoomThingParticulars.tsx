import type { ReactNode } from 'react'
import type { Id, Joist, Portal } from '../../core/plan/types.ts'
import { usePlan, useStores } from '../context.ts'
import { LengthField, NameField } from '../fields/fields.tsx'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { Act, Fields, ParticularsHead } from './parts.tsx'
import { RemoveAct } from './recordParts.tsx'
import { RoomThingHead as Head, gone } from './roomThingParts.tsx'

export function HatchParticulars({ id }: { readonly id: Id }): ReactNode {
  const hatch = usePlan((state) => state.plan.hatches[id])
  const keep = useKeepInPlan()
  if (hatch === undefined) return gone('hatches')
  return (
    <>
      <Head table="hatches" id={id} name={hatch.name} sub={`Place to stand up in · ${hatch.outline.length} points`} />
      <Fields>
        <NameField label="Name" value={hatch.name} keep={keep((name) => ({ kind: 'hatch.set', id, change: { name } }))} />
      </Fields>
      <div className="acts is-column">
        <RemoveAct table="hatches" id={id} />
      </div>
    </>
  )
}

export function JoistParticulars({ id }: { readonly id: Id }): ReactNode {
  const joist = usePlan((state) => state.plan.joists[id])
  const keep = useKeepInPlan()
  if (joist === undefined) return gone('joists')
  const set = (change: Partial<Omit<Joist, 'id'>>) => ({ kind: 'joist.set', id, change }) as const
  const { from, to } = joist
  return (
    <>
      <Head table="joists" id={id} name={joist.name} sub="Timber under the deck" />
      <Fields>
        <NameField label="Name" value={joist.name} keep={keep((name) => set({ name }))} />
        <LengthField label="Width" value={joist.widthMm} keep={keep((widthMm) => set({ widthMm }))} />
        <LengthField label="From x" range="any" value={from.x} keep={keep((x) => set({ from: { ...from, x } }))} />
        <LengthField label="From y" range="any" value={from.y} keep={keep((y) => set({ from: { ...from, y } }))} />
        <LengthField label="To x" range="any" value={to.x} keep={keep((x) => set({ to: { ...to, x } }))} />
        <LengthField label="To y" range="any" value={to.y} keep={keep((y) => set({ to: { ...to, y } }))} />
      </Fields>
      <div className="acts is-column">
        <RemoveAct table="joists" id={id} />
      </div>
    </>
  )
}

export function PortalParticulars({ id }: { readonly id: Id }): ReactNode {
  const portal = usePlan((state) => state.plan.portals[id])
  const keep = useKeepInPlan()
  if (portal === undefined) return gone('portals')
  const set = (change: Partial<Omit<Portal, 'id'>>) => ({ kind: 'portal.set', id, change }) as const
  return (
    <>
      <Head table="portals" id={id} name={portal.name} sub="Opening that a track runs through" />
      <Fields>
        <NameField label="Name" value={portal.name} keep={keep((name) => set({ name }))} />
        <LengthField label="Station" range="any" value={portal.stationMm} keep={keep((stationMm) => set({ stationMm }))} />
        <LengthField label="Length" value={portal.lengthMm} keep={keep((lengthMm) => set({ lengthMm }))} />
        <LengthField
          label="Clear left"
          range="zeroUp"
          value={portal.leftMm}
          origin="of the centreline"
          keep={keep((leftMm) => set({ leftMm }))}
        />
        <LengthField
          label="Clear right"
          range="zeroUp"
          value={portal.rightMm}
          origin="of the centreline"
          keep={keep((rightMm) => set({ rightMm }))}
        />
        <LengthField label="Clear height" range="zeroUp" value={portal.heightMm} keep={keep((heightMm) => set({ heightMm }))} />
      </Fields>
      <div className="acts is-column">
        <RemoveAct table="portals" id={id} />
      </div>
    </>
  )
}

/** A finding that was silenced, and why. */
export function SilenceParticulars({ id }: { readonly id: Id }): ReactNode {
  const silence = usePlan((state) => state.plan.silences[id])
  const stores = useStores()
  const keep = useKeepInPlan()
  if (silence === undefined) return <p className="lead">This finding is told again.</p>
  return (
    <>
      <ParticularsHead title="Silenced finding" />
      <Fields>
        <NameField label="Why" value={silence.reason} keep={keep((reason) => ({ kind: 'silence.set', id, change: { reason } }))} />
      </Fields>
      <div className="acts is-column">
        <Act onClick={() => planEdit(stores, { kind: 'remove', table: 'silences', id })}>Tell it again</Act>
      </div>
    </>
  )
}
