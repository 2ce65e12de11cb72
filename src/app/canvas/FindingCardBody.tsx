import type { ReactNode } from 'react'
import type { Finding } from '../../core/checks/types.ts'
import { useDerived, usePlan, usePrefs } from '../context.ts'
import { FindingActs } from '../findings/FindingActs.tsx'
import { findingText } from '../../words/findingText.ts'
import { useCanvas, useView } from './canvasContext.ts'
import { leaderPx } from './findingLanes.ts'
import { findingLeave, findingPoint } from './live.ts'
import { screenOfPlan } from './viewport.ts'

const cardWidth = 232
/** A card wants about this height; nearer to the upper edge it hangs below its place. */
const cardHeight = 108

/** What a finding says, at its place: measured, limit, and the smallest cure as a button. */
export function FindingCardBody({ finding }: { readonly finding: Finding }): ReactNode {
  const { live } = useCanvas()
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const view = useView()
  const alignment = useDerived((state) => state.derived.network.tracks.get(finding.record)?.alignment)
  const pi = alignment?.ok === true ? alignment.corners.find(({ cornerId }) => cornerId === finding.corner)?.pi : undefined
  const { left, top } = screenOfPlan(view, finding)
  if (left < 0 || top < 0 || left > view.size.width || top > view.size.height) return null
  const words = findingText(finding, plan, prefs)
  const isBelow = top < cardHeight + leaderPx + 10
  // Outside of the curve, else towards the nearer edge: the line goes on the other way.
  const isLeft = pi === undefined ? left < view.size.width / 2 : pi.x < finding.x
  const wanted = isLeft ? left - cardWidth - 14 : left + 14
  const style = {
    left: Math.min(Math.max(22, wanted), Math.max(22, view.size.width - cardWidth - 8)),
    ...(isBelow ? { top: top + 14 } : { bottom: view.size.height - top + leaderPx + 14 }),
    width: cardWidth,
  }
  return (
    <div
      className="finding-card"
      data-own-pointer=""
      style={style}
      onPointerEnter={() => findingPoint(live, finding.id)}
      onPointerLeave={() => findingLeave(live, finding.id)}
    >
      <strong>{words.title}</strong>
      <p>{words.body}</p>
      <FindingActs finding={finding} words={words} isCureOnly />
    </div>
  )
}
