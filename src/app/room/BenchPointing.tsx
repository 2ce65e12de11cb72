import { useCallback, useEffect, useLayoutEffect, useRef, useState } from 'react'
import type { PointerEvent, ReactNode } from 'react'
import type { Point } from '../../core/geom/types.ts'
import type { Snap } from '../../tools/types.ts'
import { chainSnap } from '../../tools/shared/chain.ts'
import { SketchItems } from '../canvas/Sketch.tsx'
import { useView } from '../canvas/canvasContext.ts'
import { planOfScreen } from '../canvas/viewport.ts'
import { useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { escapeTaken } from '../escapeTaken.ts'
import { benchAdd, benchOutline, placeAt } from './benchAdd.ts'
import type { BenchHeld } from './benchAdd.ts'
import './bench.css'

/** Benchwork made by its sizes hangs on the pointer by its corner, and stands where that is clicked. */
export default function BenchPointing({ held }: { readonly held: BenchHeld }): ReactNode {
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  const view = useView()
  const cover = useRef<HTMLDivElement>(null)
  const [at, setAt] = useState<{ readonly point: Point; readonly snap: Snap | null } | null>(null)
  const leave = useCallback((): void => setDesk({ benchHeld: null }), [setDesk])
  useEffect(() => escapeTaken(leave), [leave])
  useLayoutEffect(() => cover.current?.focus({ preventScroll: true }), [])

  function snapped(point: Point, isFree: boolean): { readonly point: Point; readonly snap: Snap | null } {
    const { selection, viewport, hidden } = stores.session.getState()
    const context = {
      plan: stores.plan.getState().plan,
      derived: stores.derived.getState().derived,
      selection,
      pxPerMm: viewport.pxPerMm,
      units: stores.prefs.getState().units,
      hidden,
    }
    const wish = { legs: false, tracks: false, benchwork: true, walls: true }
    return chainSnap(context, {
      points: [],
      at: point,
      modifiers: { shift: false, alt: isFree },
      wish,
      canClose: false,
      bound: null,
      fitsRoom: true,
    })
  }
  function under(event: PointerEvent): Point {
    const box = cover.current?.getBoundingClientRect()
    return planOfScreen(view, { left: event.clientX - (box?.left ?? 0), top: event.clientY - (box?.top ?? 0) })
  }
  function stand(point: Point): void {
    const shelf = benchOutline(held, placeAt(stores.plan.getState().plan, held, point))
    const problem = shelf.ok ? benchAdd(stores, held, shelf.outline) : null
    if (problem !== null) stores.session.getState().setNotice(problem)
    else setDesk({ benchHeld: null, bySize: null, legsDraft: null })
  }
  const shelf = at === null ? null : benchOutline(held, placeAt(stores.plan.getState().plan, held, at.point))
  return (
    <>
      {/* It is pointed at as the plan is; Enter does the same without a pointer. */}
      {/* oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions */}
      <div
        ref={cover}
        className="bench-cover"
        data-own-pointer=""
        role="application"
        aria-label={`${held.word}: click where its corner stands. Enter sets it in the middle of the view, Escape gives it up.`}
        // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
        tabIndex={0}
        onPointerMove={(event) => setAt(snapped(under(event), event.altKey))}
        onPointerLeave={() => setAt(null)}
        onPointerUp={(event) => {
          if (event.button === 0 && event.isPrimary) stand(snapped(under(event), event.altKey).point)
        }}
        onKeyDown={(event) => {
          if (event.key !== 'Enter' && event.key !== ' ') return
          event.preventDefault()
          event.stopPropagation()
          stand(snapped(view.centre, event.altKey).point)
        }}
      >
        <svg className="plan-sheet" aria-hidden="true">
          {at === null ? null : (
            <g className="marks">
              <SketchItems
                items={[
                  ...(shelf?.ok === true ? [{ kind: 'chain', points: shelf.outline, isClosed: true, role: 'outline' } as const] : []),
                  ...(at.snap === null ? [] : [{ kind: 'snap', snap: at.snap } as const]),
                ]}
              />
            </g>
          )}
        </svg>
      </div>
      <div className="tool-strip" data-own-pointer="" role="group" aria-label={`Where the ${held.word} stands`}>
        <p role="status">Click where the corner of its legs stands; in a corner of the room it lies along both walls.</p>
        <button type="button" onClick={leave}>
          Give up
        </button>
      </div>
    </>
  )
}
