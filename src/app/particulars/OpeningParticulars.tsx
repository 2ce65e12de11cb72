import type { ReactNode } from 'react'
import { polylineSides, ringArea } from '../../core/geom/index.ts'
import type { Side } from '../../core/geom/index.ts'
import type { DoorLeaf, Id, Opening, Wall } from '../../core/plan/types.ts'
import { roomUsual } from '../../core/room/index.ts'
import { openingOf, openingSide, openingWord } from '../../tools/index.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { LengthField, NameField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { Fields } from './parts.tsx'
import { RemoveAct } from './recordParts.tsx'
import { RoomThingHead, gone } from './roomThingParts.tsx'

type LeafChoice = 'none' | 'window' | `${DoorLeaf['hinge']} ${DoorLeaf['side']}`

/** Of walls all round a room in and out say more than left and right. The shut list shows little: what differs stands first. */
function leafChoices(wall: Wall | undefined): readonly { readonly value: LeafChoice; readonly text: string }[] {
  const isRoom = wall?.isClosed === true
  const isLeftInside = isRoom && ringArea(wall.points) > 0
  const way = (side: DoorLeaf['side']): string => (isRoom ? ((side === 'left') === isLeftInside ? 'in' : 'out') : side)
  return [
    { value: 'none', text: 'none: a passage' },
    { value: 'window', text: 'none: a window' },
    { value: 'from left', text: `opens ${way('left')}, hinge first` },
    { value: 'to left', text: `opens ${way('left')}, hinge last` },
    { value: 'from right', text: `opens ${way('right')}, hinge first` },
    { value: 'to right', text: `opens ${way('right')}, hinge last` },
  ]
}

function leafOf(choice: LeafChoice): DoorLeaf | null {
  if (choice === 'none' || choice === 'window') return null
  return { hinge: choice.startsWith('from') ? 'from' : 'to', side: choice.endsWith('left') ? 'left' : 'right' }
}

/** A side of a wall by the points that it runs between, as the panel of the wall numbers them. */
function sideText({ index }: Side, { points }: Wall): string {
  return `${index + 1} to ${index + 2 > points.length ? 1 : index + 2}`
}

/** A door, a passage or a window, from the corner that its own side of the wall begins at: so it is measured. */
export function OpeningParticulars({ id }: { readonly id: Id }): ReactNode {
  const opening = usePlan((state) => state.plan.openings[id])
  const wall = usePlan((state) => (opening === undefined ? undefined : state.plan.walls[opening.wall]))
  const units = usePrefs((prefs) => prefs.units)
  const stores = useStores()
  const keep = useKeepInPlan()
  if (opening === undefined) return gone('openings')
  const set = (change: Partial<Omit<Opening, 'id'>>) => ({ kind: 'opening.set', id, change }) as const
  const { leaf, sillMm, widthMm } = opening
  const sides = wall === undefined ? [] : polylineSides(wall.points, wall.isClosed)
  const side = wall === undefined ? null : openingSide(wall, opening)
  const startMm = side?.startMm ?? 0
  const fromMm = opening.fromMm - startMm
  // An opening that has come to be longer than its side can still be made shorter.
  const restMm = side === null ? Infinity : side.lengthMm - Math.max(fromMm, 0)
  return (
    <>
      <RoomThingHead table="openings" id={id} name={opening.name} sub={`${openingWord[openingOf(opening)]} in a wall`} />
      <Fields>
        <NameField label="Name" value={opening.name} keep={keep((name) => set({ name }))} />
        {wall === undefined || side === null || sides.length < 2 ? null : (
          <ChoiceField
            label="Side"
            value={String(side.index)}
            origin={`of ${wall.name}`}
            choices={sides
              .filter((one) => one.index === side.index || one.lengthMm >= widthMm)
              .map((one) => ({ value: String(one.index), text: sideText(one, wall) }))}
            onChoose={(index) => {
              const to = sides.find((one) => String(one.index) === index)
              if (to === undefined) return
              // As far from its corner as before, and no further than the side goes.
              planEdit(stores, set({ fromMm: to.startMm + Math.min(fromMm, to.lengthMm - widthMm) }))
            }}
          />
        )}
        <LengthField
          label="From"
          kind="room"
          range="zeroUp"
          value={fromMm}
          origin={side === null ? 'along the wall' : `from corner ${side.index + 1}`}
          {...(side === null
            ? {}
            : { bounds: { leastMm: 0, mostMm: Math.max(side.lengthMm - widthMm, 0) + ROUNDING_MM, because: sideBecause } })}
          keep={keep((mm) => set({ fromMm: startMm + mm }))}
        />
        <LengthField
          label="Width"
          value={widthMm}
          {...(side === null ? {} : { bounds: { leastMm: 1, mostMm: Math.max(restMm, 1) + ROUNDING_MM, because: sideBecause } })}
          keep={keep((mm) => set({ widthMm: mm }))}
        />
        <ChoiceField<LeafChoice>
          label="Leaf"
          value={sillMm !== null ? 'window' : leaf === null ? 'none' : `${leaf.hinge} ${leaf.side}`}
          choices={leafChoices(wall)}
          onChoose={(choice) =>
            planEdit(stores, set({ leaf: leafOf(choice), sillMm: choice === 'window' ? (sillMm ?? roomUsual(units).sillMm) : null }))
          }
        />
        {sillMm === null ? null : (
          <LengthField
            label="Sill"
            kind="room"
            range="zeroUp"
            value={sillMm}
            origin="above the floor"
            keep={keep((mm) => set({ sillMm: mm }))}
          />
        )}
      </Fields>
      <div className="acts is-column">
        <RemoveAct table="openings" id={id} />
      </div>
    </>
  )
}

/** A door right up to its corner is not refused for the last figure of a sum. */
const ROUNDING_MM = 1e-6

const sideBecause = 'No opening goes round a corner: its side of the wall is no longer.'
