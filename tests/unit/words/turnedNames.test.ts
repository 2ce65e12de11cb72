import { expect, it } from 'vitest'
import { editLabel } from '../../../src/words/editLabel.ts'
import { radiusSays } from '../../../src/words/chartText.ts'
import { sourceText } from '../../../src/words/findingParts.ts'
import { recordName } from '../../../src/words/names.ts'
import { reportList, reportRows } from '../../../src/words/reportText.ts'
import { roomText } from '../../../src/words/runningText.ts'
import { setoutProblemText } from '../../../src/words/setoutText.ts'
import { aTrack, planWith } from '../../support/plans.ts'

/* Marks of Unicode Standard Annex 9 that turn the direction of writing, left open by whoever typed the name. */

const prefs = { units: 'metric', fraction: 64 } as const
const turned = 'Ma\u202Ein\u2066'
const track = aTrack()
const base = planWith({ tracks: [track] })
const lineClass = Object.values(base.lineClasses)[0]
if (lineClass === undefined) throw new Error('the plan has a class')
const named = { ...lineClass, name: turned, rules: { ties: 'off' as const }, widening: [{ belowRadiusMm: 500, byMm: 0.2 }] }
const crossing = { id: 'crossing-1', name: turned } as (typeof base.crossings)[string]
const plan = {
  ...base,
  railway: { ...base.railway, title: turned },
  lineClasses: { [named.id]: named },
  crossings: { 'crossing-1': crossing },
}

it.each([
  ['who asks', () => sourceText(`class:${named.id}`, plan)],
  ['a radius on the chart', () => radiusSays(600, named, prefs)],
  ['cars that have room', () => roomText(600, { name: turned, count: 2 }, prefs)],
  ['a crossing', () => recordName(plan, 'crossings', 'crossing-1')],
  ['a record put in', () => editLabel({ kind: 'lineClass.add', record: named }, base)],
  ['a track named', () => editLabel({ kind: 'track.set', id: track.id, change: { name: turned } }, base)],
  ['a class named', () => editLabel({ kind: 'lineClass.set', id: named.id, change: { name: turned } }, plan)],
  ['an edge that nothing is square to', () => setoutProblemText({ kind: 'edgeNotFacing', name: turned }, { units: 'metric', stepMm: 1 })],
  ['rows of a report', () => JSON.stringify(reportRows({ plan, findings: [], silenced: [], tracks: [] }, prefs))],
  ['a report', () => JSON.stringify(reportList({ plan, findings: [], silenced: [], tracks: [] }, prefs))],
])('the words behind a name are not turned round: %s', (_what, words) => {
  expect(words()).toContain('Main')
  expect(words()).not.toMatch(/[\u202A-\u202E\u2066-\u2069]/)
})

it('a report says in words which rules a class has told otherwise', () => {
  const rules = { 'minimum-radius': 'warning', 'track-clearance': 'off' } as const
  const told = reportList(
    { plan: { ...base, lineClasses: { main: { ...lineClass, name: 'Quay', rules } } }, findings: [], silenced: [], tracks: [] },
    prefs,
  )
  const notes = told.tables.find(({ title }) => title === 'Limits by class')?.notes
  expect(notes?.at(-1)).toBe('Quay is told “Curve under class radius” as a warning, “Tracks too close” not at all.')
})
