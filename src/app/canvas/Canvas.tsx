import { Suspense, lazy, memo, useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState } from 'react'
import type { KeyboardEvent, MouseEvent, ReactNode } from 'react'
import { sessionFresh } from '../../store/index.ts'
import { toolHostCreate, type ToolHost } from '../../tools/index.ts'
import { useDerived, useSession, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { AtPointer, PlanLetters, ToolStrip } from '../lateParts.ts'
import { runningKey } from '../running/runningActs.ts'
import { CanvasContext, useCanvas, useTool, useToolView } from './canvasContext.ts'
import { Corner } from './Corner.tsx'
import { FarLines } from './FarLines.tsx'
import { FindingCard } from './FindingCard.tsx'
import { gesturesAttach } from './gestures.ts'
import { canvasKey } from './keys.ts'
import { liveStoreCreate } from './live.ts'
import { Marks } from './Marks.tsx'
import { GroundPicture, PlanPicture } from './PlanLayers.tsx'
import { Rulers } from './Rulers.tsx'
import { viewKeep, viewNow, viewWhole } from './viewActs.ts'
import type { PlaceActions } from '../place/placeActions.ts'
import { drawnKeepInSight } from '../viewportShow.ts'
import { viewPannedBy, viewPinched, viewZoomedAt } from './viewport.ts'
import './canvas.css'
import './plan.css'
import './marks.css'

const placing = (): Promise<typeof import('../place/placeActions.ts')> => import('../place/placeActions.ts')
const PlaceMenu = lazy(() => import('../place/PlaceMenu.tsx'))
const Sight = lazy(async () => ({ default: (await import('../sight/Sight.tsx')).Sight }))
// Places are measured with a tool that is taken up for it.
const survey = (): Promise<typeof import('../fit/survey.ts')> => import('../fit/survey.ts')

const BenchPointing = lazy(() => import('../room/BenchPointing.tsx'))
const RegionFrame = lazy(() => import('../print/RegionFrame.tsx'))
const RunningStrip = lazy(() => import('../running/RunningStrip.tsx'))

/** The plan on the table: looked at, pushed about, drawn on. */
export function Canvas(): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const live = useMemo(() => liveStoreCreate(), [])
  const [host, setHost] = useState<ToolHost | null>(null)
  const reach = useRef(1)

  useEffect(() => {
    const made = toolHostCreate(
      stores,
      () => reach.current,
      (change) => void survey().then(({ surveyMeasured }) => surveyMeasured(desk, change)),
    )
    setHost(made)
    return () => made.stop()
  }, [stores, desk])
  useEffect(() => drawnKeepInSight(stores), [stores])

  const parts = useMemo(() => (host === null ? null : { host, live }), [host, live])
  if (parts === null) return null
  return (
    <CanvasContext value={parts}>
      <CanvasTable reach={reach} />
    </CanvasContext>
  )
}

