import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { checksCreateRunner } from '../../../src/core/checks/index.ts'
import type { Finding } from '../../../src/core/checks/index.ts'
import { makersFollow } from '../../../src/core/makers/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Derived } from '../../../src/core/pipeline/index.ts'
import type { TurnoutGeometry } from '../../../src/core/turnout/index.ts'
import { planRead } from '../../../src/formats/planjson.ts'

const inch = 25.4

function demo(name: string): Derived {
  const read = planRead(readFileSync(join('public', 'demo', name), 'utf8'))
  if (!read.ok) throw new Error(`${name} does not read: ${JSON.stringify(read.problem)}`)
  return pipelineCreate().derive(read.plan)
}

const findingsOf = (derived: Derived): readonly Finding[] => checksCreateRunner()(derived)

// The faults were put there on purpose; the figures were set, not read off the checks, except where "computed" is said.
const faults = [
  { rule: 'minimum-radius', where: 'track-1', corner: 'corner-4', measured: 24.5 * inch, limit: 26 * inch, within: 1e-6 },
  // The coal drop bends left and right again with a quarter of an inch between; the quay's longest car is a boxcar of 145.93 mm.
  { rule: 'reverse-curve', where: 'track-9', corner: 'corner-2', measured: 0.25 * inch, limit: 145.93, within: 1e-3 },
  // Its couplers cannot follow so sharp an S: two 40 ft boxcars would have to swing 24 degrees (computed), and swing 20.
  { rule: 'coupler-swing', where: 'track-9', corner: 'corner-1', measured: 0.4189, limit: 0.349, within: 1e-4 },
  // The coal drop ends 4.2 in beyond the main, which lies 6 in from the edge: 1.8 in where 2 in is the margin.
  { rule: 'benchwork-edge', where: 'track-9', corner: null, measured: 1.8 * inch, limit: 2 * inch, within: 0.01 },
  // The siding's PI stands 1.85 in inside of the main's; round the bend its sharper curve and shift leave 41.1 mm between the lines, and two
  // boxcars need as much for themselves (computed: they overlap by 0.7 mm).
  { rule: 'track-clearance', where: 'track-1', corner: null, measured: -0.7, limit: 6.416, within: 0.1 },
  { rule: 'minimum-frog', where: 'turnout-9', corner: null, measured: 4.5, limit: 5, within: 1e-9 },
  // A joint of the builder's, 2 in from where its third curve begins (computed); the rules of laying ask 6 in.
  { rule: 'rail-joint', where: 'joint-1', corner: null, measured: 2 * inch, limit: 6 * inch, within: 0.5 },
] as const

describe('the demo railway in HO', () => {
  const derived = demo('fennimore.json')

  it('is as reading leaves it, for the page lays it on the desk unread', () => {
    const text = readFileSync(join('public', 'demo', 'fennimore.json'), 'utf8')
    const read = planRead(text)
    expect(read.ok && read.notes).toEqual([])
    expect(JSON.stringify(read.ok ? read.plan : null)).toBe(JSON.stringify(JSON.parse(text)))
  })

  it('solves every track and sets every turnout', () => {
    expect([...derived.network.tracks.values()].filter(({ alignment }) => !alignment.ok)).toEqual([])
    expect([...derived.network.turnouts.values()].filter(({ result }) => !result.ok)).toEqual([])
  })

  it('has the faults that were put there, and no other', () => {
    const findings = findingsOf(derived)
    expect(findings.map(({ rule, record }) => `${rule} ${record}`)).toEqual(faults.map(({ rule, where }) => `${rule} ${where}`))
    faults.forEach((fault, index) => {
      const finding = findings[index]
      expect(finding?.corner).toBe(fault.corner)
      expect(Math.abs((finding?.measured ?? Number.NaN) - fault.measured)).toBeLessThan(fault.within)
      expect(Math.abs((finding?.limit ?? Number.NaN) - fault.limit)).toBeLessThan(fault.within)
    })
  })

  it('has special work of every kind that a harbour asks for', () => {
    const { turnouts, crossings } = derived.network
    const geometryOf = (name: string): TurnoutGeometry => {
      const found = [...turnouts.values()].find(({ turnout }) => turnout.name === name)
      if (found?.result.ok !== true) throw new Error(`no ${name}`)
      return found.result.geometry
    }
    expect(geometryOf('Quay wye').legs.map(({ leg }) => leg)).toEqual(['diverging', 'other'])
    // The ice house's turnout lies in a curve of 16 in and leaves to its outside; the host is all the curve there is.
    const iceHouse = geometryOf('Ice house')
    expect(iceHouse.request.frog).toBe(6)
    expect(iceHouse.request.host?.path.elements.some(({ k0 }) => Math.abs(k0 - 1 / (16 * inch)) < 1e-9)).toBe(true)
    expect([...crossings.values()].map(({ record, result }) => [record?.name, record?.slip, result.ok])).toEqual([
      ['Ice house crossing', 'none', true],
    ])
    expect(Object.values(derived.plan.makers).map(({ numbers }) => numbers.kind)).toEqual(['yard'])
    // The maker's own numbers still give what stands in the file.
    expect(makersFollow(derived.plan, derived.network)).toEqual([])
  })

  it('finds the crowded bend between the main and the siding on the north-east corner', () => {
    const crowded = findingsOf(derived).find(({ rule }) => rule === 'track-clearance')
    expect(crowded?.otherRecord).toBe('track-2')
    expect(crowded?.x).toBeGreaterThan(2700)
    expect(crowded?.y).toBeGreaterThan(1900)
  })
})

describe('the demo shelf in N', () => {
  it('is free of faults', () => {
    const derived = demo('shelf.json')
    expect(derived.network.turnouts.size).toBe(2)
    expect([...derived.network.turnouts.values()].every(({ result }) => result.ok)).toBe(true)
    expect(findingsOf(derived)).toEqual([])
  })
})
