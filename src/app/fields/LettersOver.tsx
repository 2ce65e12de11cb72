import type { ReactNode } from 'react'
import { shortFormsIn } from '../../words/shortForms.ts'
import { ShortForms } from './ShortForms.tsx'

/** Words of a drawing, px from its upper left corner; at the foot of the letters, by their middle or an end. */
export interface LetterPlace {
  readonly words: string
  readonly left: number
  readonly foot: number
  readonly anchor: 'start' | 'middle' | 'end'
}

/**
 * Letters of the trade in a drawing say what they stand for, as those of a panel do: unseen words lie over them that can be pointed at, and
 * reached by the Tab key, each of them once.
 */
export function LettersOver({ places, widthPx }: { readonly places: readonly LetterPlace[]; readonly widthPx: number }): ReactNode {
  const explained = places.filter(({ words }) => shortFormsIn(words).some(({ long }) => long !== undefined))
  const reached = new Set<string>()
  return (
    <div className="letters-over">
      {explained.map(({ words, left, foot, anchor }, index) => {
        const letters = words.replaceAll(/[^A-Z ]/g, '').trim()
        const isFirst = !reached.has(letters)
        reached.add(letters)
        return (
          <span key={index} data-anchor={anchor} data-note={left > widthPx / 2 ? 'left' : 'right'} style={{ left, top: foot }}>
            <ShortForms text={words} isReached={isFirst} />
          </span>
        )
      })}
    </div>
  )
}
