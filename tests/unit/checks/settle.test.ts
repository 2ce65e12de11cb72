import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { settleFindings, silenceOf } from '../../../src/core/checks/index.ts'
import type { Finding } from '../../../src/core/checks/index.ts'
import type { Plan, RuleLevel } from '../../../src/core/plan/index.ts'
import { planFindings } from '../../support/checks.ts'
import { aCorner, aTrack, aTurnout, planAfter, planWith } from '../../support/plans.ts'

/** A main of two curves that are both too sharp for it, 500 and 550 mm under 812.8. */
const plan = planWith({
  tracks: [
    aTrack({
      corners: [
        aCorner({ x: 3000, radius: 500, easementIn: 0, easementOut: 0 }),
        aCorner({ id: 'pi-2', x: 3000, y: 4000, radius: 550, easementIn: 0, easementOut: 0 }),
      ],
      end: { kind: 'free', x: 0, y: 4000 },
    }),
  ],
})
const sharp = (found: readonly Finding[]): readonly Finding[] =>
  found.filter(({ rule, severity }) => rule === 'minimum-radius' && severity === 'error')
const raw = planFindings(plan)
const [first, second] = sharp(raw)
if (first === undefined || second === undefined) throw new Error('two curves too sharp were expected')

const silenced = (reason: string, finding: Finding, change: object = {}): Plan =>
  planAfter(plan, { kind: 'silence.add', record: { ...silenceOf(finding, reason), ...change } })

describe('what waits for another finding', () => {
  // Track 2 hangs on a turnout of track 1, whose curve has no room; track 3 on one of track 2.
  const on = (id: string, track: string) => aTurnout({ id, track })
  const from = (turnout: string) => ({ kind: 'leg', turnout, leg: 'diverging' }) as const
  const chain = planWith({
    tracks: [
      aTrack({ id: 'track-3', start: from('turnout-2'), end: { kind: 'free', x: 4000, y: 900 } }),
      aTrack({ id: 'track-2', start: from('turnout-1'), end: { kind: 'free', x: 4000, y: 600 } }),
      aTrack({ corners: [aCorner({ x: 1000, radius: 5000 })], end: { kind: 'free', x: 1000, y: 900 } }),
    ],
    turnouts: [on('turnout-1', 'track-1'), on('turnout-2', 'track-2')],
  })

  it('names the one that waits for nothing and stands behind it', () => {
    const { open } = settleFindings(chain, planFindings(chain))
    expect(open[0]).toMatchObject({ record: 'track-1', severity: 'error' })
    expect(open.slice(-2).map(({ record, severity, waitsFor }) => [record, severity, waitsFor?.record ?? null])).toEqual([
      ['track-3', 'warning', 'track-1'],
      ['track-2', 'warning', 'track-1'],
    ])
    expect(open.at(-1)?.waitsFor?.id).toBe(open[0]?.id)
    expect(open.slice(0, -2).every(({ record, waitsFor }) => record === 'track-1' && waitsFor === undefined)).toBe(true)
  })

  it('names none where its cause is left be', () => {
    const causes = settleFindings(chain, planFindings(chain)).open.filter(({ record }) => record === 'track-1')
    const quiet = planAfter(chain, ...causes.map((cause) => ({ kind: 'silence.add', record: silenceOf(cause, 'later') }) as const))
    expect(settleFindings(quiet, planFindings(quiet)).open.map(({ record, waitsFor }) => [record, waitsFor])).toEqual([
      ['track-3', undefined],
      ['track-2', undefined],
    ])
  })

  it('is told stage by stage, so that numbers rise down a list of stages', () => {
    const [one] = raw
    if (one === undefined) throw new Error('a curve is too sharp')
    const told = (['track', 'turnouts', 'line', 'room', 'line'] as const).map((stage, i): Finding => ({ ...one, id: String(i), stage }))
    expect(settleFindings(plan, told).open.map(({ id }) => id)).toEqual(['3', '2', '4', '1', '0'])
  })
})

describe('what the builder says of findings', () => {
  it('changes nothing where nothing is said', () => {
    expect(settleFindings(plan, raw)).toEqual({ open: raw, silenced: [], idle: [] })
  })

  it('takes the one finding that was silenced, with its reason, and leaves the other', () => {
    const after = silenced('the curve was there before the house', second)
    const settled = settleFindings(after, raw)
    expect(settled.silenced.map(({ finding, silence }) => [finding.id, silence.reason])).toEqual([
      [second.id, 'the curve was there before the house'],
    ])
    expect(settled.open).toEqual(raw.filter((finding) => finding !== second))
    expect(settled.idle).toEqual([])
  })

  it('holds on to a finding that wandered a little, and lets go of one that went away', () => {
    const after = silenced('old', first)
    const moved = (byMm: number): readonly Finding[] =>
      raw.map((finding) =>
        finding === first
          ? { ...finding, stationFromMm: (finding.stationToMm ?? 0) + byMm, stationToMm: (finding.stationToMm ?? 0) + byMm + 1 }
          : finding,
      )
    const middleMm = ((first.stationToMm ?? 0) - (first.stationFromMm ?? 0)) / 2
    expect(settleFindings(after, moved(99 - middleMm)).silenced).toHaveLength(1)
    const gone = settleFindings(after, moved(101 - middleMm))
    expect(gone.silenced).toEqual([])
    expect(gone.idle.map(({ reason }) => reason)).toEqual(['old'])
  })

  it('takes all of a record where no place is said', () => {
    const after = silenced('a tram line', first, { stationMm: null })
    expect(sharp(settleFindings(after, raw).open)).toEqual([])
    expect(settleFindings(after, raw).silenced).toHaveLength(2)
  })

  it.each<[RuleLevel, readonly string[]]>([
    ['warning', ['warning', 'warning']],
    ['error', ['error', 'error']],
    ['off', []],
  ])('tells a rule as the class has it: %s', (level, severities) => {
    const after = planAfter(plan, { kind: 'lineClass.set', id: 'main', change: { rules: { 'minimum-radius': level } } })
    const { open } = settleFindings(after, sharp(raw))
    expect(open.map(({ severity }) => severity)).toEqual(severities)
    const other = planAfter(plan, { kind: 'lineClass.set', id: 'yard', change: { rules: { 'minimum-radius': level } } })
    expect(settleFindings(other, raw).open).toEqual(raw)
  })

  it('loses no finding, whatever is silenced', () => {
    fc.assert(
      fc.property(fc.array(fc.record({ pick: fc.nat(), everywhere: fc.boolean(), offMm: fc.integer({ min: -500, max: 500 }) })), (said) => {
        const after = planAfter(
          plan,
          ...said.map(({ pick, everywhere, offMm }) => {
            const silence = silenceOf(raw[pick % raw.length] ?? first, 'so be it')
            const stationMm = everywhere || silence.stationMm === null ? null : silence.stationMm + offMm
            return { kind: 'silence.add', record: { ...silence, stationMm } } as const
          }),
        )
        const { open, silenced: hushed, idle } = settleFindings(after, raw)
        expect([...open, ...hushed.map(({ finding }) => finding)].map(({ id }) => id).toSorted()).toEqual(
          raw.map(({ id }) => id).toSorted(),
        )
        expect(idle.length).toBeLessThanOrEqual(said.length)
      }),
      { seed: 20261126, numRuns: 50 },
    )
  })
})
