import { useRef } from 'react'
import type { ReactNode } from 'react'
import { refusedShown } from '../fields/refused.ts'
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
  const foot = useRef<HTMLDivElement>(null)
  return (
    <div className="by-size-foot" ref={foot}>
      {wrong === null ? null : (
        <p className="wrong" role="alert">
          {wrong}
        </p>
      )}
      <div className="acts">
        {/* What is refused in a field must not be made without a word from what stood there before. */}
        <Act isMain={isMain} onClick={() => refusedShown(foot.current?.closest('.by-size') ?? null) || onMake()}>
          {word}
        </Act>
        <Act onClick={shut}>Leave it</Act>
      </div>
    </div>
  )
}
