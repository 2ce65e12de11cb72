import fc from 'fast-check'
import { expect, it } from 'vitest'
import { turnoutSolve } from '../../../src/core/turnout/index.ts'
import type { TurnoutKind, TurnoutRequest } from '../../../src/core/turnout/index.ts'
import { ho6, hostOf, requestOfScale } from '../../support/turnouts.ts'

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })

const kind: fc.Arbitrary<TurnoutKind> = fc.oneof(
  fc.constant<TurnoutKind>({ kind: 'plain' }),
  fc.constant<TurnoutKind>({ kind: 'stub' }),
  fc.record({ kind: fc.constant('wye' as const), share: fc.oneof(number(0.05, 0.95), fc.constant(0.5)) }),
  fc.record({
    kind: fc.constant('three-way' as const),
    secondFrog: number(1, 22),
    secondAfterMm: fc.oneof(fc.constant(0), number(-10, 400)),
  }),
)

/** Lines of a few elements, from none to far sharper than any track, some with an end inside the turnout. */
const host = fc.oneof(
  fc.constant(null),
  fc
    .tuple(
      fc.array(fc.record({ lengthMm: number(1, 900), k0: number(-0.008, 0.008), k1: number(-0.008, 0.008) }), {
        minLength: 1,
        maxLength: 5,
      }),
      number(0, 1),
    )
    .map(([elements, share]) => hostOf(elements, share * elements.reduce((sum, { lengthMm }) => sum + lengthMm, 0))),
  fc.tuple(number(-0.004, 0.004), number(-0.004, 0.004)).map(([k0, k1]) => hostOf([{ lengthMm: 2500, k0, k1 }], 600)),
)

const base: fc.Arbitrary<TurnoutRequest> = fc.oneof(
  fc
    .record({ scale: fc.constantFrom('HO', 'N', 'S', 'O'), frog: number(3, 20), points: fc.constantFrom('straight', 'curved') })
    .map(({ scale, frog, points }) => requestOfScale(scale, frog, points === 'straight' ? 'straight' : 'curved')),
  fc
    .record({
      frog: number(2, 20),
      pointLengthMm: number(5, 100),
      toeLengthMm: number(5, 60),
      heelLengthMm: number(5, 80),
      heelSpreadMm: number(0.5, 6),
      entryAngleRad: fc.oneof(fc.constant(0), number(0, 0.1)),
    })
    .map((change): TurnoutRequest => ({ ...ho6, points: 'curved', ...change })),
)

function notFinite(value: unknown, at = ''): string[] {
  if (typeof value === 'number') return Number.isNaN(value) ? [at] : []
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([key, item]) => notFinite(item, `${at}.${key}`))
}

it('any kind on any host is built, or refused with a problem; it never throws, and no number is none', () => {
  let built = 0
  fc.assert(
    fc.property(base, kind, host, fc.constantFrom('left' as const, 'right' as const), (request, form, line, hand) => {
      const result = turnoutSolve({ ...request, kind: form, host: line, hand })
      expect(notFinite(result)).toEqual([])
      if (!result.ok) return
      built++
      for (const { radiusMm, leadMm } of result.turnout.divergences) {
        expect(radiusMm).toBeGreaterThan(request.gaugeMm / 2)
        expect(leadMm).toBeGreaterThan(0)
      }
    }),
    { seed: 20261125, numRuns: 1200 },
  )
  // About a third of them can be built; fewer would mean that the generator missed its aim.
  expect(built).toBeGreaterThan(250)
})
