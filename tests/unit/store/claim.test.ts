import { describe, expect, it } from 'vitest'
import { claimsByLocks } from '../../../src/store/index.ts'

// Node has no locks. This stand-in keeps the rules of the Web Locks specification (W3C, 'Web Locks API'): ifAvailable, the
// line of waiting requests, and steal, which rejects the holder's request with an AbortError. The browser's own are tried in the journeys.
function locksOfOneBrowser(): LockManager {
  type Grant = (lock: Lock | null) => unknown
  interface Waiting {
    readonly grant: Grant
    readonly resolve: (value: unknown) => void
    readonly reject: (error: unknown) => void
  }
  const holders = new Map<string, Waiting>()
  const line: { readonly name: string; readonly waiting: Waiting }[] = []
  const give = (name: string, to: Waiting): void => {
    const lock = { name, mode: 'exclusive' } as Lock
    holders.set(name, to)
    void Promise.resolve()
      .then(() => to.grant(lock))
      .then((value) => {
        to.resolve(value)
        if (holders.get(name) !== to) return
        holders.delete(name)
        const next = line.findIndex((one) => one.name === name)
        for (const { waiting } of next < 0 ? [] : line.splice(next, 1)) give(name, waiting)
      })
  }
  const request = (name: string, options: LockOptions, grant: Grant): Promise<unknown> =>
    new Promise((resolve, reject) => {
      const waiting = { grant, resolve, reject }
      if (options.steal === true) {
        holders.get(name)?.reject(new DOMException('stolen', 'AbortError'))
        give(name, waiting)
      } else if (!holders.has(name)) give(name, waiting)
      else if (options.ifAvailable === true) void Promise.resolve(grant(null)).then(resolve)
      else line.push({ name, waiting })
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
    const claim = claimsByLocks(locks)('quay')
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

  it('is of one plan: pages on two plans both have theirs', async () => {
    const locks = locksOfOneBrowser()
    const said = await Promise.all(
      ['quay', 'pier'].map(async (plan) => {
        const heard: boolean[] = []
        claimsByLocks(locks)(plan).ask((isHeld) => heard.push(isHeld))
        await settle()
        return heard
      }),
    )
    expect(said).toEqual([[true], [true]])
  })

  it('is taken from nobody by the one who has it', async () => {
    const [first, second] = pages(locksOfOneBrowser())
    await settle()
    first?.claim.take()
    await settle()
    expect([first?.said, second?.said]).toEqual([[true, true], [false]])
  })

  it('is as if had where the browser forbids locks', async () => {
    const forbidden = { request: () => Promise.reject(new DOMException('no', 'SecurityError')) } as unknown as LockManager
    const [page] = pages(forbidden)
    await settle()
    expect(page?.said).toEqual([true])
  })
})
