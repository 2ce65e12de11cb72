import fc from 'fast-check'
import { JSDOM } from 'jsdom'
import { SVGLoader } from 'three/addons/loaders/SVGLoader.js'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { boxOfPoints, ringArea } from '../../../src/core/geom/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { foreignRead } from '../../../src/formats/intake/read.ts'
import { svgRead } from '../../../src/formats/outline/svgRead.ts'
import type { DrawingResult } from '../../../src/formats/outline/types.ts'
import { lawRuns } from '../../support/geomArbitraries.ts'

const drawingOf = (result: DrawingResult) => {
  if (!result.ok) throw new Error(JSON.stringify(result.problem))
  return result
}
const svg = (size: string, content: string): string => `<svg xmlns="http://www.w3.org/2000/svg" ${size}>${content}</svg>`
const sizes = 'width="600mm" height="400mm" viewBox="0 0 600 400"'

const at = fc.integer({ min: -40, max: 240 })
const size = fc.integer({ min: 5, max: 120 })
const transform = fc.oneof(
  fc.tuple(at, at).map(([x, y]) => `translate(${x}, ${y})`),
  fc.tuple(fc.integer({ min: 1, max: 30 }), fc.integer({ min: 1, max: 30 })).map(([x, y]) => `scale(${x / 10} ${y / 10})`),
  fc.tuple(fc.integer({ min: -180, max: 180 }), at, at).map(([turn, x, y]) => `rotate(${turn} ${x} ${y})`),
  fc.integer({ min: -50, max: 50 }).map((angle) => `skewX(${angle})`),
  fc.integer({ min: -50, max: 50 }).map((angle) => `skewY(${angle})`),
  fc.constant('matrix(0.9 0.2 -0.3 1.1 5 7)'),
)
const transforms = fc.array(transform, { minLength: 1, maxLength: 3 }).map((all) => all.join(' '))
const shape = fc.oneof(
  fc.tuple(at, at, size, size).map(([x, y, w, h]) => `<rect x="${x}" y="${y}" width="${w}" height="${h}"`),
  fc.tuple(at, at, size).map(([x, y, r]) => `<circle cx="${x}" cy="${y}" r="${r}"`),
  fc.tuple(at, at, size, size).map(([x, y, a, b]) => `<ellipse cx="${x}" cy="${y}" rx="${a}" ry="${b}"`),
  fc.tuple(at, at, size, size).map(([x, y, a, b]) => `<polygon points="${x},${y} ${x + a},${y} ${x + a} ${y + b}"`),
  fc.tuple(at, at, size, size).map(([x, y, a, b]) => `<path d="M${x} ${y}l${a} 0c${b} 10-20 ${b} 0 ${a}H${x - b}V${y}z"`),
  fc
    .tuple(at, at, size, size)
    .map(([x, y, a, b]) => `<path d="M${x},${y}q${a},${b} ${a},0t${a},5a${a} ${b} 0 0 1 ${a}${-b}L${x} ${y - 200}Z"`),
)

// three's reader of SVG, by other hands.
describe('outlines of an SVG against another reader', () => {
  const before = globalThis.DOMParser
  beforeAll(() => {
    globalThis.DOMParser = new JSDOM().window.DOMParser
  })
  afterAll(() => {
    globalThis.DOMParser = before
  })

  it('enclose the same ground under any transforms', () => {
    fc.assert(
      fc.property(shape, transforms, transforms, (element, inner, outer) => {
        const text = svg(sizes, `<g id="SHELF" transform="${outer}">${element} transform="${inner}"/></g>`)
        const { outlines, unitMm } = drawingOf(svgRead(text))
        expect(unitMm).toBe(1)
        expect(outlines.map(({ layer, isClosed }) => [layer, isClosed])).toEqual([['SHELF', true]])
        const [path] = new SVGLoader().parse(text).paths
        const theirs = (path?.subPaths[0]?.getPoints(200) ?? []).map(({ x, y }): Point => ({ x, y: 400 - y }))
        const mine = outlines[0]?.points ?? []
        const [box, theirBox] = [boxOfPoints(mine), boxOfPoints(theirs)]
        if (box === null || theirBox === null) throw new Error('nothing was read')
        const reach = theirBox.maxX - theirBox.minX + theirBox.maxY - theirBox.minY
        for (const key of ['minX', 'minY', 'maxX', 'maxY'] as const) expect(Math.abs(box[key] - theirBox[key])).toBeLessThan(1e-3 * reach)
        expect(Math.abs(ringArea(mine) - ringArea(theirs))).toBeLessThan(1e-3 * reach * reach)
      }),
      { ...lawRuns, numRuns: 150 },
    )
  })
})

// The other reader bends some arcs the wrong way under a mirror, and turned ones under a stretch, so that is held against the drawing itself.
it('an SVG under a mirror is the mirror image of its outlines', () => {
  fc.assert(
    fc.property(shape, (element) => {
      const read = (transform: string): readonly Point[] =>
        drawingOf(svgRead(svg(sizes, `${element} transform="${transform}"/>`))).outlines.flatMap(({ points }) => points)
      const plain = read('scale(1)')
      expect(read('translate(7 0) scale(-1 1)')).toEqual(
        plain.map(({ x, y }) => ({ x: expect.closeTo(7 - x, 9), y: expect.closeTo(y, 9) })),
      )
    }),
    { ...lawRuns, numRuns: 60 },
  )
})

