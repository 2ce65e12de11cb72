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
import { useDesk } from '../desk.ts'
import { LengthField } from '../fields/fields.tsx'
import { ChoiceField, ValueField } from '../fields/ValueField.tsx'
import type { Read } from '../fields/ValueField.tsx'
import { Act } from '../particulars/acts.tsx'
import { planBoxNow } from '../planBox.ts'
import { planEdit } from '../planEdit.ts'
import { nextName } from '../../tools/index.ts'
import { viewportFit } from '../viewportShow.ts'
import { RoomPicture } from './RoomPicture.tsx'
import './room.css'

/** A square room: something to type over. */
function squareRoom({ roomLongMm, roomDeepMm }: RoomUsual): readonly MeasuredSide[] {
  return [roomLongMm, roomDeepMm, roomLongMm, roomDeepMm].map((lengthMm) => ({
    lengthMm,
    corner: { kind: 'angle', angleRad: Math.PI / 2 },
  }))
}

/** The walls of a room by tape: each side, each corner by its angle or by the diagonal across it, and by how much they fail to close. */
export default function RoomMeasured(): ReactNode {
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  const units = usePrefs((state) => state.units)
  const fraction = usePrefs((state) => state.fraction)
  const prefs: MeasurePrefs = { units, fraction }
  const [wall] = useState(() => wallAtHand(stores))
  const [sides, setSides] = useState<readonly MeasuredSide[]>(() => (wall === null ? squareRoom(roomUsual(units)) : ringSides(wall.points)))
  const [isSpread, setSpread] = useState(true)
  const found = roomTraverse(sides, isSpread, wall?.points[0])
  const close = (): void => setDesk({ dialog: null })
  const sideSet = (at: number, change: Partial<MeasuredSide>): null => {
    setSides((before) => before.map((side, i) => (i === at ? { ...side, ...change } : side)))
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
    close()
  }

  return (
    <Sheet onShut={close} look="room">
      <Heading slot="title">{wall === null ? 'The room by tape' : `${wall.name} by tape`}</Heading>
      <p className="soft small">
        Walk along the walls with the room on your left. Type each side, and at its end the inside angle of the corner, or the diagonal
        across it (from the far end of this side to the far end of the next): a length such as {lengthText(4761, prefs, 'room')} is a
        diagonal, 90° is an angle, and one corner may stay open (a dash).
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
                    keep={{ commit: (lengthMm) => sideSet(i, { lengthMm }) }}
                  />
                </td>
                <td>
                  <ValueField<MeasuredCorner>
                    label={`Corner at the end of side ${i + 1}`}
                    hideLabel
                    value={side.corner}
                    show={(corner) => cornerText(corner, prefs)}
                    read={(text) => cornerRead(text, prefs)}
                    keep={{ commit: (corner) => sideSet(i, { corner }) }}
                  />
                </td>
                <td>
                  <button
                    type="button"
                    className="word"
                    aria-label={`Take out side ${i + 1}`}
                    disabled={sides.length <= 3}
                    onClick={() => setSides((before) => before.toSpliced(i, 1))}
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
        <Act
          onClick={() =>
            setSides((before) => [...before, { lengthMm: roomUsual(units).sideMm, corner: { kind: 'angle', angleRad: Math.PI / 2 } }])
          }
        >
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
        <button type="button" className="act is-main" disabled={!found.ok} onClick={keep}>
          {wall === null ? 'Draw these walls' : 'Change the walls to this'}
        </button>
        <Act onClick={close}>Leave it</Act>
      </div>
    </Sheet>
  )
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
