import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'react'
import type { ReactNode, RefObject } from 'react'
import type { Finding } from '../../core/checks/types.ts'
import { pathPoseAt } from '../../core/geom/index.ts'
import type { Network } from '../../core/network/index.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import { FindingActs } from '../findings/FindingActs.tsx'
import { findingText } from '../../words/findingText.ts'
import { useCanvas, useView } from './canvasContext.ts'
import { cardPlace } from './cardPlace.ts'
import type { Crowd } from './cardPlace.ts'
import { diamondPx, leaderPx } from './findingLanes.ts'
import { findingLeave, findingPoint, findingShut } from './live.ts'
import { trackBox } from './tracksDrawn.ts'
import { screenOfPlan, type View } from './viewport.ts'

const cardWidth = 232
/** Before it has been drawn a card is taken to be as high as this, px. */
const usualHeight = 96
/** Lines under a card are felt every so many px of them. */
const feltPx = 8

/** What a finding says, beside its place: measured, limit, and the smallest cure as a button. */
export function FindingCardBody({ finding }: { readonly finding: Finding }): ReactNode {
  const { live } = useCanvas()
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const network = useDerived((state) => state.derived.network)
  const view = useView()
  const card = useRef<HTMLDivElement>(null)
  const [height, setHeight] = useState(usualHeight)
  useLayoutEffect(() => setHeight(heightWanted(card.current) || usualHeight), [])
  useShutByEscape(card)
  const at = screenOfPlan(view, finding)
  const place = useMemo(
    () =>
      cardPlace(
        { at: screenOfPlan(view, finding), markTop: screenOfPlan(view, finding).top - leaderPx - diamondPx, width: cardWidth, height },
        view.size,
        crowdsAbout(finding, network, view),
      ),
    [finding, network, view, height],
  )
  if (at.left < 0 || at.top < 0 || at.left > view.size.width || at.top > view.size.height) return null
  const words = findingText(finding, plan, prefs)
  return (
    <div
      ref={card}
      className="finding-card"
      data-own-pointer=""
      style={{ ...place, width: cardWidth, maxHeight: view.size.height - place.top - 8 }}
      onPointerEnter={() => findingPoint(live, finding.id)}
      onPointerLeave={() => findingLeave(live, finding.id)}
    >
      <strong>{words.title}</strong>
      <p>{words.body}</p>
      <FindingActs finding={finding} words={words} on="card" />
    </div>
  )
}

/** With what the canvas cuts off of it: a card that wants more room is put elsewhere. */
const heightWanted = (card: HTMLElement | null): number =>
  card === null ? 0 : card.offsetHeight + Math.max(0, card.scrollHeight - card.clientHeight)

/** Escape shuts the card before anything else is given up; keys that were in it go on at the plan. */
function useShutByEscape(card: RefObject<HTMLDivElement | null>): void {
  const { live, host } = useCanvas()
  const stores = useStores()
  const desk = useDeskStore()
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.key !== 'Escape' || card.current === null) return
      const isTool = stores.session.getState().tool !== 'select' || host.view().entry !== null
      const isOver = desk.getState().dialog !== null || document.querySelector('[role="menu"]') !== null
      const isTyped = event.target instanceof HTMLInputElement
      if (isTool || isOver || isTyped) return
      event.preventDefault()
      event.stopPropagation()
      const hadFocus = card.current.contains(document.activeElement)
      findingShut(live)
      if (hadFocus) document.querySelector<HTMLElement>('.canvas')?.focus({ preventScroll: true })
    }
    window.addEventListener('keydown', onKey, true)
    return () => window.removeEventListener('keydown', onKey, true)
  }, [card, live, host, stores, desk])
}

/** The lines round a finding: its own counts most. */
function crowdsAbout(finding: Finding, { tracks, turnouts }: Network, view: View): readonly Crowd[] {
  const at = screenOfPlan(view, finding)
  const reachMm = (2 * cardWidth) / view.pxPerMm
  const own = finding.table === 'turnouts' ? turnouts.get(finding.record)?.turnout.track : finding.record
  const crowds: Crowd[] = [{ places: [at], weight: 10 }]
  for (const [id, track] of tracks) {
    const box = trackBox(track)
    if (box === null || track.alignment.ok === false) continue
    const [x, y] = [Math.max(box.minX - finding.x, finding.x - box.maxX), Math.max(box.minY - finding.y, finding.y - box.maxY)]
    if (Math.max(x, y) > reachMm) continue
    const { path } = track.alignment
    const count = Math.min(600, Math.ceil((path.lengthMm * view.pxPerMm) / feltPx))
    const places = Array.from({ length: count + 1 }, (_, i) => screenOfPlan(view, pathPoseAt(path, (path.lengthMm * i) / count)))
    crowds.push({ places, weight: id === own ? 3 : 1 })
  }
  return crowds
}
