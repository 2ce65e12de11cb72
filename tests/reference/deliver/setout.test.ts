import { describe, expect, test } from 'vitest'
import { traverseSolve } from '../../../src/core/alignment/index.ts'
import { ANGLE_STEP_RAD, setoutTable } from '../../../src/core/deliver/index.ts'
import type { SetoutBy, SetoutGroup, SetoutSubject } from '../../../src/core/deliver/index.ts'
import { pathFromElements } from '../../../src/core/geom/index.ts'
import type { CurveElement } from '../../../src/core/geom/types.ts'
import { expectMeets, referenceInput, referenceRows, referenceValue } from '../../support/reference.ts'

const FOOT = 304.8
const INCH = 25.4
const DEG = Math.PI / 180
const MINUTE = DEG / 60
const emptyRoom = { walls: {}, obstacles: {}, benchworks: {} }

const pathSubject = (elements: readonly CurveElement[]): SetoutSubject => ({
  path: pathFromElements({ x: 0, y: 0, headingRad: 0 }, elements),
  corners: [],
  isClosed: false,
  gaugeMm: 16.5,
  room: emptyRoom,
})

const arc = (lengthMm: number, radiusMm: number): CurveElement => ({ lengthMm, k0: 1 / radiusMm, k1: 1 / radiusMm })
const easementTo = (lengthMm: number, radiusMm: number): CurveElement => ({ lengthMm, k0: 0, k1: 1 / radiusMm })

/** A corner of some deflection with equal easements between long tangents. */
function cornerSubject(deflectionRad: number, radiusMm: number, easementMm: number): SetoutSubject {
  const side = 20 * radiusMm
  const line = traverseSolve({
    start: { kind: 'free', at: { x: 0, y: 0 } },
    corners: [{ id: 'c', x: side, y: 0, radiusMm, easementInMm: easementMm, easementOutMm: easementMm }],
    end: { kind: 'free', at: { x: side + side * Math.cos(deflectionRad), y: side * Math.sin(deflectionRad) } },
  })
  if (!line.ok) throw new Error(JSON.stringify(line.problems))
  return { path: line.path, corners: line.corners, isClosed: false, gaugeMm: 16.5, room: emptyRoom }
}

function groupsOf(subject: SetoutSubject, by: SetoutBy, stepMm: number): readonly SetoutGroup[] {
  const marks = { units: 'metric', stepMm: 0.5 } as const
  const made = setoutTable(subject, { by, fromMm: null, toMm: null, stepMm, marks, angleStepRad: ANGLE_STEP_RAD })
  if (!made.ok) throw new Error(JSON.stringify(made.problem))
  return made.table.groups
}

/** Exact value of a row, by the name or the index of the row and the key of the column. */
function valueAt(group: SetoutGroup | undefined, row: string | number, key: string): number {
  const found = typeof row === 'number' ? group?.rows[row] : group?.rows.find(({ name }) => name === row)
  const column = group?.columns.findIndex((it) => it.key === key) ?? -1
  return found?.values[column]?.exact ?? Number.NaN
}

describe('deflections over chords of 100 ft are half the degree of curve', () => {
  test.each(referenceRows('degree-of-curve', { quantity: 'radius from degree of curve' }))('$id', (row) => {
    const radius = referenceValue(row, 'radius')
    const degreeRad = referenceInput(row, 'degree')
    const [group] = groupsOf(pathSubject([arc(5 * 100 * FOOT, radius.value)]), { kind: 'deflection', instrument: 'curves' }, 100 * FOOT)
    for (const n of [1, 2, 3, 4]) {
      // The radius is printed rounded; its tolerance moves the angle by as large a part of it.
      const slack = (n * (degreeRad / 2) * radius.plus) / radius.value
      expect(Math.abs(valueAt(group, n - 1, 'deflection') - (n * degreeRad) / 2)).toBeLessThan(slack + 1e-9)
      expect(valueAt(group, n - 1, 'chord')).toBeCloseTo(100 * FOOT, 6)
    }
  })
})

describe('deflections along an easement', () => {
  test.each(referenceRows('spiral', { quantity: 'deflection angle along a transition' }))('$id', (row) => {
    const subject = pathSubject([easementTo(referenceInput(row, 'transition_length'), referenceInput(row, 'radius'))])
    // The page measures along the curve; the chord of the first point is shorter by less than a part in 40 000.
    const step = referenceInput(row, 'distance')
    expectMeets(
      row,
      'deflection',
      valueAt(groupsOf(subject, { kind: 'deflection', instrument: 'curves' }, step)[0], 0, 'deflection') / MINUTE,
    )
  })

  test.each(referenceRows('spiral', { idPrefix: 'searles-' }))('$id, over equal chords of a compound curve', (row) => {
    const n = Number(row.inputs['n'])
    // Chord r is that of an arc that turns 10 r minutes.
    const chordMm = 10 * FOOT
    const arcs = Array.from({ length: n }, (_, i) => {
      const turn = 10 * (i + 1) * MINUTE
      const radiusMm = chordMm / (2 * Math.sin(turn / 2))
      return arc(radiusMm * turn, radiusMm)
    })
    const deflection =
      valueAt(groupsOf(pathSubject(arcs), { kind: 'deflection', instrument: 'start' }, chordMm)[0], n - 1, 'deflection') / MINUTE
    expectMeets(row, 'deflection', deflection)
    expectMeets(row, 'deflection_exact', deflection)
  })
})