function CanvasTable({ reach }: { readonly reach: { current: number } }): ReactNode {
  const stores = useStores()
  const { host, live } = useCanvas()
  const table = useRef<HTMLDivElement>(null)
  const desk = useDeskStore()
  const isRunning = useDesk(({ bands, push }) => bands !== null || push !== null)
  const drawOn = useDesk((state) => state.drawOn)
  const stage = useSession((session) => session.stage)
  const tool = useSession((session) => session.tool)
  const hidden = useSession((session) => session.hidden)
  const isComing = useTool((of) => of.view().isComing)
  const isSaying = useTool((of) => of.view().hint !== null || of.view().entry !== null)
  const cursor = useTool((of) => of.cursor())
  const [menu, setMenu] = useState<PlaceActions | null>(null)
  const menuShut = useCallback(() => setMenu(null), [])

  // Nothing is drawn before it is known where to look: of a large railway that would be hundreds of tracks, near by, for no one to see.
  const [isMeasured, setIsMeasured] = useState(false)
  useLayoutEffect(() => {
    const element = table.current
    if (element === null) return undefined
    const measure = (): void => {
      const { width, height } = element.getBoundingClientRect()
      if (width <= 0 || height <= 0) return
      live.setState({ size: { width, height } })
      // Nobody has looked anywhere yet: the whole plan, now that there is a canvas to fit it into.
      if (stores.session.getState().viewport === sessionFresh.viewport) viewWhole(stores, live)
    }
    measure()
    setIsMeasured(true)
    if (typeof ResizeObserver === 'undefined') return undefined
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    return () => observer.disconnect()
  }, [stores, live])

  useEffect(() => {
    const element = table.current
    if (element === null) return undefined
    return gesturesAttach(element, {
      view: () => viewNow(stores, live),
      panTo(right, down) {
        // Whole pixels: a picture moved by less is drawn blurred.
        const pan = { right: Math.round(right), down: Math.round(down) }
        live.setState({ pan })
        for (const layer of pushedLayers(element)) {
          layer.classList.add('is-pushed')
          const { goes } = layer.dataset
          layer.style.setProperty('transform', `translate(${goes === 'along' ? 0 : pan.right}px, ${goes === 'across' ? 0 : pan.down}px)`)
        }
      },
      panEnd() {
        const { pan } = live.getState()
        if (pan === null) return
        viewKeep(stores, viewPannedBy(viewNow(stores, live), pan.right, pan.down))
        for (const layer of pushedLayers(element)) {
          layer.style.removeProperty('transform')
          layer.classList.remove('is-pushed')
        }
        live.setState({ pan: null })
      },
      zoomAt: (place, factor) => viewKeep(stores, viewZoomedAt(viewNow(stores, live), place, factor)),
      pinch: (from, to) => viewKeep(stores, viewPinched(viewNow(stores, live), from, to)),
      pointerAt: (pointer) => live.setState({ pointer }),
      menuAt: (place) =>
        void placing().then(({ placeActions }) => setMenu(placeActions(stores, desk, { host, live }, place, reach.current))),
      host: () => host,
      reachSet(value) {
        reach.current = value
      },
    })
  }, [stores, desk, live, host, reach])

  // A track to be drawn on is taken up by the end.
  useEffect(() => {
    if (drawOn === null) return
    stores.session.getState().setTool('track')
    host.send({ kind: 'option', change: { kind: 'drawOn', ...drawOn } })
    desk.getState().set({ drawOn: null })
  }, [drawOn, host, stores, desk])

  const focus = useCallback(() => table.current?.focus({ preventScroll: true }), [])
  // A tool taken up is used on the plan: its keys must arrive here.
  useEffect(() => {
    if (tool !== 'select') focus()
  }, [tool, focus])

  function onKeyDown(event: KeyboardEvent): void {
    if (event.target !== table.current) return
    const isPlain = !event.ctrlKey && !event.metaKey && !event.altKey
    if ((isPlain && runningKey(event, stores, desk)) || canvasKey(event, host, stores, live)) event.preventDefault()
  }

  /** What is pressed beside a drawing leaves the keys to it: the next digit is still a measure. */
  function onMouseDown(event: MouseEvent): void {
    if (!(event.target instanceof Element) || event.target.closest('button') === null) return
    event.preventDefault()
    focus()
  }

  return (
    // The plan is drawn and dragged on, which no other role can say; its records are lists in the stage column as well.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions
    <div
      ref={table}
      className="canvas"
      role="application"
      aria-label="Plan. Arrow keys move the selection, plus and minus zoom, 0 shows the whole plan. With a tool in hand arrows push the plan, Space sets a point in the middle, digits type a measure, Enter ends."
      // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
      tabIndex={0}
      data-stage={stage}
      data-tool={tool}
      data-hidden={hidden.length === 0 ? undefined : hidden.join(' ')}
      data-cursor={cursor}
      aria-busy={isComing || undefined}
      onKeyDown={onKeyDown}
      onMouseDown={onMouseDown}
    >
      {isMeasured ? <Sheets /> : null}
      <Offered />
      <Corner />
      <InSight />
      <Framing />
      <Pointing />
      {menu === null ? null : (
        <Suspense fallback={null}>
          <PlaceMenu parts={menu} onShut={menuShut} />
        </Suspense>
      )}
      {isRunning ? (
        <Suspense fallback={null}>
          <RunningStrip onShut={focus} />
        </Suspense>
      ) : null}
      <PlanLetters />
      <FindingCard />
      {isSaying ? <AtPointer onShut={focus} /> : null}
    </div>
  )
}

/** What is pushed moves in layers around the drawings: a drawing that is moved itself has all its words measured anew in every step. */
function Sheets(): ReactNode {
  return (
    <>
      <div className="plan-layer pushed">
        <svg className="plan-sheet" aria-hidden="true">
          <Anchor />
          <GroundPicture />
        </svg>
      </div>
      <FarLines />
      <div className="plan-layer pushed">
        <svg className="plan-sheet" aria-hidden="true">
          <Anchor />
          <PlanPicture />
          <Marks />
        </svg>
      </div>
      <Rulers />
    </>
  )
}

/** Only where something is hidden, or about to be. */
function InSight(): ReactNode {
  const isOpen = useDesk((desk) => desk.isSightOpen)
  const isAny = useSession((session) => session.hidden.length > 0)
  return isOpen || isAny ? (
    <Suspense fallback={null}>
      <Sight />
    </Suspense>
  ) : null
}

/** While a rectangle of the plan is being drawn, to be printed. */
function Framing(): ReactNode {
  const isFraming = useDesk((desk) => desk.isFraming)
  const isSheets = useSession((session) => session.stage === 'sheets')
  return isFraming && isSheets ? (
    <Suspense fallback={null}>
      <RegionFrame />
    </Suspense>
  ) : null
}

/** While benchwork that was made by its sizes is told where it stands. */
function Pointing(): ReactNode {
  const held = useDesk((desk) => desk.benchHeld)
  return held === null ? null : (
    <Suspense fallback={null}>
      <BenchPointing held={held} />
    </Suspense>
  )
}

/** What the tool in hand offers; the one that the page opens with offers nothing before it is used. */
const Offered = memo(function Offered(): ReactNode {
  return useTool((of) => of.offer().kind === 'none') ? null : <Offer />
})

function Offer(): ReactNode {
  const { host } = useCanvas()
  useToolView()
  useSession((session) => session.selection)
  useDerived((state) => state.derived.plan.lineClasses)
  const offer = host.offer()
  return offer.kind === 'none' ? null : <ToolStrip offer={offer} />
}

/** What moves as pictures while the plan is pushed. */
function pushedLayers(table: HTMLElement): Iterable<HTMLElement | SVGElement> {
  return table.querySelectorAll<HTMLElement | SVGElement>('.pushed')
}

/** As far around as a push shows more of the plan; larger, its own drawing would cost the first frame. */
function Anchor(): ReactNode {
  return <rect className="anchor" x={-800} y={-800} width="calc(100% + 1600px)" height="calc(100% + 1600px)" />
}
