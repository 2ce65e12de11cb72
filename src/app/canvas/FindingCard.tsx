import { memo, useEffect } from 'react'
import type { ReactNode } from 'react'
import type { Finding } from '../../core/checks/types.ts'
import type { Selection } from '../../store/types.ts'
import { useDerived, usePlan, useSession } from '../context.ts'
import { FindingCardBody } from '../lateParts.ts'
import { useCanvas, useLive } from './canvasContext.ts'

/** The finding that is pointed at or selected, as a card. */
export const FindingCard = memo(function FindingCard(): ReactNode {
  const findings = useDerived((state) => state.findings)
  const selection = useSession((session) => session.selection)
  const pointed = useLive((state) => state.finding)
  const isShut = useLive((state) => state.isCardShut)
  const { live } = useCanvas()
  useEffect(() => () => live.setState({ isCardShut: false }), [live, selection])
  const isPanning = useLive((state) => state.pan !== null)
  const isDragging = usePlan((state) => state.transaction !== null)
  const finding = findings.find(({ id }) => id === pointed) ?? (isShut ? undefined : findings.find((one) => isOfSelection(one, selection)))
  if (finding === undefined || isPanning || isDragging) return null
  return <FindingCardBody key={finding.id} finding={finding} />
})

/** A selected corner shows its own finding; a whole record shows none, or the desk would fill with cards. */
function isOfSelection(finding: Finding, selection: Selection): boolean {
  if (selection.kind === 'corner')
    return finding.table === 'tracks' && finding.record === selection.track && finding.corner === selection.corner
  return selection.kind === 'record' && selection.table !== 'tracks' && finding.table === selection.table && finding.record === selection.id
}
