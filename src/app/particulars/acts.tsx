import type { ReactNode } from 'react'

/** A thing to do, as a button. */
export function Act({
  onClick,
  isMain,
  isDisabled,
  children,
}: {
  readonly onClick: () => void
  readonly isMain?: boolean
  readonly isDisabled?: boolean
  readonly children: ReactNode
}): ReactNode {
  return (
    <button type="button" className={`act${isMain === true ? ' is-main' : ''}`} disabled={isDisabled === true} onClick={onClick}>
      {children}
    </button>
  )
}
