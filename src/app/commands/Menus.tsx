import { Suspense, lazy, useState } from 'react'
import type { ReactNode } from 'react'

const words = ['File', 'View'] as const
export type MenuWord = (typeof words)[number]

// A menu that works by keyboard, touch and screen reader weighs more than the rest of the page's words together, so it is
// fetched when the hand comes near, and the first load stays light.
const fetchMenus = (): Promise<typeof import('./WordMenus.tsx')> => import('./WordMenus.tsx')
const WordMenus = lazy(fetchMenus)

export function Menus(): ReactNode {
  const [opened, setOpened] = useState<MenuWord | null>(null)
  const plain = words.map((word) => (
    <button
      key={word}
      type="button"
      className="word menu-word"
      aria-haspopup="menu"
      aria-expanded={false}
      onPointerEnter={() => void fetchMenus()}
      onFocus={() => void fetchMenus()}
      onClick={() => setOpened(word)}
    >
      {word}
    </button>
  ))
  return (
    <div className="menus">
      {opened === null ? (
        plain
      ) : (
        <Suspense fallback={plain}>
          <WordMenus opened={opened} />
        </Suspense>
      )}
    </div>
  )
}
