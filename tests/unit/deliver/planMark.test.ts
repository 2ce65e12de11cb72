import { describe, expect, it } from 'vitest'
import { planMark } from '../../../src/core/deliver/planMark.ts'
import { planRead, planWrite } from '../../../src/formats/planjson.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const plan = planWith({
  tracks: [aTrack(), aTrack({ id: 'track-2', name: 'Spur', start: { kind: 'free', x: 0, y: 60 }, end: { kind: 'free', x: 900, y: 60 } })],
  turnouts: [aTurnout()],
})

describe('the mark of a plan', () => {
  it('is six signs, none of which is taken for another one', () => {
    expect(planMark(plan)).toMatch(/^[2-9A-HJKMNP-Z]{6}$/)
  })

  it('is the same for the same content, written and read again or with its records in another order', () => {
    const read = planRead(planWrite(plan))
    if (!read.ok) throw new Error('the plan does not read back')
    expect(planMark(read.plan)).toBe(planMark(plan))
    const turned = { ...plan, tracks: Object.fromEntries(Object.entries(plan.tracks).toReversed()) }
    expect(Object.keys(turned.tracks)).not.toEqual(Object.keys(plan.tracks))
    expect(planMark(turned)).toBe(planMark(plan))
  })

  it('differs after the least change, each time', () => {
    const marks = Array.from({ length: 3000 }, (_, i) =>
      planMark({
        ...plan,
        tracks: { ...plan.tracks, 'track-2': aTrack({ id: 'track-2', end: { kind: 'free', x: 900 + i * 0.01, y: 60 } }) },
      }),
    )
    // 3,000 marks of 31^6: two of them agree by chance once in two hundred such lists.
    expect(new Set(marks).size).toBe(marks.length)
    // Every place of the mark takes every sign.
    for (let place = 0; place < 6; place++) expect(new Set(marks.map((mark) => mark.charAt(place))).size).toBe(31)
  })
})
