import { describe, expect, it } from 'vitest'
import { elementPoseAt, pathFromElements, pathOffsetPoint, type CurveElement, type Pose } from '../../../src/core/geom/index.ts'
import { expectMeets, referenceInput, referenceRows, type ReferenceRow } from '../../support/reference.ts'

const origin: Pose = { x: 0, y: 0, headingRad: 0 }

/** Radius of a row in metres, as text or with its unit, where straight is printed as 0 or as infinity; as curvature in 1/mm. */
function curvatureOf(raw: unknown): number {
  const printed = raw !== null && typeof raw === 'object' && 'value' in raw ? raw.value : raw
  const metres = Number(String(printed).replace('inf', 'Infinity'))
  if (Number.isNaN(metres)) throw new Error(`No radius: ${JSON.stringify(raw)}`)
  return metres === 0 ? 0 : 1 / (1000 * metres)
}

describe('Fresnel integrals as a unit clothoid', () => {
  // An element of curvature pi s runs through C(s), S(s): Abramowitz & Stegun 7.3.1-2.
  const rows = referenceRows('fresnel', { idPrefix: 'fresnel-' }).filter((row) => typeof row.inputs.x === 'number')

  it.each(rows.map((row) => [row.id, row] as const))('%s', (_, row) => {
    const x = referenceInput(row, 'x')
    const pose = elementPoseAt({ lengthMm: x, k0: 0, k1: Math.PI * x }, origin, x)
    for (const [name, ours] of [
      ['C', pose.x],
      ['S', pose.y],
    ] as const) {
      const printed = row.expected.find((value) => value.name === name)
      if (!printed) continue
      // Print to its last digit, and a rounding for each of the thousand radians that a long one turns.
      expect(Math.abs(ours - printed.value)).toBeLessThanOrEqual(printed.plus + 1e-15 * (1 + x * x))
    }
  })

  it('gives the point of a clothoid of given parameter', () => {
    const row = referenceRows('fresnel', { idPrefix: 'clothoid-from-fresnel' })[0]
    if (!row) throw new Error('row is gone')
    // A^2 = R L and tau = L / 2R, so L = A sqrt(2 tau).
    const a = referenceInput(row, 'A')
    const lengthMm = a * Math.sqrt(2 * referenceInput(row, 'tau'))
    const pose = elementPoseAt({ lengthMm, k0: 0, k1: lengthMm / (a * a) }, origin, lengthMm)
    expectMeets(row, 'x', pose.x)
    expectMeets(row, 'y', pose.y)
  })

  it('sees all values of the table', () => {
    expect(rows.length).toBeGreaterThanOrEqual(20)
  })
})

describe('easement values', () => {
  const rows = [...referenceRows('spiral', { idPrefix: 'clothoid-' }), ...referenceRows('spiral', { idPrefix: 'talbot-' })]

  it.each(rows.map((row) => [row.id, row] as const))('%s', (_, row) => {
    const lengthMm = referenceInput(row, 'length')
    // Talbot: the arc definition of degree of curve, 100 ft of arc to a degree.
    const radiusMm = 'degree' in row.inputs ? (100 * 304.8) / referenceInput(row, 'degree') : referenceInput(row, 'radius')
    const path = pathFromElements(origin, [{ lengthMm, k0: 0, k1: 1 / radiusMm }])
    const { end } = path
    const centre = pathOffsetPoint(path, lengthMm, radiusMm)
    const found: Readonly<Record<string, number>> = {
      theta: end.headingRad,
      spiral_angle: end.headingRad,
      X: end.x,
      Y: end.y,
      shift_p: centre.y - radiusMm,
      tangent_k: centre.x,
      long_tangent: end.x - end.y / Math.tan(end.headingRad),
      short_tangent: end.y / Math.sin(end.headingRad),
      chord: Math.hypot(end.x, end.y),
      deflection: Math.atan2(end.y, end.x),
    }
    for (const { name } of row.expected) {
      expect(found, `${row.id} has no ${name} here`).toHaveProperty(name)
      expectMeets(row, name, found[name] ?? Number.NaN)
    }
  })
})

