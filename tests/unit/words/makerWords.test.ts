import { describe, expect, it } from 'vitest'
import { makerProblemText } from '../../../src/words/makerText.ts'
import { parallelProblemText } from '../../../src/words/parallelText.ts'
import { aTrack, planWith } from '../../support/plans.ts'

const prefs = { units: 'metric', fraction: 64 } as const
const plan = planWith({ tracks: [aTrack({ name: 'Harbour' })] })

describe('why a track cannot be made beside another', () => {
  it('names the track, the straight that is wanted and where there is one', () => {
    const text = makerProblemText(
      { kind: 'station', where: 'stationMm', track: 'track-1', stationMm: 1900, nearestMm: [1059.3, 3973], needMm: 280, haveMm: 1240 },
      plan,
      prefs,
    )
    expect(text).toBe(
      'Here Harbour is not straight for the 280 mm that it takes. At station 1059.3 mm or 3973 mm of it there is such a straight.',
    )
  })

  it('says that a station lies off the track, and by what points must lie behind each other: no length below nothing', () => {
    const off = { kind: 'station', where: 'toMm', track: 'track-1', stationMm: 9000, nearestMm: [4576], needMm: 0, haveMm: 4576 } as const
    expect(makerProblemText(off, plan, prefs)).toBe('Harbour is 4576 mm long; station 9000 mm lies off it.')
    const before = makerProblemText({ kind: 'tooShort', what: 'siding', haveMm: -200, needMm: 900 }, plan, prefs)
    expect(before).toContain('900 mm')
    expect(before).not.toContain('200')
  })

  it('tells by how much the curves of a parallel find no room', () => {
    const text = parallelProblemText(
      { kind: 'line', problem: { kind: 'sideTooShort', side: 1, at: { x: 0, y: 0 }, haveMm: 1650, needMm: 1680.5, shortByMm: 30.5 } },
      prefs,
    )
    expect(text).toMatch(/1650 mm.*1680\.5 mm.*30\.5 mm short/)
  })
})
