import { Suspense, lazy, memo } from 'react'
import type { ReactNode } from 'react'
import { planHasAny } from '../../core/plan/index.ts'
import { useDerived, usePlan, useSession } from '../context.ts'
import { FindingMarks } from './FindingMarks.tsx'
import { HoverMark } from './HoverMark.tsx'
import { useDesk } from '../desk.ts'
import { useCanvas, useToolView, useView } from './canvasContext.ts'
import { SelectionMarks, SketchItems, TrialLines } from '../lateParts.ts'
import { StillFrame } from './still.tsx'

/** All that is drawn over the plan and is not of it: construction lines and handles of the selected thing, findings, the tool. */
export const Marks = memo(function Marks(): ReactNode {
  return (
    <g className="marks">
      <StillFrame />
      <Fouling />
      <FindingMarks />
      {/* A joint with a finding must be within reach below it. */}
      <Laying />
      <Aids />
      <Selected />
      <HoverMark />
      <Survey />
      <Trial />
      <Bench />
      <Running />
      <Maker />
      <Sketch />
    </g>
  )
})

// What is cut and laid comes with its stage.
const RailMarks = lazy(() => import('./RailMarks.tsx'))
const RoadbedMarks = lazy(() => import('./RoadbedMarks.tsx'))

function Laying(): ReactNode {
  const stage = useSession((session) => session.stage)
  const Of = stage === 'track' ? RailMarks : stage === 'roadbed' ? RoadbedMarks : null
  return Of === null ? null : (
    <Suspense fallback={null}>
      <Of />
    </Suspense>
  )
}

// They are of no use to one who builds the room; with the first stage of track they are found.
const FoulingMarks = lazy(() => import('../running/FoulingMarks.tsx'))

function Fouling(): ReactNode {
  const hasTracks = usePlan((state) => planHasAny(state.plan, 'tracks'))
  const isRoom = useSession((session) => session.stage === 'room')
  return hasTracks && !isRoom ? (
    <Suspense fallback={null}>
      <FoulingMarks />
    </Suspense>
  ) : null
}

// Benchwork by its sizes comes with its form.
const BenchGhostMarks = lazy(() => import('../room/BenchGhostMarks.tsx'))

function Bench(): ReactNode {
  const ghost = useDesk((desk) => desk.benchGhost)
  return ghost === null ? null : (
    <Suspense fallback={null}>
      <BenchGhostMarks ghost={ghost} />
    </Suspense>
  )
}

// What runs on the tracks comes with the first wish to see it.
const RunningMarks = lazy(() => import('../running/RunningMarks.tsx'))

function Running(): ReactNode {
  const isShown = useDesk((desk) => desk.bands !== null || desk.push !== null)
  return isShown ? (
    <Suspense fallback={null}>
      <RunningMarks />
    </Suspense>
  ) : null
}

// Guides and measurements come with the first of them.
const AidMarks = lazy(() => import('../aids/AidMarks.tsx'))

function Aids(): ReactNode {
  const isAny = usePlan(({ plan }) => Object.keys(plan.guides).length + Object.keys(plan.readings).length > 0)
  return isAny ? (
    <Suspense fallback={null}>
      <AidMarks />
    </Suspense>
  ) : null
}

// Measured places come with the panel that asks for them.
const SurveyMarks = lazy(() => import('../fit/SurveyMarks.tsx'))

function Survey(): ReactNode {
  const isFit = useDesk((desk) => desk.lineAct?.kind === 'fit')
  return isFit ? (
    <Suspense fallback={null}>
      <SurveyMarks />
    </Suspense>
  ) : null
}

function Selected(): ReactNode {
  const isAny = useSession((session) => session.selection.kind !== 'none')
  // Handles show what can be taken hold of: with another tool in the hand, nothing can.
  const isSelecting = useSession((session) => session.tool === 'select')
  return isAny && isSelecting ? <SelectionMarks /> : null
}

// Makers come when the first one is asked for.
const MakerGhost = lazy(() => import('../makers/MakerGhost.tsx'))

function Maker(): ReactNode {
  const maker = useDesk((desk) => desk.makerDraft)
  return maker === null ? null : (
    <Suspense fallback={null}>
      <MakerGhost maker={maker} />
    </Suspense>
  )
}

function Trial(): ReactNode {
  const trial = useDesk((desk) => desk.trial)
  return trial === null ? null : <TrialLines trial={trial} />
}

/** What the tool in hand is drawing. */
function Sketch(): ReactNode {
  const { host } = useCanvas()
  // The sketch follows the tool, the plan and the view.
  useToolView()
  useDerived((state) => state.derived)
  useView()
  const items = host.sketch()
  return items.length === 0 ? null : <SketchItems items={items} />
}
