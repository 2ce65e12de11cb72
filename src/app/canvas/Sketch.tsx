import { Suspense, lazy, useMemo } from 'react'
import type { ReactNode } from 'react'
import { pointDistance } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { NetworkTurnout } from '../../core/network/types.ts'
import { turnoutTrackLay } from '../../core/track/index.ts'
import { angleFormat } from '../../core/units/index.ts'
import type { SketchItem } from '../../tools/index.ts'
import { usePrefs } from '../context.ts'
import { lengthText } from '../../words/measure.ts'
import { useView } from './canvasContext.ts'
import { snapWords } from './hintWords.ts'
import { Label } from './markParts.tsx'
import { PlanSpace } from './still.tsx'
import { centrelineText, polylineText, screenLineText, workRailsText, turnoutRoutesText, workTiesText } from './svgPath.ts'
import { LegArrow } from './TurnoutMarks.tsx'
import { screenOfPlan, type View } from './viewport.ts'

// Measuring comes with its tool.
const ReadingMark = lazy(() => import('../aids/ReadingMark.tsx'))

/** What the tool in hand is drawing. */
export function SketchItems({ items }: { readonly items: readonly SketchItem[] }): ReactNode {
  const view = useView()
  return (
    <g className="sketch">
      {items.map((item, i) => (
        <Item key={i} item={item} view={view} />
      ))}
    </g>
  )
}

function Item({ item, view }: { readonly item: SketchItem; readonly view: View }): ReactNode {
  switch (item.kind) {
    case 'chain':
      return (
        <PlanSpace view={view}>
          <path className={item.role === 'outline' ? 'draft-outline' : 'construction'} d={polylineText(item.points, item.isClosed)} />
        </PlanSpace>
      )
    case 'knob': {
      const { left, top } = screenOfPlan(view, item.at)
      return <circle className={`draft-knob is-${item.role}`} cx={left} cy={top} r={item.role === 'pointer' ? 3 : 4} />
    }
    case 'measure':
      return <Measure from={item.from} to={item.to} view={view} />
    case 'snap':
      return <SnapMark snap={item.snap} view={view} />
    case 'alignment':
      return (
        <PlanSpace view={view}>
          {item.alignment.ok ? (
            <path className="draft-line" d={centrelineText(item.alignment.path)} />
          ) : (
            <path className="draft-line is-partial" d={item.alignment.pieces.map(centrelineText).join('')} />
          )}
        </PlanSpace>
      )
    case 'turnout':
      return <Ghost turnout={item.turnout} view={view} />
    case 'leg':
      return <LegArrow pose={item.pose} view={view} />
    case 'reading':
      return (
        <Suspense fallback={null}>
          <ReadingMark of={item.of} isChosen />
        </Suspense>
      )
    case 'box': {
      const a = screenOfPlan(view, item.from)
      const b = screenOfPlan(view, item.to)
      return (
        <rect
          className="choosing"
          x={Math.min(a.left, b.left)}
          y={Math.min(a.top, b.top)}
          width={Math.abs(b.left - a.left)}
          height={Math.abs(b.top - a.top)}
        />
      )
    }
  }
}

/** Length and angle of the side in hand, beside its middle. */
function Measure({ from, to, view }: { readonly from: Point; readonly to: Point; readonly view: View }): ReactNode {
  const prefs = usePrefs((state) => state)
  const [a, b] = [screenOfPlan(view, from), screenOfPlan(view, to)]
  const length = Math.hypot(b.left - a.left, b.top - a.top)
  if (length < 46) return null
  // To the left of the side as it is drawn, a little off the line.
  const place = {
    left: (a.left + b.left) / 2 + ((b.top - a.top) / length) * 14,
    top: (a.top + b.top) / 2 - ((b.left - a.left) / length) * 14,
  }
  const anchor = Math.abs(b.left - a.left) > Math.abs(b.top - a.top) ? 'middle' : b.top < a.top ? 'end' : 'start'
  const angle = Math.atan2(to.y - from.y, to.x - from.x)
  return (
    <Label at={{ left: place.left, top: place.top + 4 }} anchor={anchor} tone="hand">
      {lengthText(pointDistance(from, to), prefs, 'room')} at{' '}
      {angleFormat(angle < -1e-9 ? angle + 2 * Math.PI : Math.abs(angle), { decimals: 1 })}
    </Label>
  )
}

/** The line that draws the pointer, and why. */
function SnapMark({ snap, view }: { readonly snap: Extract<SketchItem, { kind: 'snap' }>['snap']; readonly view: View }): ReactNode {
  const { left, top } = screenOfPlan(view, snap.point)
  return (
    <g className="snap">
      {snap.guide === null ? null : <path className="guide" d={screenLineText(snap.guide, view)} />}
      {snap.kind === 'whole' ? null : <path className="snap-mark" d={`M${left} ${top - 8}l8 8l-8 8l-8 -8Z`} />}
      <Label at={{ left: left + 14, top: top + 20 }} tone="soft">
        {snapWords(snap.kind)}
      </Label>
    </g>
  )
}

/** The turnout in the hand: rails and ties as it would be laid, or its lines where it cannot be. */
function Ghost({ turnout, view }: { readonly turnout: NetworkTurnout; readonly view: View }): ReactNode {
  const laid = useMemo(() => turnoutTrackLay(turnout), [turnout])
  return (
    <PlanSpace className="ghost" view={view}>
      {laid === null ? (
        <path className="misplaced" d={turnoutRoutesText(turnout)} />
      ) : (
        <>
          <path className="ties" d={workTiesText(laid)} />
          <path className="head" d={workRailsText(laid)} />
          <path className="draft-line" d={turnoutRoutesText(turnout)} />
        </>
      )}
    </PlanSpace>
  )
}
