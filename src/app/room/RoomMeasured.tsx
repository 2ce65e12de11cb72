import { useState } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import { ringSides, roomTraverse, roomUsual } from '../../core/room/index.ts'
import type { MeasuredCorner, MeasuredSide, RoomUsual } from '../../core/room/index.ts'
import type { Wall } from '../../core/plan/types.ts'
import { angleFormat, angleParse, lengthParse } from '../../core/units/index.ts'
import { entryProblemText } from '../../words/entryText.ts'
import { lengthText } from '../../words/measure.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { misclosureText, traverseProblemText } from '../../words/roomText.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { usePrefs, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { LengthField } from '../fields/fields.tsx'
import { refusedShown } from '../fields/refused.ts'
import { ChoiceField, ValueField } from '../fields/ValueField.tsx'
import type { Read } from '../fields/ValueField.tsx'
import { Act } from '../particulars/acts.tsx'
import { planBoxNow } from '../planBox.ts'
import { planEdit } from '../planEdit.ts'
import { nextName } from '../../tools/index.ts'
import { viewportFit } from '../viewportShow.ts'
import { RoomPicture } from './RoomPicture.tsx'
import './room.css'

/** What has been typed of a new room so far. It waits on the desk: Escape must not lose it. */
export interface RoomDraft {
  readonly sides: readonly MeasuredSide[]
  /** The sides whose length was typed, or that stand as they were drawn. */
  readonly typed: readonly number[]
}

const square: MeasuredCorner = { kind: 'angle', angleRad: Math.PI / 2 }

/** A square room: something to type over. */
function squareRoom({ roomLongMm, roomDeepMm }: RoomUsual): RoomDraft {
  return { sides: [roomLongMm, roomDeepMm, roomLongMm, roomDeepMm].map((lengthMm) => ({ lengthMm, corner: square })), typed: [] }
}

/** With a length typed. In a square room the side across goes with it until it is typed itself. */
function withLength({ sides, typed }: RoomDraft, at: number, lengthMm: number): RoomDraft {
  const across = (at + 2) % 4
  const isSquare = sides.length === 4 && sides.every(({ corner }) => corner.kind === 'angle' && corner.angleRad === Math.PI / 2)
  const goesAlong = (i: number): boolean => i === at || (isSquare && i === across && !typed.includes(across))
  return {
    sides: sides.map((side, i) => (goesAlong(i) ? { ...side, lengthMm } : side)),
    typed: typed.includes(at) ? typed : [...typed, at],
  }
}

/** The walls of a room by tape: each side, each corner by its angle or by the diagonal across it, and by how much they fail to close. */
export default function RoomMeasured(): ReactNode {
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  const units = usePrefs((state) => state.units)
  const fraction = usePrefs((state) => state.fraction)
  const prefs: MeasurePrefs = { units, fraction }
  const [wall] = useState(() => wallAtHand(stores))
  const desk = useDeskStore()
  const [draft, setDraft] = useState<RoomDraft>(() => {
    if (wall === null) return desk.getState().roomDraft ?? squareRoom(roomUsual(units))
    const asDrawn = ringSides(wall.points)
    return { sides: asDrawn, typed: asDrawn.map((_, i) => i) }
  })
  const { sides } = draft
  const [isSpread, setSpread] = useState(true)
  const found = roomTraverse(sides, isSpread, wall?.points[0])
  const close = (): void => setDesk({ dialog: null })
  const leave = (): void => setDesk({ dialog: null, roomDraft: null })
  function change(to: RoomDraft): null {
    setDraft(to)
    if (wall === null) setDesk({ roomDraft: to })
    return null
  }

  function keep(): void {
    if (!found.ok) return
    // The face was walked with the room on the left: the wall is thick to the right of it.
    const walls = Object.values(stores.plan.getState().plan.walls)
    const done = planEdit(
      stores,
      wall === null
        ? {
            kind: 'wall.add',
            record: {
              name: nextName('Room', walls),
              points: found.points,
              isClosed: true,
              thicknessMm: walls.at(-1)?.thicknessMm ?? roomUsual(units).wallMm,
            },
          }
        : { kind: 'wall.set', id: wall.id, change: { points: found.points } },
    )
    if (done.problem !== null) return
    stores.session.getState().select({ kind: 'record', table: 'walls', id: done.added ?? wall?.id ?? '' })
    const whole = planBoxNow(stores)
    if (whole !== null) viewportFit(stores, whole)
    leave()
  }

  return (
    <Sheet onShut={close} look="room">
      <Heading slot="title">{wall === null ? 'The room by tape' : `${wall.name} by tape`}</Heading>
      <p className="soft small">
        Walk along the walls with the room on your left. Type each side, and at its end the inside angle of the corner, or the diagonal
        across it (from the far end of this side to the far end of the next): a length such as {lengthText(4761, prefs, 'room')} is a
        diagonal, 90° is an angle, and one corner may stay open (a dash). While all corners are square, the side across goes with the one
        that is typed, until it is typed itself.
      </p>
      <div className="room-tape">
        <table className="room-sides">
          <thead>
            <tr>
              <th scope="col">Side</th>
              <th scope="col">Length</th>
              <th scope="col">Corner at its end</th>
              <th>
                <span className="visually-hidden">Take out</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {sides.map((side, i) => (
              <tr key={i}>
                <th scope="row">{i + 1}</th>
                <td>
                  <LengthField
                    label={`Length of side ${i + 1}`}
                    hideLabel
                    kind="room"
                    value={side.lengthMm}
                    keep={{ commit: (lengthMm) => change(withLength(draft, i, lengthMm)) }}
                  />
                </td>
                <td>
                  <ValueField<MeasuredCorner>
                    label={`Corner at the end of side ${i + 1}`}
                    hideLabel
                    value={side.corner}
                    show={(corner) => cornerText(corner, prefs)}
                    read={(text) => cornerRead(text, prefs)}
                    keep={{ commit: (corner) => change({ ...draft, sides: sides.with(i, { ...side, corner }) }) }}
                  />
                </td>
                <td>
                  <button
                    type="button"
                    className="word"
                    aria-label={`Take out side ${i + 1}`}
                    disabled={sides.length <= 3}
                    onClick={() => change(withoutSide(draft, i))}
                  >
                    ×
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        <RoomPicture points={found.ok ? found.points : []} />
      </div>
      <div className="acts">
        <Act onClick={() => change({ ...draft, sides: [...sides, { lengthMm: roomUsual(units).sideMm, corner: square }] })}>
          One side more
        </Act>
      </div>
      <p role="status" className={found.ok ? undefined : 'wrong'}>
        {found.ok ? misclosureText(found.misclosure, prefs) : traverseProblemText(found.problem, prefs)}
      </p>
      <div className="fields">
        <ChoiceField<'spread' | 'last'>
          label="The error"
          value={isSpread ? 'spread' : 'last'}
          choices={[
            { value: 'spread', text: 'is spread over angles and sides, by their length' },
            { value: 'last', text: 'stays in the last side' },
          ]}
          onChoose={(choice) => setSpread(choice === 'spread')}
        />
      </div>
      <div className="acts">
        <button
          type="button"
          className="act is-main"
          disabled={!found.ok}
          // A side that is refused must not be drawn without a word as it stood before.
          onClick={(event) => refusedShown(event.currentTarget.closest('[role="dialog"]')) || keep()}
        >
          {wall === null ? 'Draw these walls' : 'Change the walls to this'}
        </button>
        <Act onClick={leave}>Leave it</Act>
      </div>
    </Sheet>
  )
}

/** A square room that loses a side is none any more: what is left is taken as it stands. */
function withoutSide({ sides }: RoomDraft, at: number): RoomDraft {
  const left = sides.toSpliced(at, 1)
  return { sides: left, typed: left.map((_, i) => i) }
}

/** The wall that is selected, where it goes all round. */
function wallAtHand(stores: ReturnType<typeof useStores>): Wall | null {
  const { selection } = stores.session.getState()
  if (selection.kind !== 'record' || selection.table !== 'walls') return null
  const wall = stores.plan.getState().plan.walls[selection.id]
  return wall?.isClosed === true && wall.points.length > 2 ? wall : null
}

function cornerText(corner: MeasuredCorner, prefs: MeasurePrefs): string {
  switch (corner.kind) {
    case 'angle':
      return angleFormat(corner.angleRad)
    case 'diagonal':
      return lengthText(corner.lengthMm, prefs, 'room')
    case 'none':
      return '–'
  }
}

/** A number alone or with a degree sign is an angle; a length with its unit is a diagonal; a dash says that it was not measured. */
function cornerRead(text: string, prefs: MeasurePrefs): Read<MeasuredCorner> {
  const entry = text.trim()
  if (/^[-–—]?$/.test(entry)) return { ok: true, value: { kind: 'none' } }
  const angle = angleParse(entry)
  if (angle.ok) return { ok: true, value: { kind: 'angle', angleRad: angle.rad } }
  const length = lengthParse(entry, { bare: prefs.units === 'metric' ? 'mm' : 'in' })
  if (length.ok) return { ok: true, value: { kind: 'diagonal', lengthMm: length.mm } }
  return { ok: false, message: entryProblemText(/["'a-z]/i.test(entry.replace(/deg.*/i, '')) ? length.problem : angle.problem) }
}
