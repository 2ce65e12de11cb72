import { describe, expect, it } from 'vitest'
import { planEmpty } from '../../../src/core/plan/index.ts'
import { checksLate } from '../../../src/engine/engineLate.ts'
import { late } from '../../../src/engine/late.ts'
import type { ChecksEngine } from '../../../src/engine/protocol.ts'

/** Loads that come, or fail, when they are told to. */
function loads<T>() {
  const asked: { readonly come: (what: T) => void; readonly fail: (why: Error) => void }[] = []
  return { asked, load: () => new Promise<T>((come, fail) => void asked.push({ come, fail })) }
}

describe('what comes late', () => {
  it('is loaded once, however many ask for it meanwhile and afterwards', async () => {
    const { asked, load } = loads<string>()
    const part = late(load)
    expect([part.now(), part.asked()]).toEqual([null, null])
    const both = Promise.all([part.bring(), part.bring()])
    asked[0]?.come('here')
    expect([await both, await part.bring(), part.now(), asked.length]).toEqual([['here', 'here'], 'here', 'here', 1])
  })

  it('is asked for again after it failed to come, and once by all who ask then', async () => {
    const { asked, load } = loads<string>()
    const part = late(load)
    const again = (): Promise<string> => part.bring().catch(() => part.bring())
    const both = Promise.all([again(), again()])
    asked[0]?.fail(new Error('no network'))
    await expect.poll(() => asked.length).toBe(2)
    asked[1]?.come('here')
    expect([await both, asked.length]).toEqual([['here', 'here'], 2])
  })
})

describe('an engine that comes late', () => {
  const silent = (): { readonly engine: ChecksEngine; readonly isDisposed: () => boolean } => {
    let isDisposed = false
    return { engine: { ask: () => new Promise(() => undefined), dispose: () => void (isDisposed = true) }, isDisposed: () => isDisposed }
  }

  it('is let go also when it was still on its way', async () => {
    const { asked, load } = loads<ChecksEngine>()
    const checks = checksLate(load)
    checks.dispose()
    expect(asked).toEqual([])
    void checks.ask({ kind: 'whole', number: 1, plan: planEmpty() })
    checks.dispose()
    const { engine, isDisposed } = silent()
    asked[0]?.come(engine)
    await expect.poll(isDisposed).toBe(true)
  })
})
