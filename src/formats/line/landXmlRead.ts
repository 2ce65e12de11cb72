import { SaxesParser } from 'saxes'
import { elementEnd, pointDistance } from '../../core/geom/index.ts'
import type { CurveElement, Point } from '../../core/geom/index.ts'
import type { ChainElement } from '../../core/alignment/index.ts'
import { lineFileRead, lineFileRefusal, NotThatFile } from './notThatFile.ts'
import type { LineFileResult, LineIn } from './types.ts'

/** mm in one of the linear units that LandXML knows. [LANDXML-1.2] metLinear, impLinear; the US survey foot is 1200/3937 m. */
const unitsMm: Readonly<Record<string, number>> = {
  millimeter: 1,
  centimeter: 10,
  meter: 1000,
  kilometer: 1e6,
  inch: 25.4,
  foot: 304.8,
  USSurveyFoot: 1_200_000 / 3937,
  mile: 1_609_344,
}

interface Shape {
  readonly name: string
  readonly attributes: Readonly<Record<string, string>>
  readonly points: { readonly [name: string]: Point | undefined }
}
interface Alignment {
  readonly name: string
  readonly shapes: Shape[]
}

const shapeNames = new Set(['Line', 'Curve', 'Spiral', 'IrregularLine', 'Chain'])
const pointNames = new Set(['Start', 'End', 'Center', 'PI'])

/**
 * The alignments of a LandXML file, mm.
 *
 * Domain:     Line, Curve of arcs, Spiral of clothoids, in any of the file's linear units.
 * Outcome:    lines in the order of the file, or the first problem. Headings follow from the points, since files differ in what their
 *             directions are counted from.
 * Throws:     never.
 * Source:     [LANDXML-1.2]; points are northing, easting.
 */
export function landXmlRead(text: string): LineFileResult {
  return lineFileRead(() => {
    const { alignments, unitMm } = parsed(text)
    if (alignments.length === 0) return lineFileRefusal({ kind: 'noLines' })
    if (unitMm === null) return lineFileRefusal({ kind: 'unit', says: null })
    return { ok: true, lines: alignments.map((alignment) => lineOf(alignment, unitMm)) }
  })
}

function parsed(text: string): { readonly alignments: readonly Alignment[]; readonly unitMm: number | null } {
  const parser = new SaxesParser({ xmlns: false })
  const alignments: Alignment[] = []
  let unitMm: number | null = null
  let shape: { name: string; attributes: Record<string, string>; points: Record<string, Point> } | null = null
  let point = ''
  let isIn = false
  let depth = 0
  parser.on('error', (error) => {
    throw new NotThatFile({ kind: 'damaged', line: parser.line, column: parser.column, says: error.message.replace(/^\d+:\d+: /, '') })
  })
  parser.on('opentag', ({ name: full, attributes }) => {
    const name = full.replace(/^.*:/, '')
    if (depth === 0 && name !== 'LandXML') throw new NotThatFile({ kind: 'foreign', expected: 'LandXML' })
    depth += 1
    if (name === 'Metric' || name === 'Imperial') {
      const says = attributes['linearUnit'] ?? null
      unitMm = says === null ? null : (unitsMm[says] ?? null)
      if (unitMm === null) throw new NotThatFile({ kind: 'unit', says })
    } else if (name === 'Alignment') alignments.push({ name: attributes['name'] ?? '', shapes: [] })
    else if (name === 'CoordGeom') isIn = alignments.length > 0
    else if (isIn && shape === null && shapeNames.has(name)) shape = { name, attributes, points: {} }
    else if (shape !== null && pointNames.has(name)) point = name
  })
  parser.on('text', (content) => {
    if (shape === null || point === '') return
    const [northing, easting] = content.trim().split(/\s+/).map(Number)
    if (northing !== undefined && easting !== undefined) shape.points[point] = { x: easting, y: northing }
  })
  parser.on('closetag', ({ name: full }) => {
    const name = full.replace(/^.*:/, '')
    depth -= 1
    if (pointNames.has(name)) point = ''
    else if (name === 'CoordGeom') isIn = false
    else if (shape !== null && name === shape.name) {
      alignments.at(-1)?.shapes.push(shape)
      shape = null
    }
  })
  parser.write(text).close()
  return { alignments: alignments.filter(({ shapes }) => shapes.length > 0), unitMm }
}

function lineOf({ name, shapes }: Alignment, unitMm: number): LineIn {
  const elements = shapes.flatMap((shape, i): readonly ChainElement[] => {
    const bad = (what: string): never => {
      throw new NotThatFile({ kind: 'badElement', line: name, element: i + 1, what })
    }
    const placed = (at: string): Point => {
      const p = shape.points[at]
      if (p === undefined || !Number.isFinite(p.x) || !Number.isFinite(p.y)) return bad(at)
      return { x: p.x * unitMm, y: p.y * unitMm }
    }
    const number = (key: string): number => {
      const text = shape.attributes[key]
      const value = text === 'INF' ? Infinity : Number(text ?? NaN)
      return Number.isNaN(value) ? bad(key) : value * unitMm
    }
    const [from, to] = [placed('Start'), placed('End')]
    const chordMm = pointDistance(from, to)
    const hand = shape.attributes['rot'] === 'cw' ? -1 : 1
    switch (shape.name) {
      case 'Line':
        return chordMm > 0 ? [laid({ lengthMm: chordMm, k0: 0, k1: 0 }, from, to)] : []
      case 'Curve': {
        const centre = placed('Center')
        const radiusMm = (pointDistance(centre, from) + pointDistance(centre, to)) / 2
        if (!(radiusMm > 0)) return bad('radius')
        const angle = ({ x, y }: Point): number => Math.atan2(y - centre.y, x - centre.x)
        const swept = hand * (angle(to) - angle(from))
        const lengthMm = radiusMm * (swept > 0 ? swept : swept + 2 * Math.PI)
        return [laid({ lengthMm, k0: hand / radiusMm, k1: hand / radiusMm }, from, to)]
      }
      case 'Spiral': {
        const type = shape.attributes['spiType'] ?? 'clothoid'
        if (type !== 'clothoid') throw new NotThatFile({ kind: 'otherSpiral', line: name, element: i + 1, type })
        const [r0, r1, lengthMm] = [number('radiusStart'), number('radiusEnd'), number('length')]
        if (r0 === 0) return bad('radiusStart')
        if (r1 === 0) return bad('radiusEnd')
        return [laid({ lengthMm, k0: hand / r0, k1: hand / r1 }, from, to)]
      }
      default:
        return bad(shape.name)
    }
  })
  return { name, elements }
}

/** An element from one point to another: its heading is that of the chord less what the element's own chord is turned by. */
function laid(element: CurveElement, from: Point, to: Point): ChainElement {
  const own = elementEnd(element, { x: 0, y: 0, headingRad: 0 })
  const headingRad = Math.atan2(to.y - from.y, to.x - from.x) - Math.atan2(own.y, own.x)
  return { ...element, start: { x: from.x, y: from.y, headingRad } }
}
