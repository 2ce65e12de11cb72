import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { jigKinds, jigSolve, printerUsual } from '../../../src/core/jigs/index.ts'
import type { JigKind } from '../../../src/core/jigs/index.ts'
import { jigOf, jigRequest, meshBox, meshVolume, openEdges, solidsOfJig, wideBed } from '../../support/solids.ts'

const total = (numbers: readonly number[]): number => numbers.reduce((sum, value) => sum + value, 0)

describe('every jig', () => {
  it.each(jigKinds)('%s is closed, lies in the bed’s corner, and is as large as it says', async (kind) => {
    for (const bed of [{}, { bedXMm: 120, bedYMm: 130 }, wideBed]) {
      const jig = jigOf(kind, {}, { ...printerUsual, ...bed })
      const pieces = await solidsOfJig(jig)
      expect(pieces.map(({ number }) => number)).toEqual(jig.pieces.map(({ number }) => number))
      pieces.forEach(({ mesh, volumeMm3, sizeMm }, i) => {
        expect(openEdges(mesh)).toEqual([])
        expect(meshVolume(mesh)).toBeCloseTo(volumeMm3, 0)
        const { least, most } = meshBox(mesh)
        for (const value of least) expect(Math.abs(value)).toBeLessThan(1e-5)
        expect(most[0]).toBeCloseTo(jig.pieces[i]?.sizeXMm ?? NaN, 2)
        // A piece of a stick without its middle nose is less broad than the stick.
        const narrower = (jig.pieces[i]?.sizeYMm ?? NaN) - (most[1] ?? NaN)
        expect(narrower).toBeGreaterThan(-0.005)
        if (kind !== 'midOrdinate' || pieces.length === 1) expect(narrower).toBeLessThan(0.005)
        expect(most[2]).toBeCloseTo(jig.heightMm, 4)
        expect(sizeMm[2]).toBeCloseTo(jig.heightMm, 4)
        expect(most[0]).toBeLessThanOrEqual((bed.bedXMm ?? 220) + 0.005)
        expect(most[1]).toBeLessThanOrEqual((bed.bedYMm ?? 220) + 0.005)
      })
    }
  })

  it.each(jigKinds)('%s loses nothing where it is cut into pieces but the allowance round the tails', async (kind) => {
    const whole = total((await solidsOfJig(jigOf(kind, {}, { ...wideBed }))).map(({ volumeMm3 }) => volumeMm3))
    const bed = kind === 'filing' ? 150 : 90
    const cut = jigOf(kind, {}, { ...wideBed, bedXMm: bed, bedYMm: bed })
    const parted = total((await solidsOfJig(cut)).map(({ volumeMm3 }) => volumeMm3))
    if (kind !== 'trackSpacing') expect(cut.pieces.length).toBeGreaterThan(1)
    expect(Math.abs(parted / whole - 1)).toBeLessThan(2e-6)
    const loose = jigOf(kind, {}, { ...wideBed, bedXMm: bed, bedYMm: bed, jointAllowanceMm: 0.2 })
    const lost = whole - total((await solidsOfJig(loose)).map(({ volumeMm3 }) => volumeMm3))
    if (cut.pieces.length > 1) expect(lost).toBeGreaterThan(0.1)
  })

  it('is closed whatever the numbers are that it does not refuse', async () => {
    const number = (least: number, most: number) => fc.double({ min: least, max: most, noNaN: true })
    const requests = fc.oneof(
      fc
        .record({ spacingMm: number(3, 20), tieWidthMm: number(1, 6), radiusMm: fc.oneof(fc.constant(0), number(100, 1500)) })
        .map((values) => jigRequest('tieSpacing', values)),
      fc
        .record({
          radiusMm: number(80, 2000),
          easementMm: fc.oneof(fc.constant(0), number(1, 300)),
          arcMm: number(20, 400),
          runOutMm: number(0, 150),
        })
        .map((values) => jigRequest('curve', values)),
      fc.record({ centresMm: number(25, 400), railHeadMm: number(0.4, 3) }).map((values) => jigRequest('trackSpacing', values)),
      fc.record({ frog: number(3, 12), pointAngleRad: number(0.015, 0.1) }).map((values) => jigRequest('filing', values)),
      fc.record({ widthMm: number(5, 60), shoulderRun: number(0, 1.7) }).map((values) => jigRequest('roadbed', values)),
      fc.record({ heightMm: number(3, 400), widthMm: number(12, 60) }).map((values) => jigRequest('riser', values)),
      fc.record({ radiusMm: number(150, 3000), chordMm: number(40, 200) }).map((values) => jigRequest('midOrdinate', values)),
    )
    const printers = fc.record({
      bedXMm: number(80, 300),
      bedYMm: number(80, 300),
      bedZMm: fc.constant(200),
      slotAllowanceMm: number(0, 0.6),
      jointAllowanceMm: number(0, 0.4),
    })
    const made = new Set<JigKind>()
    await fc.assert(
      fc.asyncProperty(requests, printers, async (request, printer) => {
        const result = jigSolve(request, printer)
        if (!result.ok) return
        made.add(request.kind)
        for (const { mesh, sizeMm } of await solidsOfJig(result.jig)) {
          expect(openEdges(mesh)).toEqual([])
          expect(Math.max(sizeMm[0], sizeMm[1])).toBeLessThanOrEqual(Math.max(printer.bedXMm, printer.bedYMm) + 0.005)
        }
      }),
      { numRuns: 150, endOnFailure: true },
    )
    expect([...made].toSorted()).toEqual([...jigKinds].toSorted())
  })
})
