import { memo } from 'react'
import type { ReactNode } from 'react'
import type { Finding } from '../../core/checks/types.ts'
import type { Selection } from '../../store/types.ts'
import { useDerived, usePlan, usePrefs, useSession } from '../context.ts'
import { FindingActs } from '../findings/FindingActs.tsx'
import { findingText } from '../../words/findingText.ts'
import { useCanvas, useLive, useView } from './canvasContext.ts'
import { leaderPx } from './findingLanes.ts'
import { findingLeave, findingPoint } from './live.ts'
import { screenOfPlan } from './viewport.ts'

const cardWidth = 232
/** A card wants about this height; nearer to the upper edge it hangs below its place. */
const cardHeight = 108

/** What a finding says, at its place: measured, limit, and the smallest cure as a button. */
export const FindingCard = memo(function FindingCard(): ReactNode {
  const findings = useDerived((state) => state.findings)
  const selection = useSession((session) => session.selection)
  const pointed = useLive((state) => state.finding)
  const isPanning = useLive((state) => state.pan !== null)
  const isDragging = usePlan((state) => state.transaction !== null)
  const finding = findings.find(({ id }) => id === pointed) ?? findings.find((one) => isOfSelection(one, selection))
  if (finding === undefined || isPanning || isDragging) return null
  return <Card key={finding.id} finding={finding} />
})

/** A selected corner shows its own finding; a whole record shows none, or the desk would fill with cards. */
function isOfSelection(finding: Finding, selection: Selection): boolean {
  if (selection.kind === 'corner')
    return finding.table === 'tracks' && finding.record === selection.track && finding.corner === selection.corner
  return selection.kind === 'record' && selection.table !== 'tracks' && finding.table === selection.table && finding.record === selection.id
}

function Card({ finding }: { readonly finding: Finding }): ReactNode {
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
      <FindingActs finding={finding} title={words.title} cureText={words.cure} isCureOnly />
    </div>
  )
}
