import type { ReactNode } from 'react'
import type { Point } from '../../core/geom/types.ts'
import type { Id, TableName } from '../../core/plan/types.ts'
import { joistRing, openingRings, portalSides } from '../../tools/index.ts'
import { useDerived, usePlan, usePrefs } from '../context.ts'
import { SideLength } from './BenchworkMarks.tsx'
import { useView } from './canvasContext.ts'
import { Knob } from './markParts.tsx'
import { pathTransform, polylineText } from './svgPath.ts'

type RoomThing = Extract<TableName, 'openings' | 'hatches' | 'joists' | 'portals'>

/** The selected door, hatch, joist or portal: its outline, its measures, and what can be taken hold of. */
export function RoomThingMarks({ table, id }: { readonly table: RoomThing; readonly id: Id }): ReactNode {
  switch (table) {
    case 'openings':
      return <OpeningMarks id={id} />
    case 'hatches':
      return <HatchMarks id={id} />
    case 'joists':
      return <JoistMarks id={id} />
    case 'portals':
      return <PortalMarks id={id} />
  }
}

function OpeningMarks({ id }: { readonly id: Id }): ReactNode {
  const opening = usePlan((state) => state.plan.openings[id])
  const wall = usePlan((state) => (opening === undefined ? undefined : state.plan.walls[opening.wall]))
  if (opening === undefined || wall === undefined) return null
  const rings = openingRings(wall, opening)
  const [from, to] = [rings[0]?.[0], rings.at(-1)?.[1]]
  return (
    <g>
      <Edge rings={rings} />
      {from === undefined || to === undefined ? null : <Length from={from} to={to} points={rings.flat()} isOut />}
    </g>
  )
}

function HatchMarks({ id }: { readonly id: Id }): ReactNode {
  const hatch = usePlan((state) => state.plan.hatches[id])
  const view = useView()
  if (hatch === undefined) return null
  const { outline } = hatch
  return (
    <g>
      <Edge rings={[outline]} />
      {outline.map((to, i) => (
        <Length key={i} from={outline.at(i - 1) ?? to} to={to} points={outline} isOut={false} />
      ))}
      {outline.map((at, i) => (
        <Knob key={i} at={at} view={view} kind="corner" isChosen={false} />
      ))}
    </g>
  )
}

function JoistMarks({ id }: { readonly id: Id }): ReactNode {
  const joist = usePlan((state) => state.plan.joists[id])
  const view = useView()
  if (joist === undefined) return null
  const ring = joistRing(joist)
  return (
    <g>
      <Edge rings={[ring]} />
      <Length from={joist.from} to={joist.to} points={ring} isOut />
      <Knob at={joist.from} view={view} kind="corner" isChosen={false} />
      <Knob at={joist.to} view={view} kind="corner" isChosen={false} />
    </g>
  )
}

function PortalMarks({ id }: { readonly id: Id }): ReactNode {
  const portal = usePlan((state) => state.plan.portals[id])
  const alignment = useDerived((state) => (portal === undefined ? undefined : state.derived.network.tracks.get(portal.track)?.alignment))
  if (portal === undefined || alignment?.ok !== true) return null
  const { left, right } = portalSides(alignment.path, alignment.isClosed, portal)
  return <Edge rings={[[...left, ...right.toReversed()]]} />
}

function Edge({ rings }: { readonly rings: readonly (readonly Point[])[] }): ReactNode {
  const view = useView()
  return <path className="chosen-edge" transform={pathTransform(view)} d={rings.map((ring) => polylineText(ring, true)).join('')} />
}

function Length({
  from,
  to,
  points,
  isOut,
}: {
  readonly from: Point
  readonly to: Point
  readonly points: readonly Point[]
  readonly isOut: boolean
}): ReactNode {
  const view = useView()
  const prefs = usePrefs((state) => state)
  const count = Math.max(points.length, 1)
  const middle = { x: points.reduce((sum, { x }) => sum + x, 0) / count, y: points.reduce((sum, { y }) => sum + y, 0) / count }
  return <SideLength from={from} to={to} view={view} prefs={prefs} isOut={isOut} middle={middle} />
}
