import { memo } from 'react'
import type { ReactNode } from 'react'
import type { Id } from '../../core/plan/types.ts'
import { selectedTrack } from '../../store/selection.ts'
import { useDerived, usePlan, usePrefs, useSession } from '../context.ts'
import { LettersOver } from '../fields/LettersOver.tsx'
import { useLive, useView } from './canvasContext.ts'
import { isWithin, labelBox, labelHeld } from './labels.ts'
import { trackLabels } from './trackLabels.ts'

/** What the letters beside the selected track stand for, to the pointer (its chart says it to the keys as well); nothing while the hand moves the drawing or what is on it. */
export const PlanLetters = memo(function PlanLetters(): ReactNode {
  const selection = useSession((session) => session.selection)
  const isAtHand = useSession((session) => session.tool === 'select')
  const isPanning = useLive((state) => state.pan !== null)
  const isDragging = usePlan((state) => state.transaction !== null)
  const track = selectedTrack(selection)
  if (track === null || !isAtHand || isPanning || isDragging) return null
  return <LettersOf track={track} corner={selection.kind === 'corner' ? selection.corner : null} />
})

function LettersOf({ track, corner }: { readonly track: Id; readonly corner: Id | null }): ReactNode {
  const networkTrack = useDerived((state) => state.derived.network.tracks.get(track))
  const prefs = usePrefs((state) => state)
  const view = useView()
  if (networkTrack === undefined) return null
  const places = trackLabels(networkTrack, corner, view, prefs)
    .map((label) => labelHeld(label, view))
    .filter((label) => isWithin(labelBox(label), view))
    .map(({ words, at, anchor }) => ({ words, left: at.left, foot: at.top, anchor }))
  return <LettersOver places={places} />
}
