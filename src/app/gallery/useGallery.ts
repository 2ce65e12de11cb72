import { useCallback, useEffect, useState } from 'react'
import { galleryPiece } from '../../core/gallery/index.ts'
import type { GalleryKey, GalleryPiece } from '../../core/gallery/index.ts'
import type { Plan } from '../../core/plan/types.ts'

export interface Gallery {
  readonly pieces: ReadonlyMap<GalleryKey, GalleryPiece | null>
  /** A piece has come near the view. */
  readonly want: (key: GalleryKey) => void
}

/** Pieces of the gallery as they come near the view, one at a time: between two the page can be scrolled and shut. */
export function useGallery(plan: Plan): Gallery {
  const [wanted, setWanted] = useState<readonly GalleryKey[]>([])
  const [pieces, setPieces] = useState<ReadonlyMap<GalleryKey, GalleryPiece | null>>(new Map())
  const next = wanted.find((key) => !pieces.has(key))
  useEffect(() => {
    if (next === undefined) return undefined
    const timer = setTimeout(() => setPieces((before) => new Map([...before, [next, galleryPiece(plan, next)]])))
    return () => clearTimeout(timer)
  }, [next, plan])
  const want = useCallback((key: GalleryKey) => setWanted((before) => (before.includes(key) ? before : [...before, key])), [])
  return { pieces, want }
}
