import type { ReactNode } from 'react'
import type { Maker } from '../../core/plan/types.ts'
import { MadeLines } from './MakerMarks.tsx'
import { useMakerPreview } from './makerPreview.ts'

/** What the maker in hand would make, drawn over the plan. */
export default function MakerGhost({ maker }: { readonly maker: Maker }): ReactNode {
  const preview = useMakerPreview(maker)
  return preview.ok ? <MadeLines tracks={preview.tracks} turnouts={preview.turnouts} isGhost /> : null
}