describe('the end of an easement from its tangent', () => {
  test.each([...referenceRows('spiral', { idPrefix: 'clothoid-' }), ...referenceRows('spiral', { idPrefix: 'talbot-' })])('$id', (row) => {
    const radiusMm = 'radius' in row.inputs ? referenceInput(row, 'radius') : (100 * FOOT) / referenceInput(row, 'degree')
    const lengthMm = referenceInput(row, 'length')
    const subject = cornerSubject(80 * DEG, radiusMm, lengthMm)
    const [offsets] = groupsOf(subject, { kind: 'offset', datum: 'TS' }, lengthMm)
    const [lath] = groupsOf(subject, { kind: 'lath', pinnedMm: 152.4 }, lengthMm)
    const [deflections] = groupsOf(subject, { kind: 'deflection', instrument: 'curves' }, lengthMm)
    const fact = (key: string): number => lath?.facts.find(({ column }) => column.key === key)?.exact ?? Number.NaN
    const found: Readonly<Record<string, number>> = {
      X: valueAt(offsets, 'SC', 'along'),
      Y: valueAt(offsets, 'SC', 'offset'),
      shift_p: fact('shift'),
      chord: valueAt(deflections, 'SC', 'longChord'),
      deflection: valueAt(deflections, 'SC', 'deflection'),
    }
    const named = row.expected.filter(({ name }) => name in found)
    expect(named.length).toBeGreaterThanOrEqual(4)
    for (const { name } of named) expectMeets(row, name, found[name] ?? Number.NaN)
    expect(fact('freeLength')).toBeCloseTo(lengthMm, 6)
    expect(valueAt(lath, 'SC', 'along')).toBeCloseTo(valueAt(offsets, 'SC', 'along'), 9)
  })
})

describe('offsets along an easement against a setting-out handbook', () => {
  test.each(referenceRows('spiral', { quantity: 'cubic-parabola transition ordinate and local radius' }))('$id', (row) => {
    // The cubic parabola y = x^3 / 6C against the clothoid of the same C = R L; they part by y (x^2/C)^2 / 10 or so.
    const c = (row.inputs['C'] as { readonly value: number }).value * 1e6
    const x = referenceInput(row, 'x')
    const subject = cornerSubject(80 * DEG, c / (2 * x), 2 * x)
    const [group] = groupsOf(subject, { kind: 'offset', datum: 'TS' }, x)
    const at = group?.rows.findIndex(({ values }) => Math.abs((values[0]?.exact ?? 0) - x) < 1e-6) ?? -1
    const { value, plus, minus } = referenceValue(row, 'y')
    const apart = (value * (x * x) ** 2) / c ** 2 / 10
    expect(valueAt(group, at, 'offset')).toBeGreaterThan(value - minus - apart)
    expect(valueAt(group, at, 'offset')).toBeLessThan(value + plus + apart)
  })
})

describe('mid-ordinates', () => {
  const midOrdinate = (radiusMm: number, chordMm: number): number =>
    valueAt(groupsOf(pathSubject([arc(3 * chordMm, radiusMm)]), { kind: 'stick', chordMm }, chordMm)[0], 0, 'ordinate')

  test.each(referenceRows('degree-of-curve', { quantity: 'middle ordinate of a 62 ft chord' }))('$id', (row) => {
    const radiusMm = (50 * FOOT) / Math.sin(referenceInput(row, 'degree') / 2)
    const measured = midOrdinate(radiusMm, referenceInput(row, 'chord'))
    expectMeets(row, 'ordinate_rule', measured)
    expectMeets(row, 'ordinate_exact', measured)
  })

  test('a surveyed curve of 1500 m', () => {
    const [row] = referenceRows('degree-of-curve', { idPrefix: 'report-R1500' })
    if (row === undefined) throw new Error('no row')
    const radiusMm = referenceInput(row, 'radius')
    const chord = referenceValue(row, 'chord').value
    expectMeets(row, 'middle_ordinate', midOrdinate(radiusMm, chord))
    const [group] = groupsOf(pathSubject([arc(referenceValue(row, 'length').value, radiusMm)]), { kind: 'chord' }, chord / 2)
    expectMeets(row, 'middle_ordinate', Math.abs(valueAt(group, 1, 'offset')))
  })

  // Worked by hand for a 12 in stick, m = R - sqrt(R^2 - 36), to a thousandth of an inch; common practice, no source.
  test.each([
    [24, 0.762],
    [30, 0.606],
    [36, 0.504],
    [48, 0.376],
  ])('a 12 in stick on a radius of %d in stands off %d in', (radius, ordinate) => {
    expect(Math.abs(midOrdinate(radius * INCH, 12 * INCH) / INCH - ordinate)).toBeLessThanOrEqual(0.0005)
    // Half the stick: a quarter of it, and a little less.
    const half = midOrdinate(radius * INCH, 6 * INCH) / INCH
    expect(half).toBeLessThan(ordinate / 4)
    expect(half).toBeGreaterThan(ordinate / 4 - 0.004)
  })
})