it('an arc of an ellipse that is turned is that arc, turned', () => {
  const points = (content: string): readonly Point[] => drawingOf(svgRead(svg(sizes, content))).outlines.flatMap(({ points: all }) => all)
  const [cos, sin] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)]
  const turned = points(`<path d="M0 0A50 20 30 1 0 ${20 * cos} ${20 * sin}Z"/>`)
  expect(turned.length).toBeGreaterThan(40)
  const plain = points('<path d="M0 0A50 20 0 1 0 20 0Z" transform="rotate(30)"/>')
  expect(turned).toEqual(plain.map(({ x, y }) => ({ x: expect.closeTo(x, 6), y: expect.closeTo(y, 6) })))
})

describe('an SVG', () => {
  const rect = '<rect width="24" height="12"/>'
  it.each([
    ['width="24in" height="12in" viewBox="0 0 24 12"', 25.4],
    ['width="24in" viewBox="0 0 1728 864"', 25.4 / 72],
    ['width="60cm" height="40cm" viewBox="0 0 300 200"', 2],
    // The picture keeps its shape: the smaller scale holds.
    ['width="60cm" height="40cm" viewBox="0 0 600 100"', 1],
    ['width="100mm" height="50mm"', 25.4 / 96],
    ['width="600" height="400" viewBox="0 0 600 400"', null],
    ['width="600px" height="400px"', null],
    ['width="100%" viewBox="0 0 600 400"', null],
    ['width="60cm" height="60cm" viewBox="0 0 600 100" preserveAspectRatio="none"', null],
    ['', null],
  ])('of %s has a user unit of %s mm', (page, unitMm) => {
    const stated = drawingOf(svgRead(svg(page, rect))).unitMm
    if (unitMm === null) expect(stated).toBeNull()
    else expect(stated).toBeCloseTo(unitMm, 12)
  })

  it('stands upright with the corner of its page at the origin', () => {
    const { outlines } = drawingOf(
      svgRead(svg('width="80mm" height="50mm" viewBox="-10 -20 80 50"', '<line x1="-10" y1="30" x2="0" y2="0"/>')),
    )
    expect(outlines).toEqual([
      {
        layer: 'drawing',
        isClosed: false,
        points: [
          { x: 0, y: 0 },
          { x: 10, y: 30 },
        ],
      },
    ])
  })

  it('goes on after a close from where that outline began, and ends a line where the next one begins', () => {
    const { outlines } = drawingOf(svgRead(svg(sizes, '<path d="M0 0h10v10zl-5-5m9 9l1 1"/>')))
    expect(outlines.map(({ points, isClosed }) => [points.length, isClosed, points[0]])).toEqual([
      [3, true, { x: 0, y: 400 }],
      [2, false, { x: 0, y: 400 }],
      [2, false, { x: 4, y: 396 }],
    ])
  })

  it('counts what it leaves out', () => {
    const content =
      `<defs>${rect}<text>a</text></defs>${rect}<use href="#a"/><text x="1">Bench</text><image/>` +
      `<g display="none">${rect}</g><g style="fill:red; display: none">${rect}</g><rect width="50%" height="2"/>`
    const { outlines, leftOut } = drawingOf(svgRead(svg(sizes, content)))
    expect(outlines).toHaveLength(1)
    expect([...leftOut]).toEqual([
      ['use', 1],
      ['text', 1],
      ['image', 1],
      ['hidden g', 2],
      ['rect', 1],
    ])
  })

  it.each([
    ['<svg><rect', 'line 1'],
    ['<html><svg/></html>', 'it begins with “html”'],
    [svg('', '<g transform="bend(3)"/>'), 'the transform “bend(3)” cannot be read'],
    [svg('', '<path d="M0 0 L 3 oops"/>'), 'the path cannot be read'],
    [svg('', '<path d="M0 0 L 1e308 0 Z" transform="scale(9)"/>'), 'too large'],
  ])('tells what is wrong with %s', (text, says) => {
    expect(svgRead(text)).toMatchObject({
      ok: false,
      problem: { kind: 'notDrawing', expected: 'SVG', says: expect.stringContaining(says) as string },
    })
  })

  it('tells one without outlines', () => {
    expect(svgRead(svg(sizes, '<text>none</text>'))).toEqual({ ok: false, problem: { kind: 'noOutlines', expected: 'SVG' } })
  })
})

describe('a list of corners', () => {
  const read = (text: string): DrawingResult => {
    const foreign = foreignRead(text, 'shelf.csv')
    if (foreign.kind !== 'outlines') throw new Error('taken for lines')
    return foreign.result
  }

  it('is one outline, in the unit that it says or none', () => {
    const corners = [
      { x: 0, y: 0 },
      { x: 4, y: 0 },
      { x: 4, y: 3 },
    ]
    expect(read('x,y,name\n0,0,a\n4,0,b\n4,3,c')).toEqual({
      ok: true,
      unitMm: null,
      outlines: [{ layer: 'points', points: corners, isClosed: null }],
      leftOut: new Map(),
    })
    expect(read('x_mm,y_mm\n0,0\n4,0\n4,3')).toMatchObject({ unitMm: 1, outlines: [{ points: corners }] })
    expect(read('0mm,0mm\n4mm,0mm\n4mm,3mm')).toMatchObject({ unitMm: 1, outlines: [{ points: corners }] })
  })

  it('does not guess where some measures have a unit and others have none', () => {
    expect(read('0,0\n4in,0\n4,3')).toEqual({ ok: false, problem: { kind: 'mixedUnits' } })
    expect(read('here')).toEqual({ ok: false, problem: { kind: 'noOutlines', expected: 'points' } })
  })
})
