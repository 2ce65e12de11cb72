import { memo } from 'react'
import type { ReactNode } from 'react'
import type { Finding } from '../../core/checks/types.ts'
import { useDerived, useStores } from '../context.ts'
import { findingShow } from '../findings.ts'
import { useCanvas, useLive, useView } from './canvasContext.ts'
import { diamondPx, findingLeaders, leaderPx, leaderStarts } from './findingLanes.ts'
import { findingLeave, findingPoint } from './live.ts'
import { isShown } from './markParts.tsx'
import { screenOfPlan, type ScreenPoint, type View } from './viewport.ts'

/** More marks at once cover the plan and each other; the list has them all, and from nearer the rest is seen. */
const mostMarks = 150

/** Each finding as a numbered mark at its place. What it says comes as a card when the mark is pointed at or its record is selected. */
export function FindingMarks(): ReactNode {
  const findings = useDerived((state) => state.findings)
  const view = useView()
  const shown: { readonly finding: Finding; readonly number: number; readonly place: ScreenPoint }[] = []
  let inView = 0
  for (const [i, finding] of findings.entries()) {
    const place = screenOfPlan(view, finding)
    if (!isShown(place, view)) continue
    inView++
    if (shown.length < mostMarks) shown.push({ finding, number: i + 1, place })
  }
  const places = shown.map(({ place }) => place)
  const leaders = findingLeaders(places)
  const starts = leaderStarts(places, leaders)
  return (
    <>
      {shown.map(({ finding, number }, i) => (
        <FindingMark
          key={finding.id}
          finding={finding}
          number={number}
          leader={leaders[i] ?? leaderPx}
          start={starts[i] ?? 0}
          view={view}
        />
      ))}
      {inView > shown.length ? (
        <text className="marks-beyond" x={view.size.width / 2} y={44} textAnchor="middle">
          {shown.length} of {inView} findings here are marked: nearer shows the rest, Checks lists all
        </text>
      ) : null}
    </>
  )
}

/** A finding stays the same object as long as nothing it was found from changes; so do the marks of all others during a drag. */
const FindingMark = memo(function FindingMark({
  finding,
  number,
  leader,
  start,
  view,
}: {
  readonly finding: Finding
  readonly number: number
  /** How far above its place, px; less than none is below. */
  readonly leader: number
  /** From where the leader is drawn, px above the place. */
  readonly start: number
  readonly view: View
}): ReactNode {
  const { live } = useCanvas()
  const stores = useStores()
  const isOpen = useLive((state) => state.finding === finding.id)
  const { left, top } = screenOfPlan(view, finding)
  const classes = ['finding-mark', finding.severity === 'error' ? 'is-error' : '', isOpen ? 'is-open' : ''].join(' ')
  return (
    <g
      className={classes}
      data-own-pointer=""
      onPointerEnter={() => findingPoint(live, finding.id)}
      onPointerLeave={() => findingLeave(live, finding.id)}
      onClick={() => findingShow(stores, finding)}
    >
      <path className="leader" d={`M${left} ${top - start}V${top - leader + Math.sign(leader) * (diamondPx - 1)}`} />
      <circle className="place" cx={left} cy={top} r={2.2} />
      <path className="diamond" d={`M${left} ${top - leader - diamondPx}l10 10l-10 10l-10 -10Z`} />
      <text x={left} y={top - leader + 4} textAnchor="middle">
        {number}
      </text>
    </g>
  )
})
