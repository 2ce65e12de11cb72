import { describe, expect, it } from 'vitest'
import { sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { SheetOptions, SheetSubject, SheetSet } from '../../../src/core/deliver/index.ts'
import { standardCrossingBuild } from '../../../src/core/plan/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { aPaper } from '../../support/paper.ts'
import { aTrack, aTurnout, planWith } from '../../support/plans.ts'

const tracks = [
  aTrack({ start: { kind: 'free', x: 0, y: 100 }, end: { kind: 'free', x: 2000, y: 100 } }),
  aTrack({ id: 'track-2', name: 'Ice house', start: { kind: 'free', x: 1100, y: -150 }, end: { kind: 'free', x: 1900, y: 350 } }),
]
const options: SheetOptions = {
  paper: aPaper('a4'),
  marginMm: 8,
  overlapMm: 12,
  calibrationX: 1,
  calibrationY: 1,
  units: 'metric',
  date: '2026-11-26',
}
const derived = pipelineCreate().derive(planWith({ tracks, turnouts: [aTurnout()] }))
const [found] = [...derived.network.crossings.values()]
if (!found) throw new Error('the two tracks do not cross')
const { id } = found

const sheets = (subject: SheetSubject): SheetSet => sheetsForSubject(derived, subject, options)
const said = ({ sheets: all }: SheetSet): readonly string[] =>
  all.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])))

describe('sheets of a crossing that is found', () => {
  it('has it at full size, with its angle, whether anyone has chosen anything for it or not', () => {
    const set = sheets({ kind: 'crossing', id })
    expect(set.problems).toEqual([])
    expect(set.title).toMatch(/^Crossing, No\. 1\.74/)
    expect(said(set).join(' ')).toMatch(/angle 32\.01°/)
  })

  it('has a cut list with all four frogs, their guards and check rails', () => {
    const words = said(sheets({ kind: 'cutList', id, of: 'crossing' })).join(' ')
    for (const part of ['Guard rail', 'Check rail', 'Elbow rail', 'Wing rail', 'Frog rail']) expect(words).toContain(part)
  })

  it('tells what is missing', () => {
    expect(sheets({ kind: 'crossing', id: 'none' }).problems).toEqual(['There is no crossing "none" in the plan.'])
    expect(sheets({ kind: 'cutList', id: 'none', of: 'crossing' }).problems).toEqual(['There is no crossing "none" in the plan.'])
    expect(sheets({ kind: 'roadbed', id: 'none' }).problems).toEqual(['There is no turnout "none" in the plan.'])
  })
})

describe('the card for the roadbed', () => {
  const outlines = (set: SheetSet): number =>
    set.sheets
      .filter(({ kind }) => kind === 'full-size')
      .flatMap(({ items }) => items.filter((item) => item.kind === 'stroke' && item.role === 'mark')).length

  it('of a turnout is drawn at full size with its taper and the angle at its crotch, and nothing else of the plan', () => {
    const set = sheets({ kind: 'roadbed', id: 'turnout-1' })
    expect(set.problems).toEqual([])
    expect(outlines(set)).toBeGreaterThan(0)
    expect(said(set).some((text) => /taper .* crotch 9\.5°/.test(text))).toBe(true)
    expect(set.sheets.flatMap(({ items }) => items).some((item) => item.kind === 'stroke' && item.role === 'tie')).toBe(false)
  })

  it('of a crossing has a card on either side of the first track', () => {
    const set = sheets({ kind: 'roadbed', id, of: 'crossing' })
    expect(set.problems).toEqual([])
    expect(said(set).filter((text) => text.endsWith(', other')).length).toBeGreaterThanOrEqual(2)
    expect(said(set).some((text) => /crotch 32\.0°/.test(text))).toBe(true)
  })

  it('follows the builder’s own width', () => {
    const base = { roadbedMm: 60, shoulderMm: 5 }
    const usual = sheets({ kind: 'roadbed', id: 'turnout-1' })
    const practice = {
      nest: 'undercut',
      spikeEvery: 2,
      spikeFreeMm: 25,
      ...base,
      throwWire: { wireMm: 0.8, deckMm: 17, fulcrumMm: 17, travelMm: 10, armMm: 20 },
      motor: { alongMm: 60, acrossMm: 85, aroundMm: 5 },
    } as const
    const wide = sheets({ kind: 'roadbed', id: 'turnout-1', practice })
    const taper = (set: SheetSet): number => Number(/taper ([\d.]+)/.exec(said(set).join(' '))?.[1])
    expect(taper(wide)).toBeGreaterThan(taper(usual))
  })
})

it('a crossing that somebody has named is called by its name', () => {
  const record = {
    id: 'crossing-1',
    name: 'Ice crossing',
    track: found.track,
    other: found.other,
    stationMm: found.stationMm,
    otherStationMm: found.otherStationMm,
    slip: 'none',
    build: standardCrossingBuild,
  } as const
  const named = pipelineCreate().derive(planWith({ tracks, crossings: [record] }))
  expect(sheetsForSubject(named, { kind: 'crossing', id: 'crossing-1' }, options).title).toMatch(/Ice crossing/)
})
