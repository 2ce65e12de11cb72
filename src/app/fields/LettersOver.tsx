import type { ReactNode } from 'react'
import { shortFormsIn } from '../../words/shortForms.ts'

/** Words of a drawing, px from its upper left corner; at the foot of the letters, by their middle or an end. */
export interface LetterPlace {
  readonly words: string
  readonly left: number
  readonly foot: number
  readonly anchor: 'start' | 'middle' | 'end'
}

/**
 * Letters of the trade in a drawing say what they stand for: unseen words lie over them that can be pointed at. By the Tab key the same letters
 * are reached in the panels, where nothing lies in their way.
 */
export function LettersOver({ places }: { readonly places: readonly LetterPlace[] }): ReactNode {
  const explained = places.filter(({ words }) => shortFormsIn(words).some(({ long }) => long !== undefined))
  return (
    <div className="letters-over">
      {explained.map(({ words, left, foot, anchor }, index) => (
        <span key={index} data-anchor={anchor} style={{ left, top: foot }}>
          {shortFormsIn(words).map((part, i) =>
            part.long === undefined ? (
              part.text
            ) : (
              <span key={i} className="short-form" title={part.long}>
                {part.text}
              </span>
            ),
          )}
        </span>
      ))}
    </div>
  )
}
