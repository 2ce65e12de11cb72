import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { cornersOfChain, trackAlignment } from '../../../src/core/alignment/index.ts'
import { elementEnd, pathFromElements } from '../../../src/core/geom/index.ts'
import { planEmpty } from '../../../src/core/plan/index.ts'
import type { LineClass } from '../../../src/core/plan/index.ts'
import { ifcRead } from '../../../src/formats/line/ifcRead.ts'
import { ifcWrite } from '../../../src/formats/line/ifcWrite.ts'
import { landXmlRead } from '../../../src/formats/line/landXmlRead.ts'
import { landXmlWrite } from '../../../src/formats/line/landXmlWrite.ts'
import type { LineFileResult } from '../../../src/formats/line/types.ts'
import { chain } from '../../support/chains.ts'
import { lawRuns } from '../../support/geomArbitraries.ts'
import { aTrack } from '../../support/plans.ts'
import { referenceRows, type ReferenceRow } from '../../support/reference.ts'

const linesOf = (result: LineFileResult) => {
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return result.lines
}
const formats = [
  { name: 'LandXML', write: landXmlWrite, read: landXmlRead },
  { name: 'IFC', write: ifcWrite, read: ifcRead },
] as const

describe.each(formats)('a line as $name', ({ write, read }) => {
  it('comes back as it was', () => {
    fc.assert(
      fc.property(fc.array(chain, { minLength: 1, maxLength: 3 }), (paths) => {
        const lines = linesOf(
          read(
            write(
              'Quay',
              paths.map((path, i) => ({ name: `Track ${i}`, path })),
            ),
          ),
        )
        expect(lines.map(({ name }) => name)).toEqual(paths.map((_, i) => `Track ${i}`))
        for (const [i, { elements }] of lines.entries()) {
          const path = paths[i]
          expect(elements.length).toBe(path?.elements.length)
          for (const [k, element] of (path?.elements ?? []).entries()) {
            const back = elements[k]
            if (back === undefined) throw new Error('an element is gone')
            expect(Math.hypot(back.start.x - element.start.x, back.start.y - element.start.y)).toBeLessThan(1e-8)
            expect(back.lengthMm).toBeCloseTo(element.lengthMm, 5)
            expect(back.k0).toBeCloseTo(element.k0, 10)
            expect(back.k1).toBeCloseTo(element.k1, 10)
            // LandXML gives points and no directions: over a short line a rounding of the last digit turns a little.
            const ends = [elementEnd(back, back.start), elementEnd(element, element.start)] as const
            expect(Math.hypot(ends[0].x - ends[1].x, ends[0].y - ends[1].y)).toBeLessThan(1e-6)
          }
        }
      }),
      { ...lawRuns, numRuns: 60 },
    )
  })

  it('keeps a name with signs of its own', () => {
    const name = `Fenn's <quay> & "mole" \\ é 軌`
    const path = pathFromElements({ x: 1, y: 2, headingRad: 0.3 }, [{ lengthMm: 100, k0: 0, k1: 0 }])
    expect(linesOf(read(write(name, [{ name, path }])))[0]?.name).toBe(name)
  })

  it('tells a foreign, broken off or empty file', () => {
    const whole = write('Quay', [{ name: 'Main', path: pathFromElements({ x: 0, y: 0, headingRad: 0 }, [{ lengthMm: 9, k0: 0, k1: 0 }]) }])
    expect(read('<html></html>')).toMatchObject({ ok: false, problem: { kind: 'foreign' } })
    expect(read(write('Quay', []))).toMatchObject({ ok: false, problem: { kind: 'noLines' } })
    for (let at = 60; at < whole.length - 40; at += 37) {
      expect(read(whole.slice(0, at))).toMatchObject({
        ok: false,
        problem: { kind: expect.stringMatching(/^(?:damaged|noLines|unit)$/) as string },
      })
    }
  })
})

