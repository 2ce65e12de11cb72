/** The right to write one plan of this browser; one page has it at a time. */
export interface Claim {
  /**
   * Asks for the right and waits for it if another page has it. `changed` is called with true when it is had, with false when
   * another has it or took it.
   */
  ask(changed: (isHeld: boolean) => void): void
  /** Takes the right from whoever has it. */
  take(): void
  release(): void
}

/** The claim of each plan, by its name on the shelf. */
export type Claims = (planId: string) => Claim

const lockOf = 'waybench-plan-'

/**
 * Claims by locks that pages of one browser share, one to each plan; a page that dies loses its own at once.
 * When the browser refuses a lock itself, every page is told that it has the right; the revision on the shelf then
 * still keeps one from writing over another.
 */
export function claimsByLocks(locks: LockManager): Claims {
  return (planId) => claimByLock(locks, lockOf + planId)
}

/** Plans that some page of this browser has the right to write, this page too; none where it cannot be told. */
export async function plansClaimed(locks: LockManager): Promise<ReadonlySet<string>> {
  try {
    const { held = [] } = await locks.query()
    return new Set(held.flatMap(({ name }) => (name?.startsWith(lockOf) === true ? [name.slice(lockOf.length)] : [])))
  } catch {
    return new Set()
  }
}

function claimByLock(locks: LockManager, name: string): Claim {
  let release = (): void => undefined
  let notify: (isHeld: boolean) => void = () => undefined
  let isStopped = false
  let isHeld = false
  const held = async (): Promise<void> => {
    if (isStopped) return
    isHeld = true
    notify(true)
    await new Promise<void>((resolve) => {
      release = resolve
    })
  }
  const wait = (options: LockOptions): void => {
    locks.request(name, options, held).catch(lost)
  }
  const lost = (error: unknown): void => {
    if (isStopped) return
    // AbortError: another page took the lock. Wait in line for the day that it closes.
    const isTaken = error instanceof DOMException && error.name === 'AbortError'
    isHeld = !isTaken
    notify(!isTaken)
    if (isTaken) wait({})
  }
  return {
    ask(changed) {
      notify = changed
      locks
        .request(name, { ifAvailable: true }, (lock) => {
          if (lock !== null) return held()
          notify(false)
          wait({})
          return undefined
        })
        .catch(lost)
    },
    take() {
      // Who took from itself would hear of the loss after the gain.
      if (isHeld) notify(true)
      else wait({ steal: true })
    },
    release() {
      isStopped = true
      release()
    },
  }
}

/** For browsers without locks: always had. The revision on the shelf alone keeps pages apart. */
export const claimsAlways: Claims = () => {
  let notify: (isHeld: boolean) => void = () => undefined
  return {
    ask(changed) {
      notify = changed
      changed(true)
    },
    take: () => notify(true),
    release: () => undefined,
  }
}
