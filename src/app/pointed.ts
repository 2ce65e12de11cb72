import { useEffect } from 'react'

/** What is pressed by one who goes about the page without a pointer. */
const goesAbout: ReadonlySet<string> = new Set(['Tab', 'ArrowUp', 'ArrowDown', 'ArrowLeft', 'ArrowRight'])

/**
 * Notes on the root of the page that it is gone about by pointer. A browser takes any key, Enter or Escape too, for a sign that the focus
 * must be seen; with a hand on the mouse a frame round a whole part of the desk says nothing.
 */
export function usePointed(): void {
  useEffect(() => {
    const { dataset } = document.documentElement
    const onPointer = (): void => {
      dataset['pointed'] = ''
    }
    const onKey = ({ key }: KeyboardEvent): void => {
      if (goesAbout.has(key)) delete dataset['pointed']
    }
    window.addEventListener('pointerdown', onPointer, true)
    window.addEventListener('keydown', onKey, true)
    return () => {
      window.removeEventListener('pointerdown', onPointer, true)
      window.removeEventListener('keydown', onKey, true)
      delete dataset['pointed']
    }
  }, [])
}
