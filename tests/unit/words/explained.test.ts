import { readFileSync, readdirSync } from 'node:fs'
import { expect, it } from 'vitest'
import { explained, explainedLabels } from '../../../src/words/explained.ts'

const sources = ['particulars', 'vehicles'].flatMap((room) => {
  const at = new URL(`../../../src/app/${room}/`, import.meta.url)
  return readdirSync(at, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.tsx'))
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
