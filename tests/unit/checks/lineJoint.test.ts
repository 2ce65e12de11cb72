import { describe, expect, it } from 'vitest'
import { checksCreateRunner } from '../../../src/core/checks/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import { findingText } from '../../../src/words/findingText.ts'
import { aTrack, planWith } from '../../support/plans.ts'
import { planFindings } from '../../support/checks.ts'

const deg = Math.PI / 180

/** A straight, and another from its end on that turns off by an angle, some way behind it; numbered the one way or the other. */
function joined(gapMm: number, turnRad: number, isReversed = false) {
  const from = { kind: 'free', x: 2000 + gapMm, y: 0 } as const
  const to = { kind: 'free', x: from.x + 1500 * Math.cos(turnRad), y: 1500 * Math.sin(turnRad) } as const
  const [start, end] = isReversed ? [to, from] : [from, to]
  return planWith({ tracks: [aTrack(), aTrack({ id: 'track-2', name: 'Branch', start, end })] })
}

const prefs = { units: 'mm', denominator: 64 } as never

// Half a degree and a millimetre: common practice, no source.
describe('line-joint', () => {
  it('tells no joint that runs straight through, as far as a joiner holds', () => {
    for (const plan of [joined(0, 0), joined(0.9, 0), joined(0, 0.0099), joined(0, 0, true)])
      expect(planFindings(plan).map(({ rule }) => rule)).toEqual([])
  })

  it.each([false, true])('tells a kink by its angle and the two tracks, and nothing else of them (turned round: %s)', (isReversed) => {
    const found = planFindings(joined(0, -3.2 * deg, isReversed))
    expect(found).toMatchObject([
      { rule: 'line-joint', record: 'track-1', otherRecord: 'track-2', stationFromMm: 2000, x: 2000, y: 0, unit: 'rad' },
    ])
    expect(found[0]?.measured).toBeCloseTo(3.2 * deg, 9)
    expect(found.map((one) => findingText(one, joined(0, 0), prefs).body)).toEqual(['A kink of 3.20° where Main goes on into Branch.'])
  })

  it('tells a gap of a few millimetres, and no two tracks that end farther apart', () => {
    expect(planFindings(joined(3, 0)).filter(({ rule }) => rule === 'line-joint')).toMatchObject([{ measured: 3, limit: 1, unit: 'mm' }])
    expect(planFindings(joined(6, 0)).filter(({ rule }) => rule === 'line-joint')).toEqual([])
  })

  it('tells an end that comes nearer by a little, step by step, as one that was laid there', () => {
    const [check, networkOf] = [checksCreateRunner(), networkCreateDeriver()]
    const measured = [11.5, 8, 4, 2.5, 0.5, 7].map((gapMm) => {
      const plan = planWith({
        tracks: [
          aTrack({ end: { kind: 'free', x: 2012 - gapMm, y: 0 } }),
          aTrack({ id: 'track-2', start: { kind: 'free', x: 2012, y: 0 }, end: { kind: 'free', x: 3500, y: 0 } }),
        ],
      })
      const found = check({ plan, network: networkOf(plan) })
      expect(found.map(({ id }) => id)).toEqual(planFindings(plan, []).map(({ id }) => id))
      return found.filter(({ rule }) => rule === 'line-joint').map((one) => one.measured)
    })
    expect(measured).toEqual([[], [], [4], [2.5], [], []])
  })
})
