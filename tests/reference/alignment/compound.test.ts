import { describe, expect, test } from 'vitest'
import { cornerPlacePoints, traverseSolve } from '../../../src/core/alignment/index.ts'
import type { ArcRequest } from '../../../src/core/alignment/types.ts'
import { angleBetween } from '../../../src/core/geom/index.ts'
import { referenceInput, referenceRows, referenceValue } from '../../support/reference.ts'

/*
 * A curve of a real railway with three radii, 467, 904 and 470 m, easements of 65, 39, 39 and 66 m, as the sample alignment
 * UT_AWC_1 of the buildingSMART Railway Room prints it, element by element. It is asked here as a corner: two arcs turn what
 * their printed lengths say, the third takes the rest.
 */
const rows = referenceRows('ifc-alignment', { idPrefix: 'awc1-1' }).filter(({ id }) => id <= 'awc1-16')

/** Printed start of an element, mm. */
const startOf = (row: (typeof rows)[number]): { readonly x: number; readonly y: number; readonly headingRad: number } => {
  const [x, y] = row.inputs['start'] as readonly [number, number]
  return { x: 1000 * x, y: 1000 * y, headingRad: referenceInput(row, 'start_heading') }
}

describe('a compound curve of a published alignment', () => {
  const [into, arc1, between1, arc2, between2, arc3, out, ...more] = rows
  if (!into || !arc1 || !between1 || !arc2 || !between2 || !arc3 || !out || more.length > 0) throw new Error('seven elements')
  const ts = startOf(into)
  const st = {
    x: referenceValue(out, 'end_x').value,
    y: referenceValue(out, 'end_y').value,
    headingRad: referenceValue(out, 'end_heading').value,
  }
  // Its unit, "m (0 = straight)", is none that converts by itself.
  const radiusOf = (row: typeof arc1): number => 1000 * referenceInput(row, 'start_radius')
  const fixed = (row: typeof arc1): ArcRequest => {
    const radiusMm = radiusOf(row)
    return { radiusMm, turn: { kind: 'angle', turnRad: referenceInput(row, 'length') / radiusMm } }
  }
  // The PI: where the printed tangents at both ends cross.
  const turn = angleBetween(ts.headingRad, st.headingRad)
  const alongMm = ((st.x - ts.x) * Math.sin(st.headingRad) - (st.y - ts.y) * Math.cos(st.headingRad)) / Math.sin(turn)
  const pi = { x: ts.x + alongMm * Math.cos(ts.headingRad), y: ts.y + alongMm * Math.sin(ts.headingRad) }
  const beyondMm = Math.hypot(st.x - pi.x, st.y - pi.y)
  const ahead = (from: { readonly x: number; readonly y: number }, headingRad: number, mm: number): { x: number; y: number } => ({
    x: from.x + mm * Math.cos(headingRad),
    y: from.y + mm * Math.sin(headingRad),
  })

  const alignment = traverseSolve({
    // A tangent of 10 m before and behind, for the printed ends are rounded to the hundredth of a millimetre.
    start: { kind: 'free', at: ahead(ts, ts.headingRad, -10_000) },
    corners: [
      {
        id: 'pi',
        ...pi,
        easementInMm: referenceInput(into, 'length'),
        radiusMm: {
          first: fixed(arc1),
          next: [
            { easementMm: referenceInput(between1, 'length'), ...fixed(arc2) },
            {
              easementMm: referenceInput(between2, 'length'),
              radiusMm: radiusOf(arc3),
              turn: { kind: 'share', share: 1 },
            },
          ],
        },
        easementOutMm: referenceInput(out, 'length'),
      },
    ],
    end: { kind: 'free', at: ahead(pi, st.headingRad, beyondMm + 10_000) },
  })
  if (!alignment.ok) throw new Error(JSON.stringify(alignment.problems))
  const [place] = alignment.corners
  if (place === undefined) throw new Error('a corner')
  const points = cornerPlacePoints(alignment.path, place)

  test('gives the third arc the length that is printed', () => {
    // Lengths are printed to 0.01 mm, and it takes what is left by six of them.
    expect(Math.abs((place.solution.arcs[2]?.lengthMm ?? NaN) - referenceInput(arc3, 'length'))).toBeLessThan(0.03)
  })

  test('has its tangents as long as the printed ends are from the PI', () => {
    // Points are printed to 0.01 mm; the row's own tolerance for an end point is 0.05.
    expect(Math.abs(place.solution.tangentInMm - alongMm)).toBeLessThan(0.05)
    expect(Math.abs(place.solution.tangentOutMm - beyondMm)).toBeLessThan(0.05)
  })

  test.each([
    ['TS', points.ts, startOf(into)],
    ['SC', points.sc, startOf(arc1)],
    ['end of arc 1', points.joins[0]?.from, startOf(between1)],
    ['start of arc 2', points.joins[0]?.to, startOf(arc2)],
    ['end of arc 2', points.joins[1]?.from, startOf(between2)],
    ['start of arc 3', points.joins[1]?.to, startOf(arc3)],
    ['CS', points.cs, startOf(out)],
    ['ST', points.st, st],
  ] as const)('%s lies where it is printed', (_, found, printed) => {
    if (found === undefined) throw new Error('three arcs')
    expect(Math.hypot(found.x - printed.x, found.y - printed.y)).toBeLessThan(0.05)
    expect(Math.abs(angleBetween(found.headingRad, printed.headingRad))).toBeLessThan(3e-7)
  })
})
