import { elementEnd, pointAdd, pointLeft, pointPolar, pointScale, posesMeet } from '../../core/geom/index.ts'
import type { PathElement, Point } from '../../core/geom/index.ts'
import { markupText } from '../markup.ts'
import type { LineOut } from './types.ts'

/**
 * Lines as LandXML 1.2: one Alignment each, of Line, Curve and Spiral.
 *
 * Units:      millimetres, and the file says so. LandXML writes northing before easting: y, then x. Directions are left out; they follow
 *             from the points.
 * Exactness:  every number with all its digits, so that what is read back is the same.
 * Source:     [LANDXML-1.2] CoordGeom, Line, Curve (rot, radius, Start, Center, End), Spiral (length, radiusStart, radiusEnd, rot,
 *             spiType, Start, PI, End; INF is straight).
 */
export function landXmlWrite(title: string, lines: readonly LineOut[]): string {
  const alignments = lines.flatMap(({ name, path }) => [
    `    <Alignment name="${escaped(name)}" length="${path.lengthMm}" staStart="0">`,
    '      <CoordGeom>',
    ...path.elements.map((element) => `        ${elementText(element)}`),
    '      </CoordGeom>',
    '    </Alignment>',
  ])
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2" version="1.2" language="English" readOnly="false">',
    '  <Units>',
    '    <Metric areaUnit="squareMillimeter" linearUnit="millimeter" volumeUnit="cubicMeter" temperatureUnit="celsius" pressureUnit="milliBars" angularUnit="radians" directionUnit="radians"/>',
    '  </Units>',
    `  <Project name="${escaped(title)}"/>`,
    '  <Application name="Waybench"/>',
    `  <Alignments name="${escaped(title)}">`,
    ...alignments,
    '  </Alignments>',
    '</LandXML>',
    '',
  ].join('\n')
}

function elementText(element: PathElement): string {
  const { k0, k1, lengthMm, start } = element
  const end = elementEnd(element, start)
  const ends = { from: `<Start>${placeText(start)}</Start>`, to: `<End>${placeText(end)}</End>` }
  if (k0 === 0 && k1 === 0) return `<Line length="${lengthMm}">${ends.from}${ends.to}</Line>`
  const rot = k0 + k1 > 0 ? 'ccw' : 'cw'
  if (k0 === k1) {
    const centre = pointAdd(start, pointScale(pointLeft(pointPolar(start.headingRad, 1)), 1 / k0))
    const numbers = `rot="${rot}" crvType="arc" radius="${Math.abs(1 / k0)}" length="${lengthMm}"`
    return `<Curve ${numbers}>${ends.from}<Center>${placeText(centre)}</Center>${ends.to}</Curve>`
  }
  const radii = `radiusStart="${radiusText(k0)}" radiusEnd="${radiusText(k1)}"`
  // Of a clothoid that turns the same there and back, its middle.
  const at = posesMeet(start, end) ?? { x: (start.x + end.x) / 2, y: (start.y + end.y) / 2 }
  const meet = `<PI>${placeText(at)}</PI>`
  return `<Spiral length="${lengthMm}" ${radii} rot="${rot}" spiType="clothoid">${ends.from}${meet}${ends.to}</Spiral>`
}

const radiusText = (k: number): string => (k === 0 ? 'INF' : String(Math.abs(1 / k)))
const placeText = ({ x, y }: Point): string => `${y} ${x}`

/** Text within an attribute; characters that XML cannot hold at all are left out. */
function escaped(text: string): string {
  // oxlint-disable-next-line no-control-regex
  return markupText(text.replace(/[\u0000-\u001f\ufffe\uffff]/g, ' '))
}
