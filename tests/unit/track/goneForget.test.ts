import { describe, expect, it } from 'vitest'
import type { Network } from '../../../src/core/network/types.ts'
import { goneForget } from '../../../src/core/track/goneForget.ts'

const networkOf = (...ids: readonly string[]): Network => ({ tracks: new Map(ids.map((id) => [id, {}])) }) as unknown as Network
const knownOf = (...ids: readonly string[]): Map<string, number> => new Map(ids.map((id, place) => [id, place]))

describe('forgetting tracks that are gone', () => {
  it('is done once more are known than there are, so that what is kept never outgrows the plan', () => {
    const known = knownOf('a', 'b', 'c')
    goneForget(known, networkOf('a', 'c'))
    expect([...known]).toEqual([
      ['a', 0],
      ['c', 2],
    ])
    goneForget(known, networkOf())
    expect(known.size).toBe(0)
  })

  it('waits while no more are known than there are', () => {
    const known = knownOf('a', 'gone')
    goneForget(known, networkOf('a', 'c', 'd'))
    expect([...known.keys()]).toEqual(['a', 'gone'])
  })
})
