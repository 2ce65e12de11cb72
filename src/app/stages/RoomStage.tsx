import type { ReactNode } from 'react'
import { planHasAny } from '../../core/plan/index.ts'
import { AidsListed } from '../aids/AidsListed.tsx'
import { usePlan, usePrefs } from '../context.ts'
import { useDesk } from '../desk.ts'
import { BySize } from '../room/BySize.tsx'
import { LegsBySize } from '../room/LegsBySize.tsx'
import { PostBySize } from '../room/PostBySize.tsx'
import { TableBySize } from '../room/TableBySize.tsx'
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
  const hasTracks = usePlan((state) => planHasAny(state.committed, 'tracks'))
  const prefs = usePrefs((state) => state)
  const setDesk = useDesk((desk) => desk.set)
  const isEmpty = Object.keys(benchworks).length === 0
  return (
    <>
      <p className="lead">
        {isEmpty
          ? 'Begin with the wood. Draw the outline of the benchwork side by side, or give the sizes of a plain table, an L or a U and pull it into shape.'
          : 'The benchwork bounds everything that follows. Drag a point, or select a piece and type its sides.'}
      </p>
      <div className="acts is-column">
        <ToolWord tool="benchwork">Draw benchwork</ToolWord>
        <ToolHint tool="benchwork">
          Click each corner of the outline; click the first one again to close it. Type a length, or a length and an angle (
          {typedSideExample(prefs)}). By keyboard alone: arrows push the plan, Space sets a point at the cross in its middle.
        </ToolHint>
        {isEmpty ? null : <ToolWord tool="hole">Cut a hole</ToolWord>}
        <ToolHint tool="hole">Click the corners of the hole within a piece of benchwork: an access, or the aisle of an island.</ToolHint>
        <ToolWord tool="wall">Draw walls</ToolWord>
        <button type="button" className="act" onClick={() => setDesk({ dialog: 'roomMeasured' })}>
          Type the room as measured
        </button>
        <ToolHint tool="wall">Click along the face of the wall as you measured it. Enter ends it.</ToolHint>
        {Object.keys(walls).length === 0 ? null : <ToolWord tool="opening">Make a door, passage or window</ToolWord>}
        <ToolHint tool="opening">
          Point at a wall: a click sets the opening, and its leaf opens to the side you point from. K: door, passage or window, H: hinge.
          What stands open or has a leaf is a way; a window is none, and lets nobody in.
        </ToolHint>
        {isEmpty ? null : <ToolWord tool="hatch">Draw a hatch</ToolWord>}
        <ToolHint tool="hatch">Click the corners of the place where a person can stand up inside the benchwork.</ToolHint>
        {isEmpty ? null : <ToolWord tool="joist">Draw a joist or riser</ToolWord>}
        <ToolHint tool="joist">Click where the timber under the deck begins and where it ends, or type its length and angle.</ToolHint>
        {hasTracks ? <ToolWord tool="portal">Set a portal</ToolWord> : null}
        <ToolHint tool="portal">Click where a track goes into a tunnel, through a wall or under a bridge.</ToolHint>
        <BySize form="table" word="Add a table by its size" label="A table by its size">
          {(shut) => <TableBySize isFirst={isEmpty} shut={shut} />}
        </BySize>
        <BySize form="legs" word="Add an L or a U by its sizes" label="An L or a U by its sizes">
          {(shut) => <LegsBySize shut={shut} />}
        </BySize>
        <BySize form="post" word="Add a post by its size" label="A post by its size">
          {(shut) => <PostBySize shut={shut} />}
        </BySize>
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
      <AidsListed />
    </>
  )
}
