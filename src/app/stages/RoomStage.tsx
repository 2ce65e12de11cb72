import { useLayoutEffect, useRef, useState } from 'react'
import type { ReactNode } from 'react'
import { tableHasAny } from '../../core/plan/index.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { LengthField } from '../fields/fields.tsx'
import { planBoxNow } from '../planBox.ts'
import { planEdit } from '../planEdit.ts'
import { nextName } from '../../tools/index.ts'
import { viewportFit } from '../viewportShow.ts'
import { lengthText, typedSideExample } from '../../words/measure.ts'
import { RecordList } from './RecordList.tsx'
import { ToolHint, ToolWord } from './ToolWord.tsx'

export function RoomStage(): ReactNode {
  const benchworks = usePlan((state) => state.committed.benchworks)
  const walls = usePlan((state) => state.committed.walls)
  const obstacles = usePlan((state) => state.committed.obstacles)
  const openings = usePlan((state) => state.committed.openings)
  const hatches = usePlan((state) => state.committed.hatches)
  const joists = usePlan((state) => state.committed.joists)
  const portals = usePlan((state) => state.committed.portals)
  const underlays = usePlan((state) => state.committed.underlays)
  const hasTracks = usePlan((state) => tableHasAny(state.committed.tracks))
  const prefs = usePrefs((state) => state)
  const setDesk = useDesk((desk) => desk.set)
  const isEmpty = Object.keys(benchworks).length === 0
  return (
    <>
      <p className="lead">
        {isEmpty
          ? 'Begin with the wood. Draw the outline of the benchwork side by side, or give the size of a plain table and pull it into shape.'
          : 'The benchwork bounds everything that follows. Drag a point, or select a piece and type its sides.'}
      </p>
      <div className="acts is-column">
        <ToolWord tool="benchwork">Draw benchwork</ToolWord>
        <ToolHint tool="benchwork">
          Click each corner of the outline; click the first one again to close it. Type a length, or a length and an angle (
          {typedSideExample(prefs)}).
        </ToolHint>
        {isEmpty ? null : <ToolWord tool="hole">Cut a hole</ToolWord>}
        <ToolHint tool="hole">Click the corners of the hole within a piece of benchwork: an access, or the aisle of an island.</ToolHint>
        <ToolWord tool="wall">Draw walls</ToolWord>
        <button type="button" className="act" onClick={() => setDesk({ dialog: 'roomMeasured' })}>
          Type the room as measured
        </button>
        <ToolHint tool="wall">Click along the face of the wall as you measured it. Enter ends it.</ToolHint>
        {Object.keys(walls).length === 0 ? null : <ToolWord tool="opening">Make a door or passage</ToolWord>}
        <ToolHint tool="opening">
          Point at a wall: a click sets the opening, and its leaf opens to the side you point from. K: door or passage, H: hinge. A sill
          makes it a window.
        </ToolHint>
        {isEmpty ? null : <ToolWord tool="hatch">Draw a hatch</ToolWord>}
        <ToolHint tool="hatch">Click the corners of the place where a person can stand up inside the benchwork.</ToolHint>
        {isEmpty ? null : <ToolWord tool="joist">Draw a joist or riser</ToolWord>}
        <ToolHint tool="joist">Click where the timber under the deck begins and where it ends, or type its length and angle.</ToolHint>
        {hasTracks ? <ToolWord tool="portal">Set a portal</ToolWord> : null}
        <ToolHint tool="portal">Click where a track goes into a tunnel, through a wall or under a bridge.</ToolHint>
        <TableBySize isFirst={isEmpty} />
        <button type="button" className="act" onClick={() => setDesk({ dialog: 'underlay' })}>
          Lay a picture under the plan
        </button>
      </div>
      <RecordList
        table="benchworks"
        title="Benchwork"
        records={Object.values(benchworks).map((piece) => ({
          id: piece.id,
          name: piece.name,
          note: piece.heightMm > 0 ? `${lengthText(piece.heightMm, prefs)} high` : undefined,
        }))}
      />
      <RecordList table="walls" title="Walls" records={Object.values(walls)} />
      <RecordList
        table="openings"
        title="Doors, passages, windows"
        records={Object.values(openings).map(({ id, name, widthMm }) => ({ id, name, note: lengthText(widthMm, prefs) }))}
      />
      <RecordList table="obstacles" title="Posts and the like" records={Object.values(obstacles)} />
      <RecordList table="hatches" title="Hatches" records={Object.values(hatches)} />
      <RecordList table="joists" title="Joists and risers" records={Object.values(joists)} />
      <RecordList table="portals" title="Portals" records={Object.values(portals)} />
      <RecordList
        table="underlays"
        title="Pictures under the plan"
        records={Object.values(underlays).map(({ id, name, isShown }) => ({ id, name, note: isShown ? undefined : 'hidden' }))}
      />
    </>
  )
}

/** A plain table by its two sides: the quickest start, and the way that needs no pointer. */
function TableBySize({ isFirst }: { readonly isFirst: boolean }): ReactNode {
  const stores = useStores()
  const [isOpen, setOpen] = useState(false)
  const form = useRef<HTMLElement>(null)
  // The button that was pressed is gone: the hand goes on at the first size.
  useLayoutEffect(() => {
    if (isOpen) form.current?.querySelector('input')?.focus()
  }, [isOpen])
  const [long, setLong] = useState(2438.4)
  const [deep, setDeep] = useState(914.4)
  if (!isOpen) {
    return (
      <button type="button" className="act" onClick={() => setOpen(true)}>
        Add a table by its size
      </button>
    )
  }
  function add(): void {
    const taken = planBoxNow(stores)
    // Beside what is there, so that two pieces do not lie on each other.
    const x = taken === null ? 0 : taken.maxX + 300
    const y = taken === null ? 0 : taken.minY
    const outline = [
      { x, y },
      { x: x + long, y },
      { x: x + long, y: y + deep },
      { x, y: y + deep },
    ]
    const pieces = Object.values(stores.plan.getState().plan.benchworks)
    const { added } = planEdit(stores, {
      kind: 'benchwork.add',
      record: { name: pieces.length === 0 ? 'Table' : nextName('Table', pieces), outline, holes: [], heightMm: 1219.2 },
    })
    if (added === null) return
    stores.session.getState().select({ kind: 'record', table: 'benchworks', id: added })
    const whole = planBoxNow(stores)
    if (whole !== null) viewportFit(stores, whole)
    setOpen(false)
  }
  return (
    <section className="by-size" ref={form} aria-label="A table by its size">
      <LengthField label="Along" kind="room" value={long} keep={{ commit: (mm) => (setLong(mm), null) }} />
      <LengthField label="Deep" kind="room" value={deep} keep={{ commit: (mm) => (setDeep(mm), null) }} />
      <div className="acts">
        <button type="button" className={`act${isFirst ? ' is-main' : ''}`} onClick={add}>
          Add this table
        </button>
        <button type="button" className="act" onClick={() => setOpen(false)}>
          Leave it
        </button>
      </div>
    </section>
  )
}
