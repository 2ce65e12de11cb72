import { Suspense, lazy, memo, useState } from 'react'
import type { CSSProperties, ReactNode } from 'react'
import { useShallow } from 'zustand/react/shallow'
import type { Box } from '../../core/geom/types.ts'
import { useDerived, usePlan } from '../context.ts'
import { useView } from './canvasContext.ts'
import { detailAt, type Detail } from './detail.ts'
import { BenchworkShape, ObstacleShape, WallShape } from './RoomShapes.tsx'
import { HatchShape, JoistShape, OpeningShape, PortalShape } from './RoomThingShapes.tsx'
import { StillInPlan } from './still.tsx'
import { pathTransform, pathUnitMm } from './svgPath.ts'
import { useRegion, useTracksDrawn } from './tracksDrawn.ts'
import { CrossingRails, CrossingTies, TrackRails, TrackTies, TurnoutRails, TurnoutTies } from './TrackShapes.tsx'

/** What the picture of the plan is drawn with at a view: one transform, widths, and the word of detail. */
function usePicture(): { readonly transform: string; readonly detail: Detail; readonly style: CSSProperties } {
  const view = useView()
  const railway = usePlan((state) => state.plan.railway)
  const [shown, setShown] = useState<Detail | null>(null)
  const detail = detailAt(view.pxPerMm, railway, shown)
  // Kept, so that a view at a step stays with what it shows.
  if (detail !== shown) setShown(detail)
  // Widths that must not follow the scale are given in px times this: units of path text to one pixel.
  const style = {
    '--px': 1 / (view.pxPerMm * pathUnitMm),
    '--rail-head': `${railway.railHeadMm / pathUnitMm}px`,
    '--rail-foot': `${railway.railFootMm / pathUnitMm}px`,
  } as CSSProperties
  return { transform: pathTransform(view), detail, style }
}

/** The room and what stands in it: below all tracks. */
export const GroundPicture = memo(function GroundPicture(): ReactNode {
  const { transform, style } = usePicture()
  return (
    <g className="ground" transform={transform} style={style}>
      <GroundLayers />
    </g>
  )
})

/** The plan as it is, in millimetres. A change of the view sets one transform, one width and one word of detail; nothing inside wakes. */
export const PlanPicture = memo(function PlanPicture(): ReactNode {
  const { transform, detail, style } = usePicture()
  const view = useView()
  const region = useRegion(view)
  return (
    <g className="plan" transform={transform} data-detail={detail} style={style}>
      <StillInPlan view={view} />
      <PlanLayers isFar={detail === 'far'} region={region} />
    </g>
  )
})

const GroundLayers = memo(function GroundLayers(): ReactNode {
  const hasUnderlays = usePlan((state) => Object.keys(state.plan.underlays).length > 0)
  const walls = usePlan(useShallow((state) => Object.keys(state.plan.walls)))
  const openings = usePlan(useShallow((state) => Object.keys(state.plan.openings)))
  const hatches = usePlan(useShallow((state) => Object.keys(state.plan.hatches)))
  const joists = usePlan(useShallow((state) => Object.keys(state.plan.joists)))
  const obstacles = usePlan(useShallow((state) => Object.keys(state.plan.obstacles)))
  const benchworks = usePlan(useShallow((state) => Object.keys(state.plan.benchworks)))
  return (
    <>
      <g className="room">
        {walls.map((id) => (
          <WallShape key={id} id={id} />
        ))}
        {obstacles.map((id) => (
          <ObstacleShape key={id} id={id} />
        ))}
      </g>
      <g className="benchworks">
        {benchworks.map((id) => (
          <BenchworkShape key={id} id={id} />
        ))}
        {hatches.map((id) => (
          <HatchShape key={id} id={id} />
        ))}
        {joists.map((id) => (
          <JoistShape key={id} id={id} />
        ))}
      </g>
      {/* A leaf swings over or against the wood: its sweep must be seen there. */}
      <g className="openings">
        {openings.map((id) => (
          <OpeningShape key={id} id={id} />
        ))}
      </g>
      {/* Over the wood, under the track: there it is drawn over. */}
      {hasUnderlays ? (
        <Suspense fallback={null}>
          <UnderlayShapes />
        </Suspense>
      ) : null}
    </>
  )
})

const UnderlayShapes = lazy(() => import('../underlay/UnderlayShapes.tsx'))

const PlanLayers = memo(function PlanLayers({ isFar, region }: { readonly isFar: boolean; readonly region: Box }): ReactNode {
  const portals = usePlan(useShallow((state) => Object.keys(state.plan.portals)))
  const tracks = useTracksDrawn(isFar, region)
  const turnouts = useDerived(useShallow((state) => [...state.derived.network.turnouts.keys()]))
  const crossings = useDerived(useShallow((state) => [...state.derived.network.crossings.keys()]))
  return (
    <>
      <g className="tie-layer">
        {tracks.map((id) => (
          <TrackTies key={id} id={id} />
        ))}
        {turnouts.map((id) => (
          <TurnoutTies key={id} id={id} />
        ))}
        {crossings.map((id) => (
          <CrossingTies key={id} id={id} />
        ))}
      </g>
      <g className="rail-layer">
        {tracks.map((id) => (
          <TrackRails key={id} id={id} />
        ))}
        {turnouts.map((id) => (
          <TurnoutRails key={id} id={id} />
        ))}
        {crossings.map((id) => (
          <CrossingRails key={id} id={id} />
        ))}
      </g>
      <g className="portals">
        {portals.map((id) => (
          <PortalShape key={id} id={id} />
        ))}
      </g>
    </>
  )
})
