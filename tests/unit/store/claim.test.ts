import { describe, expect, it } from 'vitest'
import { claimByLocks } from '../../../src/store/index.ts'

// Node has no locks. This stand-in keeps the rules of the Web Locks specification (W3C, 'Web Locks API'): ifAvailable, the
// line of waiting requests, and steal, which rejects the holder's request with an AbortError. The browser's own are tried in the journeys.
function locksOfOneBrowser(): LockManager {
  type Grant = (lock: Lock | null) => unknown
  interface Waiting {
    readonly grant: Grant
    readonly resolve: (value: unknown) => void
    readonly reject: (error: unknown) => void
  }
  let holder: Waiting | null = null
  const line: Waiting[] = []
  const lock = { name: 'x', mode: 'exclusive' } as Lock
  const give = (to: Waiting): void => {
    holder = to
    void Promise.resolve()
      .then(() => to.grant(lock))
      .then((value) => {
        to.resolve(value)
        if (holder !== to) return
        holder = null
        const next = line.shift()
        if (next !== undefined) give(next)
      })
  }
  const request = (_name: string, options: LockOptions, grant: Grant): Promise<unknown> =>
    new Promise((resolve, reject) => {
      const waiting = { grant, resolve, reject }
      if (options.steal === true) {
        holder?.reject(new DOMException('stolen', 'AbortError'))
        give(waiting)
      } else if (holder === null) give(waiting)
      else if (options.ifAvailable === true) void Promise.resolve(grant(null)).then(resolve)
      else line.push(waiting)
    })
  return { request } as unknown as LockManager
}

const settle = (): Promise<void> =>
  new Promise((resolve) => {
    setImmediate(resolve)
  })

function pages(locks: LockManager) {
  return ['first', 'second'].map(() => {
    const said: boolean[] = []
    const claim = claimByLocks(locks)
    claim.ask((isHeld) => said.push(isHeld))
    return { claim, said }
  })
}

describe('the claim by a lock', () => {
  it('is had by the first page, and by the second when the first lets go', async () => {
    const [first, second] = pages(locksOfOneBrowser())
    await settle()
    expect([first?.said, second?.said]).toEqual([[true], [false]])
    first?.claim.release()
    await settle()
    expect([first?.said, second?.said]).toEqual([[true], [false, true]])
  })

  it('can be taken, and comes back when the one who took it lets go', async () => {
    const [first, second] = pages(locksOfOneBrowser())
    await settle()
    second?.claim.take()
    await settle()
    expect([first?.said, second?.said]).toEqual([
      [true, false],
      [false, true],
    ])
    second?.claim.release()
    await settle()
    expect(first?.said).toEqual([true, false, true])
  })

  it('is as if had where the browser forbids locks', async () => {
    const forbidden = { request: () => Promise.reject(new DOMException('no', 'SecurityError')) } as unknown as LockManager
    const [page] = pages(forbidden)
    await settle()
    expect(page?.said).toEqual([true])
  })
})