// buildingSMART Railway Room, IFC Rail unit-test reference data.
describe('the rail alignments of open data', () => {
  const segments = referenceRows('ifc-alignment', { idPrefix: 'awc1-' }).filter(({ id }) => id !== 'awc1-chain')
  const metre = (value: unknown): number => (value as { readonly value: number }).value
  const expected = (row: ReferenceRow, name: string): number => row.expected.find((one) => one.name === name)?.value ?? NaN

  it('are read as they stand, each segment ending where the print says, in metres and in millimetres', () => {
    // Written here by hand, not by our writer: a file of another hand, in metres.
    const rows = segments.flatMap(({ inputs }, i) => {
      const [x = NaN, y = NaN] = inputs['start'] as readonly number[]
      const numbers = [inputs['start_heading'], inputs['start_radius'], inputs['end_radius'], inputs['length']].map((value) => metre(value))
      const real = (value: number): string => (Number.isInteger(value) ? `${value}.` : String(value))
      return [
        `#${100 + i * 3}= IFCCARTESIANPOINT ((${real(x)}, ${real(y)}));`,
        `#${101 + i * 3}=IFCALIGNMENTHORIZONTALSEGMENT('a','b',#${100 + i * 3},${numbers.map(real).join(',')},$,.${String(inputs['type'])}.);`,
        `#${102 + i * 3}=IFCALIGNMENTSEGMENT('guid',$,$,$,$,$,$,#${101 + i * 3});`,
      ]
    })
    const text = [
      'ISO-10303-21;\nHEADER;\nENDSEC;\nDATA; /* a remark; with signs */',
      '#1=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);',
      "#2=IFCALIGNMENT('g',$,'AWC 1',$,$,$,$,$);\n#3=IFCALIGNMENTHORIZONTAL('g',$,$,$,$,$,$);",
      "#4=IFCRELNESTS('g',$,$,$,#2,(#3));",
      `#5=IFCRELNESTS('g',$,$,$,#3,(${segments.map((_, i) => `#${102 + i * 3}`).join(',')}));`,
      ...rows,
      'ENDSEC;\nEND-ISO-10303-21;',
    ].join('\n')
    const [line] = linesOf(ifcRead(text))
    expect(line?.elements.length).toBe(segments.length)
    for (const [i, row] of segments.entries()) {
      const element = line?.elements[i]
      if (element === undefined) throw new Error('a segment is gone')
      const end = elementEnd(element, element.start)
      // The print rounds to 0.01 mm, at coordinates of thousands of kilometres.
      expect(Math.hypot(end.x - expected(row, 'end_x'), end.y - expected(row, 'end_y'))).toBeLessThan(0.05)
    }
    // On the model, and about its own beginning: compound curves, clothoids between arcs, and curves that meet without a line.
    const [at] = line?.elements ?? []
    const moved = line?.elements.map((one) => ({
      ...one,
      start: { ...one.start, x: one.start.x - (at?.start.x ?? 0), y: one.start.y - (at?.start.y ?? 0) },
    }))
    const track = cornersOfChain(moved ?? [])
    if (!track.ok) throw new Error(JSON.stringify(track.problem))
    // One shallow arc, four curves with easements, one of three radii.
    expect(track.track.corners.length).toBe(6)
    const solved = trackAlignment(aTrack(track.track), planEmpty().lineClasses['main'] as LineClass, () => null)
    if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
    const [printed] = referenceRows('ifc-alignment', { idPrefix: 'awc1-chain' })
    expect(Math.abs(solved.path.lengthMm - expected(printed as ReferenceRow, 'total_length'))).toBeLessThan(0.5)
  })

  it('are read from LandXML with the places and directions that the print states', () => {
    // Written here by hand, in metres, northing before easting; the points are the print's, centres follow from them.
    const shapes = segments.map((row) => {
      const [x = NaN, y = NaN] = row.inputs['start'] as readonly number[]
      const heading = metre(row.inputs['start_heading'])
      const [r0, r1] = [metre(row.inputs['start_radius']), metre(row.inputs['end_radius'])]
      const point = (name: string, east: number, north: number): string => `<${name}>${north} ${east}</${name}>`
      // The print's ends are in millimetres.
      const ends = point('Start', x, y) + point('End', expected(row, 'end_x') / 1000, expected(row, 'end_y') / 1000)
      const rot = (r0 || r1) < 0 ? 'cw' : 'ccw'
      switch (row.inputs['type']) {
        case 'LINE':
          return `<Line>${ends}</Line>`
        case 'CIRCULARARC':
          return `<Curve rot="${rot}">${ends}${point('Center', x - r0 * Math.sin(heading), y + r0 * Math.cos(heading))}</Curve>`
        default: {
          const radius = (value: number): string => (value === 0 ? 'INF' : String(Math.abs(value)))
          const length = metre(row.inputs['length'])
          return `<Spiral rot="${rot}" spiType="clothoid" radiusStart="${radius(r0)}" radiusEnd="${radius(r1)}" length="${length}">${ends}</Spiral>`
        }
      }
    })
    const text = `<LandXML><Units><Metric linearUnit="meter"/></Units><Alignments><Alignment name="AWC 1"><CoordGeom>${shapes.join('')}</CoordGeom></Alignment></Alignments></LandXML>`
    const [line] = linesOf(landXmlRead(text))
    expect(line?.elements.length).toBe(segments.length)
    for (const [i, row] of segments.entries()) {
      const element = line?.elements[i]
      if (element === undefined) throw new Error('a segment is gone')
      const turned = element.start.headingRad - metre(row.inputs['start_heading'])
      // A hundredth of a millimetre over the shortest segment, and no more.
      expect(Math.abs(Math.atan2(Math.sin(turned), Math.cos(turned)))).toBeLessThan(1e-5)
      expect(element.lengthMm / 1000).toBeCloseTo(metre(row.inputs['length']), 3)
      const end = elementEnd(element, element.start)
      expect(Math.hypot(end.x - expected(row, 'end_x'), end.y - expected(row, 'end_y'))).toBeLessThan(0.2)
    }
  })
})

