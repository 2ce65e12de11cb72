import fc from 'fast-check'
import { pathFromElements, type CurveElement, type Path, type Pose } from '../../src/core/geom/index.ts'

const real = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true })

/** Curvature on the model: straight, gentle, down to 200 mm radius, and so slight that a careless formula divides by nothing. */
export const curvature: fc.Arbitrary<number> = fc.oneof(
  { weight: 2, arbitrary: fc.constant(0) },
  { weight: 6, arbitrary: real(-1 / 200, 1 / 200) },
  { weight: 1, arbitrary: real(-1e-12, 1e-12) },
)

export const lengthMm: fc.Arbitrary<number> = fc.oneof({ weight: 8, arbitrary: real(20, 1500) }, { weight: 1, arbitrary: real(1e-3, 1) })

/** Lines, arcs, easements either way, reverse easements, and ends that differ in the last digits only. */
export const element: fc.Arbitrary<CurveElement> = fc.oneof(
  { weight: 6, arbitrary: fc.record({ lengthMm, k0: curvature, k1: curvature }) },
  { weight: 2, arbitrary: fc.record({ lengthMm, k0: curvature }).map(({ lengthMm, k0 }) => ({ lengthMm, k0, k1: k0 })) },
  {
    weight: 1,
    arbitrary: fc
      .record({ lengthMm, k0: curvature, share: real(-1e-9, 1e-9) })
      .map(({ lengthMm, k0, share }) => ({ lengthMm, k0, k1: k0 * (1 + share) })),
  },
)

export const pose: fc.Arbitrary<Pose> = fc.record({ x: real(-5000, 5000), y: real(-5000, 5000), headingRad: real(-Math.PI, Math.PI) })

/** Paths as a plan has them: one to six elements, curvature free to jump as at a turnout. */
export const path: fc.Arbitrary<Path> = fc
  .record({ start: pose, elements: fc.array(element, { minLength: 1, maxLength: 6 }) })
  .map(({ start, elements }) => pathFromElements(start, elements))

/** A share of a length, with its ends. */
export const share: fc.Arbitrary<number> = fc.oneof({ weight: 8, arbitrary: real(0, 1) }, { weight: 1, arbitrary: fc.constantFrom(0, 1) })

/** A path and a station on it. */
export const placeOnPath: fc.Arbitrary<{ readonly path: Path; readonly stationMm: number }> = fc
  .record({ path, share })
  .map(({ path, share }) => ({ path, stationMm: share * path.lengthMm }))

/** Fixed, so that a failure comes again; the count keeps the room's tests within seconds. */
export const lawRuns = { seed: 20261125, numRuns: 300 } as const
