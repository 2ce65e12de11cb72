import type { ReactNode } from 'react'
import type { Finding } from '../../core/checks/types.ts'
import { useDerived } from '../context.ts'

/** Of a track that has no line: which one is seen in its place. */
export function LastLine({ finding }: { readonly finding: Finding }): ReactNode {
  const isSeen = useDerived(({ lastGood }) => finding.table === 'tracks' && lastGood.tracks.has(finding.record))
  return isSeen ? 'Dashed on the plan: the last line that fits.' : null
}
