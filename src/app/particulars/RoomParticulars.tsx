import { Suspense, lazy } from 'react'
import type { ReactNode } from 'react'
import type { Point } from '../../core/geom/types.ts'
import type { Benchwork, Id } from '../../core/plan/types.ts'
import { usePlan, useSession, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { LengthField, NameField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { Act, Fields, ParticularsHead } from './parts.tsx'
import { FindingsOf, RemoveAct } from './recordParts.tsx'
import { doorAddIn, hatchAddIn, joistAddUnder } from '../roomThingAdd.ts'
import { RingTable } from './ringTable.tsx'

const ShelfAlong = lazy(() => import('../room/ShelfAlong.tsx'))

export function BenchworkParticulars({ id }: { readonly id: Id }): ReactNode {
  const piece = usePlan((state) => state.plan.benchworks[id])
  const stores = useStores()
  const keep = useKeepInPlan()
  if (piece === undefined) return <p className="lead">This piece of benchwork is no longer there.</p>
  return (
    <>
      <ParticularsHead
        title={piece.name}
        sub={`Benchwork · ${piece.outline.length} points${piece.holes.length === 0 ? '' : `, ${piece.holes.length} ${piece.holes.length === 1 ? 'hole' : 'holes'}`}`}
      />
      <FindingsOf table="benchworks" id={id} />
      <Fields>
        <NameField label="Name" value={piece.name} keep={keep((name) => ({ kind: 'benchwork.set', id, change: { name } }))} />
        <LengthField
          label="Height"
          kind="room"
          range="zeroUp"
          value={piece.heightMm}
          origin="above the floor"
          keep={keep((heightMm) => ({ kind: 'benchwork.set', id, change: { heightMm } }))}
        />
      </Fields>
      <BenchworkRing piece={piece} ring={-1} points={piece.outline} />
      {piece.holes.map((hole, index) => (
        <div key={index}>
          <BenchworkRing piece={piece} ring={index} points={hole} />
          <div className="acts">
            <Act onClick={() => planEdit(stores, { kind: 'benchwork.removeHole', id, hole: index })}>Fill this hole</Act>
          </div>
        </div>
      ))}
      <div className="acts is-column">
        <Act onClick={() => stores.session.getState().setTool('hole')}>Cut a hole</Act>
        <Act onClick={() => hatchAddIn(stores, piece)}>Make a hatch in it</Act>
        <Act onClick={() => joistAddUnder(stores, piece)}>Lay a joist under it</Act>
        <RemoveAct table="benchworks" id={id} />
      </div>
    </>
  )
}

/** One ring of a piece; -1 is the outline, as the edits count them. */
function BenchworkRing({
  piece,
  ring,
  points,
}: {
  readonly piece: Benchwork
  readonly ring: number
  readonly points: readonly Point[]
}): ReactNode {
  const stores = useStores()
  const keep = useKeepInPlan()
  const selected = useSession(({ selection }) =>
    selection.kind === 'ringPoint' && selection.benchwork === piece.id && selection.ring === ring ? selection.index : null,
  )
  const name = ring < 0 ? 'Outline' : `Hole ${ring + 1}`
  return (
    <section className="fields-part">
      <h3>{name}</h3>
      <RingTable
        name={name}
        points={points}
        isClosed
        edit={{
          keepPoint: (index, toPoint) => keep((value) => ({ kind: 'benchwork.movePoint', id: piece.id, ring, index, to: toPoint(value) })),
          onRemove: points.length <= 3 ? null : (index) => planEdit(stores, { kind: 'benchwork.removePoint', id: piece.id, ring, index }),
          onInsert: (index, at) => planEdit(stores, { kind: 'benchwork.insertPoint', id: piece.id, ring, index, at }),
          selected,
          onSelect: (index) => stores.session.getState().select({ kind: 'ringPoint', benchwork: piece.id, ring, index }),
        }}
      />
    </section>
  )
}

export function WallParticulars({ id }: { readonly id: Id }): ReactNode {
  const wall = usePlan((state) => state.plan.walls[id])
  const stores = useStores()
  const keep = useKeepInPlan()
  const setDesk = useDesk((desk) => desk.set)
  if (wall === undefined) return <p className="lead">This wall is no longer there.</p>
  const points = wall.points
  return (
    <>
      <ParticularsHead title={wall.name} sub="Wall, along the face that was measured" />
      <Fields>
        <NameField label="Name" value={wall.name} keep={keep((name) => ({ kind: 'wall.set', id, change: { name } }))} />
        <LengthField
          label="Thickness"
          value={wall.thicknessMm}
          range="zeroUp"
          origin="to the right"
          keep={keep((thicknessMm) => ({ kind: 'wall.set', id, change: { thicknessMm } }))}
        />
        <ChoiceField
          label="Runs"
          value={wall.isClosed ? 'round' : 'open'}
          choices={[
            { value: 'open', text: 'from end to end' },
            { value: 'round', text: 'all round the room' },
          ]}
          onChoose={(run) => planEdit(stores, { kind: 'wall.set', id, change: { isClosed: run === 'round' } })}
        />
      </Fields>
      <section className="fields-part">
        <h3>Points</h3>
        <RingTable
          name="Points of the wall"
          points={points}
          isClosed={wall.isClosed}
          edit={{
            keepPoint: (index, toPoint) =>
              keep((value) => ({ kind: 'wall.set', id, change: { points: points.with(index, toPoint(value)) } })),
            onRemove:
              points.length <= 2
                ? null
                : (index) => planEdit(stores, { kind: 'wall.set', id, change: { points: points.toSpliced(index, 1) } }),
            onInsert: (index, at) => planEdit(stores, { kind: 'wall.set', id, change: { points: points.toSpliced(index, 0, at) } }),
            selected: null,
            onSelect: null,
          }}
        />
      </section>
      <div className="acts is-column">
        <Act onClick={() => doorAddIn(stores, wall)}>Make a door in it</Act>
        {wall.isClosed ? <Act onClick={() => setDesk({ dialog: 'roomMeasured' })}>Type it as measured</Act> : null}
        <Suspense fallback={null}>
          <ShelfAlong wall={wall} />
        </Suspense>
        <RemoveAct table="walls" id={id} />
      </div>
    </>
  )
}

export function ObstacleParticulars({ id }: { readonly id: Id }): ReactNode {
  const obstacle = usePlan((state) => state.plan.obstacles[id])
  const stores = useStores()
  const keep = useKeepInPlan()
  if (obstacle === undefined) return <p className="lead">This obstacle is no longer there.</p>
  const outline = obstacle.outline
  return (
    <>
      <ParticularsHead title={obstacle.name} sub="A post, chimney, furnace or low pipe: nothing may enter it" />
      <Fields>
        <NameField label="Name" value={obstacle.name} keep={keep((name) => ({ kind: 'obstacle.set', id, change: { name } }))} />
        <LengthField
          label="Underside"
          kind="room"
          range="zeroUp"
          value={obstacle.undersideMm}
          origin={obstacle.undersideMm === 0 ? 'stands on the floor' : 'above the floor'}
          keep={keep((undersideMm) => ({ kind: 'obstacle.set', id, change: { undersideMm } }))}
        />
      </Fields>
      <section className="fields-part">
        <h3>Outline</h3>
        <RingTable
          name="Outline of the obstacle"
          points={outline}
          isClosed
          edit={{
            keepPoint: (index, toPoint) =>
              keep((value) => ({ kind: 'obstacle.set', id, change: { outline: outline.with(index, toPoint(value)) } })),
            onRemove:
              outline.length <= 3
                ? null
                : (index) => planEdit(stores, { kind: 'obstacle.set', id, change: { outline: outline.toSpliced(index, 1) } }),
            onInsert: (index, at) => planEdit(stores, { kind: 'obstacle.set', id, change: { outline: outline.toSpliced(index, 0, at) } }),
            selected: null,
            onSelect: null,
          }}
        />
      </section>
      <div className="acts is-column">
        <RemoveAct table="obstacles" id={id} />
      </div>
    </>
  )
}
