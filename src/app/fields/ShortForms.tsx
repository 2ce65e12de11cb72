import { memo } from 'react'
import type { ReactNode } from 'react'
import { shortFormsIn } from '../../words/shortForms.ts'

/** A text whose letters of the trade say what they stand for when they are pointed at, touched or reached by the Tab key. */
export const ShortForms = memo(function ShortForms({ text }: { readonly text: string }): ReactNode {
  return shortFormsIn(text).map((part, i) =>
    part.long === undefined ? (
      part.text
    ) : (
      <button key={i} type="button" className="short-form" title={part.long}>
        {part.text}
      </button>
    ),
  )
})
