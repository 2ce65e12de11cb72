import fc from 'fast-check'
import { pathFromElements } from '../../src/core/geom/index.ts'
import type { CurveElement, Path } from '../../src/core/geom/index.ts'
import { pose } from './geomArbitraries.ts'

const real = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true })

/** Up, along one or two arcs and down again, or only up and down; of either hand, up to a turn of about 300 degrees. */
const curve: fc.Arbitrary<readonly CurveElement[]> = fc
  .record({
    hand: fc.constantFrom(1, -1),
    radiusMm: real(300, 1200),
    turnRad: real(0.05, 5),
    easeInMm: fc.oneof(fc.constant(0), real(40, 300)),
    easeOutMm: fc.oneof(fc.constant(0), real(40, 300)),
    second: fc.option(fc.record({ wider: real(1.2, 2), turnRad: real(0.05, 0.5), easeMm: fc.oneof(fc.constant(0), real(40, 200)) })),
    isBare: fc.boolean(),
  })
  .map(({ hand, radiusMm, turnRad, easeInMm, easeOutMm, second, isBare }) => {
    const k = hand / radiusMm
    const up = { lengthMm: easeInMm, k0: 0, k1: k }
    if (isBare && easeInMm > 0 && easeOutMm > 0) return [up, { lengthMm: easeOutMm, k0: k, k1: 0 }]
    const k2 = second === null ? k : k / second.wider
    const arcs: CurveElement[] = [{ lengthMm: turnRad * radiusMm, k0: k, k1: k }]
    if (second !== null) {
      arcs.push({ lengthMm: second.easeMm, k0: k, k1: k2 }, { lengthMm: second.turnRad / Math.abs(k2), k0: k2, k1: k2 })
    }
    return [up, ...arcs, { lengthMm: easeOutMm, k0: k2, k1: 0 }].filter(({ lengthMm }) => lengthMm > 0)
  })

const line = (min: number): fc.Arbitrary<CurveElement> => real(min, 1500).map((lengthMm) => ({ lengthMm, k0: 0, k1: 0 }))
/** Lines as a track can have them: curves of either hand with lines or nothing to speak of between. */
export const chain: fc.Arbitrary<Path> = fc
  .record({
    start: pose,
    curves: fc.array(fc.record({ curve, before: fc.option(line(1)) }), { minLength: 1, maxLength: 4 }),
    last: fc.option(line(1)),
  })
  .map(({ start, curves, last }) => {
    // Without a line between them two curves of one hand would be one curve; a short one keeps them apart.
    const elements = curves.flatMap(({ curve: parts, before }) => [before ?? { lengthMm: 5, k0: 0, k1: 0 }, ...parts])
    return pathFromElements(start, [...elements, ...(last === null ? [] : [last])])
  })
