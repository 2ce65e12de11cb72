import type { ReactNode } from 'react'
import { Act } from '../particulars/acts.tsx'

/** The end of a form of sizes: what is wrong with them, the act that makes it, and the way out. */
export function BySizeFoot({
  wrong,
  word,
  isMain = true,
  onMake,
  shut,
}: {
  readonly wrong: string | null
  readonly word: string
  readonly isMain?: boolean
  readonly onMake: () => void
  readonly shut: () => void
}): ReactNode {
  return (
    <>
      {wrong === null ? null : (
        <p className="wrong" role="alert">
          {wrong}
        </p>
      )}
      <div className="acts">
        <Act isMain={isMain} onClick={onMake}>
          {word}
        </Act>
        <Act onClick={shut}>Leave it</Act>
      </div>
    </>
  )
}