describe('published points along transitions (buildingSMART rail test data)', () => {
  const rows = [
    ...referenceRows('ifc-alignment', { idPrefix: 'seg-Clothoid' }),
    ...referenceRows('ifc-alignment', { idPrefix: 'seg-CircularArc' }),
  ]

  function elementOf(row: ReferenceRow): CurveElement {
    const { start_radius: from, end_radius: to, radius } = row.inputs
    return { lengthMm: referenceInput(row, 'length'), k0: curvatureOf(from ?? radius), k1: curvatureOf(to ?? radius) }
  }

  it.each(rows.map((row) => [row.id, row] as const))('%s', (_, row) => {
    const element = elementOf(row)
    let points = 0
    for (const { name } of row.expected) {
      const [axis, station] = name.split('_')
      if (axis !== 'x' && axis !== 'y') continue
      expectMeets(row, name, elementPoseAt(element, origin, 1000 * Number(station))[axis])
      points++
    }
    expect(points).toBeGreaterThanOrEqual(4)
    if (row.expected.some(({ name }) => name === 'end_heading')) {
      expectMeets(row, 'end_heading', elementPoseAt(element, origin, element.lengthMm).headingRad)
    }
  })
})

describe('a road connection whose spiral starts almost straight (sample in the OpenDRIVE format)', () => {
  it.each(referenceRows('ifc-alignment', { idPrefix: 'opendrive' }).map((row) => [row.id, row] as const))('%s', (_, row) => {
    const lengthMm = referenceInput(row, 'length')
    const element: CurveElement = {
      lengthMm,
      k0: referenceInput(row, 'curvStart') / 1000,
      k1: referenceInput(row, 'curvEnd') / 1000,
    }
    const start: Pose = { x: 1000 * referenceInput(row, 'x'), y: 1000 * referenceInput(row, 'y'), headingRad: referenceInput(row, 'hdg') }
    const end = elementPoseAt(element, start, lengthMm)
    expectMeets(row, 'x_end', end.x)
    expectMeets(row, 'y_end', end.y)
    expectMeets(row, 'hdg_end', end.headingRad)
  })
})

describe('real alignments, segment by segment and as chains (buildingSMART rail test data)', () => {
  function segmentOf(row: ReferenceRow): { readonly start: Pose; readonly element: CurveElement } {
    const start = row.inputs.start as readonly [number, number]
    return {
      start: { x: 1000 * start[0], y: 1000 * start[1], headingRad: referenceInput(row, 'start_heading') },
      element: {
        lengthMm: referenceInput(row, 'length'),
        k0: curvatureOf(row.inputs.start_radius),
        k1: curvatureOf(row.inputs.end_radius),
      },
    }
  }

  const all = [...referenceRows('ifc-alignment', { idPrefix: 'awc1-' }), ...referenceRows('ifc-alignment', { idPrefix: 'awc4-' })]
  const segments = all.filter((row) => row.quantity.startsWith('end point and heading'))
  const chains = all.filter((row) => row.id.endsWith('-chain'))

  it('has both chains and all their segments', () => {
    expect(chains.map(({ id }) => id)).toEqual(['awc1-chain', 'awc4-chain'])
    expect(segments.length).toBe(33)
  })

  it.each(segments.map((row) => [row.id, row] as const))('%s', (_, row) => {
    const { start, element } = segmentOf(row)
    const end = elementPoseAt(element, start, element.lengthMm)
    expectMeets(row, 'end_x', end.x)
    expectMeets(row, 'end_y', end.y)
    expectMeets(row, 'end_heading', end.headingRad)
  })

  it.each(chains.map((row) => [row.id, row] as const))('%s', (_, row) => {
    const ids = row.inputs.segments as readonly string[]
    const parts = ids.map((id) => {
      const found = segments.find((segment) => segment.id === id)
      if (!found) throw new Error(`${row.id} names ${id}, which is not there`)
      return segmentOf(found)
    })
    const first = parts[0]
    if (!first) throw new Error(`${row.id} is empty`)
    const path = pathFromElements(
      first.start,
      parts.map(({ element }) => element),
    )
    expectMeets(row, 'end_x', path.end.x)
    expectMeets(row, 'end_y', path.end.y)
    expectMeets(row, 'total_length', path.lengthMm)
  })
})
