import { useState } from 'react'
import type { ReactNode } from 'react'
import type { Id, Underlay } from '../../core/plan/types.ts'
import { keepFailure } from '../../store/shelf.ts'
import { usePlan, useStores } from '../context.ts'
import { AngleField, LengthField, NameField, NumberField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import { Act } from '../particulars/acts.tsx'
import { Fields, ParticularsHead } from '../particulars/parts.tsx'
import { RemoveAct } from '../particulars/recordParts.tsx'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { carriedLimitBytes, pictureData, pictureOf, pictures } from './pictures.ts'

/** A picture under the plan: where its first place lies, how far it is to the second, how it is turned, how faint it is. */
export default function UnderlayParticulars({ id }: { readonly id: Id }): ReactNode {
  const underlay = usePlan((state) => state.plan.underlays[id])
  const keep = useKeepInPlan()
  const stores = useStores()
  const [said, setSaid] = useState<string | null>(null)
  if (underlay === undefined) return <p className="lead">This picture is no longer there.</p>
  const set = (change: Partial<Omit<Underlay, 'id'>>) => ({ kind: 'underlay.set', id, change }) as const
  const [first, second] = underlay.places
  if (first === undefined || second === undefined) return null
  const [dx, dy] = [second.at.x - first.at.x, second.at.y - first.at.y]
  const lengthMm = Math.hypot(dx, dy)
  /** All places moved, turned about the first and scaled together. */
  const laid = (change: { readonly x?: number; readonly y?: number; readonly scale?: number; readonly turnRad?: number }) => {
    const { x = first.at.x, y = first.at.y, scale = 1, turnRad = 0 } = change
    const [cos, sin] = [Math.cos(turnRad) * scale, Math.sin(turnRad) * scale]
    return set({
      places: underlay.places.map(({ px, at }) => {
        const [u, v] = [at.x - first.at.x, at.y - first.at.y]
        return { px, at: { x: x + cos * u - sin * v, y: y + sin * u + cos * v } }
      }),
    })
  }
  const angle = Math.atan2(dy, dx)

  async function carry(): Promise<void> {
    if (underlay === undefined) return
    const picture = await pictureOf(underlay).catch(() => null)
    if (picture === null) return setSaid('The picture is not in this browser: lay it under the plan again, or open a plan that carries it.')
    if (picture.size > carriedLimitBytes)
      return setSaid(
        `The picture takes ${(picture.size / 1048576).toFixed(1)} MB; a plan file carries 8 MB at most. A smaller scan of it would go.`,
      )
    setSaid(null)
    planEdit(stores, set({ data: await pictureData(picture) }))
  }
  /** It stays in this browser, or, where that fails, in the plan. */
  async function keepOut(): Promise<void> {
    const picture = underlay === undefined ? null : await pictureOf(underlay)
    if (picture === null) return
    try {
      await pictures.keep(picture)
    } catch (error) {
      return setSaid(`The picture cannot be kept in this browser, so the plan goes on carrying it: ${keepFailure(error).message}`)
    }
    setSaid(null)
    planEdit(stores, set({ data: null }))
  }
  return (
    <>
      <ParticularsHead
        title={underlay.name}
        sub={`Picture of ${underlay.widthPx} by ${underlay.heightPx} pixels, ${underlay.places.length === 2 ? 'laid by two places' : 'taken at a slant, seen square by four'}`}
      />
      <Fields>
        <NameField label="Name" value={underlay.name} keep={keep((name) => set({ name }))} />
        <ChoiceField<'shown' | 'hidden'>
          label="It is"
          value={underlay.isShown ? 'shown' : 'hidden'}
          choices={[
            { value: 'shown', text: 'shown' },
            { value: 'hidden', text: 'hidden' },
          ]}
          onChoose={(choice) => planEdit(stores, set({ isShown: choice === 'shown' }))}
        />
        <NumberField
          label="Strength"
          value={Math.round(underlay.opacity * 100)}
          decimals={0}
          min={1}
          max={100}
          origin="%"
          keep={keep((percent) => set({ opacity: percent / 100 }))}
        />
      </Fields>
      <Fields title="Where it lies">
        <LengthField label="Place 1, right" kind="room" range="any" value={first.at.x} keep={keep((x) => laid({ x }))} />
        <LengthField label="Place 1, up" kind="room" range="any" value={first.at.y} keep={keep((y) => laid({ y }))} />
        <LengthField label="To place 2" kind="room" value={lengthMm} keep={keep((mm) => laid({ scale: mm / lengthMm }))} />
        <AngleField
          label="Direction"
          value={angle < 0 ? angle + 2 * Math.PI : angle}
          keep={keep((rad) => laid({ turnRad: rad - angle }))}
        />
      </Fields>
      {said === null ? null : (
        <p className="field-wrong" role="alert">
          {said}
        </p>
      )}
      <div className="acts is-column">
        {underlay.data === null ? (
          <Act onClick={() => void carry()}>Carry it in the plan file</Act>
        ) : (
          <Act onClick={() => void keepOut()}>Keep it out of the plan file</Act>
        )}
        <RemoveAct table="underlays" id={id} />
      </div>
    </>
  )
}
