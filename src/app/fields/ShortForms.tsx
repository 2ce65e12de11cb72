import type { ReactNode } from 'react'
import { shortFormsIn } from '../../words/shortForms.ts'

/** A text whose letters of the trade say what they stand for when they are pointed at, touched or reached by the Tab key. */
export function ShortForms({ text, isReached = true }: { readonly text: string; readonly isReached?: boolean }): ReactNode {
  return shortFormsIn(text).map((part, i) =>
    part.long === undefined ? (
      part.text
    ) : (
      <button key={i} type="button" className="short-form" tabIndex={isReached ? 0 : -1} title={part.long}>
        {part.text}
      </button>
    ),
  )
}
