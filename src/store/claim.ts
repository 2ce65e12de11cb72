/** The right to write the plan of this browser; one page has it at a time. */
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

/**
 * The claim by a lock that pages of one browser share; a page that dies loses it at once.
 * When the browser refuses the lock itself, every page is told that it has the right; the revision on the shelf then
 * still keeps one from writing over another.
 */
export function claimByLocks(locks: LockManager, name = 'waybench-plan'): Claim {
  let release = (): void => undefined
  let notify: (isHeld: boolean) => void = () => undefined
  let isStopped = false
  const held = async (): Promise<void> => {
    if (isStopped) return
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
      wait({ steal: true })
    },
    release() {
      isStopped = true
      release()
    },
  }
}

/** For browsers without locks: always had. The revision on the shelf alone keeps pages apart. */
export function claimAlways(): Claim {
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
