import { useEffect, useRef, useState } from 'react'
import type { PointerEvent, ReactNode } from 'react'
import { boxOfPoints } from '../../core/geom/index.ts'
import type { Box, Point } from '../../core/geom/types.ts'
import { wholeOf, wholeStepMm } from '../../tools/shared/snap.ts'
import { lengthText } from '../../words/measure.ts'
import { useView } from '../canvas/canvasContext.ts'
import { planOfScreen, screenOfPlan } from '../canvas/viewport.ts'
import { usePrefs } from '../context.ts'
import { useDesk } from '../desk.ts'
import { escapeTaken, handTaken } from '../escapeTaken.ts'
import { Act } from '../particulars/acts.tsx'
import './regionFrame.css'

/** Less than this across is a slip of the hand, px. */
const leastPx = 8

/** Drags from corner to corner; the rectangle goes to the sheets, which come back to the table. Its edges can be typed as well. */
export default function RegionFrame(): ReactNode {
  const view = useView()
  const prefs = usePrefs((state) => state)
  const subject = useDesk((desk) => desk.sheetSubject)
  const setDesk = useDesk((desk) => desk.set)
  const cover = useRef<HTMLDivElement>(null)
  const [drag, setDrag] = useState<{ readonly from: Point; readonly to: Point } | null>(null)
  const [isSlip, setSlip] = useState(false)
  const before = subject?.kind === 'region' ? subject.box : null
  const drawn = drag === null ? null : boxOfPoints([drag.from, drag.to])

  useEffect(() => {
    const leave = (): void => setDesk({ isFraming: false })
    const letEscape = escapeTaken(leave)
    return () => {
      letEscape()
      // Another stage was gone to.
      leave()
    }
  }, [setDesk])
  const isDrawn = drag !== null
  useEffect(() => (isDrawn ? handTaken(() => setDrag(null)) : undefined), [isDrawn])

  function placeOf(event: PointerEvent): Point {
    const box = cover.current?.getBoundingClientRect()
    const at = planOfScreen(view, { left: event.clientX - (box?.left ?? 0), top: event.clientY - (box?.top ?? 0) })
    const step = event.altKey ? null : wholeStepMm(view.pxPerMm, prefs.units)
    return step === null ? at : { x: wholeOf(at.x, step), y: wholeOf(at.y, step) }
  }
  function onDown(event: PointerEvent<HTMLDivElement>): void {
    if (event.button !== 0 || !event.isPrimary) return
    if ('setPointerCapture' in event.currentTarget) event.currentTarget.setPointerCapture(event.pointerId)
    const at = placeOf(event)
    setSlip(false)
    setDrag({ from: at, to: at })
  }
  function onUp(event: PointerEvent<HTMLDivElement>): void {
    if (drag === null) return
    const box = boxOfPoints([drag.from, placeOf(event)])
    setDrag(null)
    const isWide = box !== null && Math.min(box.maxX - box.minX, box.maxY - box.minY) * view.pxPerMm >= leastPx
    if (isWide) setDesk({ sheetSubject: { kind: 'region', box }, isFraming: false })
    else setSlip(true)
  }

  return (
    <>
      <div
        ref={cover}
        className="region-cover"
        data-own-pointer=""
        onPointerDown={onDown}
        onPointerMove={(event) => drag !== null && setDrag({ ...drag, to: placeOf(event) })}
        onPointerUp={onUp}
        onPointerCancel={() => setDrag(null)}
        onLostPointerCapture={() => setDrag(null)}
      >
        {before === null || drawn !== null ? null : <Frame box={before} view={view} kind="before" />}
        {drawn === null ? null : (
          <Frame box={drawn} view={view} kind="drawn">
            {`${lengthText(drawn.maxX - drawn.minX, prefs, 'room')} × ${lengthText(drawn.maxY - drawn.minY, prefs, 'room')}`}
          </Frame>
        )}
      </div>
      <div className="tool-strip" data-own-pointer="" role="group" aria-label="Rectangle to print">
        <p role="status">
          {isSlip ? 'That was too small to print: drag from corner to corner.' : 'Drag from corner to corner of what is to be printed.'}
        </p>
        <Act onClick={() => setDesk({ isFraming: false })}>Leave it as it was</Act>
      </div>
    </>
  )
}

function Frame({
  box,
  view,
  kind,
  children,
}: {
  readonly box: Box
  readonly view: ReturnType<typeof useView>
  readonly kind: 'before' | 'drawn'
  readonly children?: ReactNode
}): ReactNode {
  const { left, top } = screenOfPlan(view, { x: box.minX, y: box.maxY })
  const [width, height] = [(box.maxX - box.minX) * view.pxPerMm, (box.maxY - box.minY) * view.pxPerMm]
  return (
    <div className={`region-box is-${kind}`} style={{ left, top, width, height }}>
      {children}
    </div>
  )
}
