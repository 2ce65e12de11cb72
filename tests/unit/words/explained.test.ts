import { readFileSync, readdirSync } from 'node:fs'
import { expect, it } from 'vitest'
import { explained, explainedLabels, type ExplainedIn } from '../../../src/words/explained.ts'

const sources = ['particulars', 'vehicles', 'laying', 'stock', 'makers', 'aids'].flatMap((room) => {
  const at = new URL(`../../../src/app/${room}/`, import.meta.url)
  return readdirSync(at, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => readFileSync(new URL(name, at), 'utf8'))
})

it('every label that is explained stands in some particulars', () => {
  const labels = explainedLabels()
  expect(labels.length).toBeGreaterThan(40)
  const shown = (label: string): boolean => sources.some((text) => text.includes(`"${label}"`) || text.includes(`'${label}'`))
  expect(labels.filter((label) => !shown(label))).toEqual([])
})

it('tells what is shown, in its order and once, and nothing else', () => {
  expect(explained('corner', ['Shift', 'Name', 'Arc', 'Shift', 'constructor']).map(({ label }) => label)).toEqual(['Shift', 'Arc'])
})

/** The columns that say what their numbers mean, and the files that their numbers stand in. */
const columns: { readonly [of in ExplainedIn]?: readonly string[] } = {
  railway: ['particulars/RailwayParticulars'],
  lineClass: ['particulars/LineClassParticulars', 'particulars/ClassLaying', 'particulars/ClassTies', 'particulars/WideningSteps'],
  corner: ['particulars/CornerParticulars'],
  trackEnd: ['particulars/TrackEndParticulars'],
  turnout: ['particulars/TurnoutParticulars', 'particulars/TurnoutKindFields'],
  crossing: ['particulars/CrossingParticulars'],
  vehicle: ['vehicles/VehicleFields'],
  room: ['particulars/RoomParticulars', 'particulars/RoomThingParticulars'],
  laying: ['laying/LayingParticulars'],
  stock: ['stock/StockParticulars', 'stock/MaterialParticulars'],
  joint: ['particulars/RailJointParticulars'],
  aid: ['aids/AidParticulars'],
}

const columnFiles = Object.entries(columns).flatMap(([of, files]) => files.map((file) => [of as ExplainedIn, file] as const))

it.each(columnFiles)('of a %s, every number in %s says what it is', (of, file) => {
  const text = readFileSync(new URL(`../../../src/app/${file}.tsx`, import.meta.url), 'utf8')
  const fields = /<\w*(?:Length|Number|Grade|Frog|Angle|Percent|Temperature|Pace|Percent|Fine)\w*Field\s[^>]*?label="([^"]+)"/gs
  const labels = [...text.matchAll(fields)].flatMap(([, label]) => label ?? [])
  expect(labels.filter((label) => explained(of, [label]).length === 0)).toEqual([])
})
