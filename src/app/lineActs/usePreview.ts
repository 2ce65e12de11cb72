import { useEffect } from 'react'
import type { Path } from '../../core/geom/types.ts'
import { useDeskStore } from '../desk.ts'

/** Holds a line over the plan for as long as the panel shows it. */
export function usePreview(path: Path | null): void {
  const desk = useDeskStore()
  useEffect(() => {
    desk.getState().set({ trial: path === null ? null : { chosen: path, others: [], ends: [] } })
    return () => desk.getState().set({ trial: null })
  }, [desk, path])
}