describe('LandXML of another hand', () => {
  const file = (unit: string, geometry: string): string =>
    `<?xml version="1.0"?><x:LandXML xmlns:x="http://www.landxml.org/schema/LandXML-1.2" version="1.2"><x:Units>${unit}</x:Units>` +
    `<x:Alignments><x:Alignment name="A" length="1" staStart="0"><x:CoordGeom>${geometry}</x:CoordGeom></x:Alignment></x:Alignments></x:LandXML>`
  const line = '<x:Line><x:Start>0 0 0.0</x:Start><x:End>0 2 0.0</x:End></x:Line>'

  it('is measured in its own unit', () => {
    const lengths = ['<x:Imperial linearUnit="foot"/>', '<x:Imperial linearUnit="USSurveyFoot"/>', '<x:Metric linearUnit="meter"/>'].map(
      (unit) => linesOf(landXmlRead(file(unit, line)))[0]?.elements[0]?.lengthMm,
    )
    expect(lengths[0]).toBeCloseTo(609.6, 9)
    // 1200/3937 m, the survey foot's definition.
    expect(lengths[1]).toBeCloseTo(2_400_000 / 3937, 9)
    expect(lengths[2]).toBeCloseTo(2000, 9)
    expect(landXmlRead(file('<x:Metric linearUnit="cubit"/>', line))).toMatchObject({ problem: { kind: 'unit', says: 'cubit' } })
    expect(landXmlRead(file('', line))).toMatchObject({ problem: { kind: 'unit', says: null } })
  })

  it('is told where an element lacks something or is of a kind that no track has', () => {
    const metres = '<x:Metric linearUnit="meter"/>'
    expect(landXmlRead(file(metres, '<x:Curve rot="cw" radius="2"><x:Start>0 0</x:Start><x:End>1 1</x:End></x:Curve>'))).toMatchObject({
      problem: { kind: 'badElement', line: 'A', element: 1, what: 'Center' },
    })
    const spiral =
      '<x:Spiral length="1" radiusStart="INF" radiusEnd="9" rot="cw" spiType="bloss"><x:Start>0 2</x:Start><x:End>0 3</x:End></x:Spiral>'
    expect(landXmlRead(file(metres, line + spiral))).toMatchObject({ problem: { kind: 'otherSpiral', element: 2, type: 'bloss' } })
  })
})
