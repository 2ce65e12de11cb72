import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { versionsToDrop } from '../../../src/store/versions.ts'

const hourMs = 3_600_000
const dayMs = 24 * hourMs
const nowMs = 20_000 * dayMs + 5 * hourMs
const ages = fc.uniqueArray(fc.integer({ min: 0, max: 400 * dayMs }), { maxLength: 200 })
const keptOf = (times: readonly number[]): number[] => {
  const dropped = new Set(versionsToDrop(times, nowMs))
  return times.filter((time) => !dropped.has(time))
}

describe('earlier versions', () => {
  it('of the last hour all stay, and the newest always', () => {
    fc.assert(
      fc.property(ages, (chosen) => {
        const times = chosen.map((age) => nowMs - age)
        const kept = keptOf(times)
        for (const time of times) if (nowMs - time < hourMs) expect(kept).toContain(time)
        if (times.length > 0) expect(kept).toContain(Math.max(...times))
      }),
    )
  })

  it('are never further apart than the hour, day or week that their age allows', () => {
    fc.assert(
      fc.property(ages, (chosen) => {
        const times = chosen.map((age) => nowMs - age)
        const kept = keptOf(times)
        for (const time of times) {
          const age = nowMs - time
          const span = age < dayMs ? hourMs : age < 31 * dayMs ? dayMs : 7 * dayMs
          expect(kept.some((other) => other >= time && other - time <= span)).toBe(true)
        }
      }),
    )
  })

  it('are few, whatever was done: a version an hour for two years and one a minute now leaves less than three hundred', () => {
    const times = Array.from({ length: 2 * 365 * 24 }, (_, i) => nowMs - i * hourMs - 1)
    const lastHour = Array.from({ length: 59 }, (_, i) => nowMs - i * 60_000)
    expect(keptOf([...times, ...lastHour]).length).toBeLessThan(300)
  })

  it('that were dropped once leave the same to drop: nothing more', () => {
    fc.assert(
      fc.property(ages, (chosen) => {
        const kept = keptOf(chosen.map((age) => nowMs - age))
        expect(versionsToDrop(kept, nowMs)).toEqual([])
      }),
    )
  })
})
