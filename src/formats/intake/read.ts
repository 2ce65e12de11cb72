import { dxfRead } from '../dxf/read.ts'
import { ifcRead } from '../line/ifcRead.ts'
import { landXmlRead } from '../line/landXmlRead.ts'
import type { LineFileResult } from '../line/types.ts'
import { pointsOutlineRead } from '../outline/pointsOutline.ts'
import { svgRead } from '../outline/svgRead.ts'
import type { DrawingResult } from '../outline/types.ts'
import type { PointFault } from '../pointsText.ts'

export type ForeignRead =
  | { readonly kind: 'lines'; readonly result: LineFileResult }
  /** faults: lines of a list that are no point. */
  | { readonly kind: 'outlines'; readonly result: DrawingResult; readonly faults: readonly PointFault[] }

/** A larger file than this is no drawing of a room, bytes. */
export const foreignMostBytes = 64 * 1024 * 1024

/**
 * A file of another program by what it says that it is: lines of LandXML or IFC, outlines of an SVG, a list of points by the ending of its name;
 * all else is taken for a DXF.
 */
export function foreignRead(text: string, name: string): ForeignRead {
  if (text.trimStart().startsWith('ISO-10303-21')) return { kind: 'lines', result: ifcRead(text) }
  if (/<(?:\w+:)?LandXML/.test(text)) return { kind: 'lines', result: landXmlRead(text) }
  if (/<(?:\w+:)?svg[\s>]/.test(text)) return { kind: 'outlines', result: svgRead(text), faults: [] }
  if (/\.(?:csv|tsv|txt)$/i.test(name)) return { kind: 'outlines', ...pointsOutlineRead(text) }
  return { kind: 'outlines', result: dxfRead(text), faults: [] }
}

/** Units that a drawing may be measured in when it does not say. */
export const drawingUnits = [
  { unit: 'in', words: 'inches', mm: 25.4 },
  { unit: 'ft', words: 'feet', mm: 304.8 },
  { unit: 'mm', words: 'millimetres', mm: 1 },
  { unit: 'cm', words: 'centimetres', mm: 10 },
  { unit: 'm', words: 'metres', mm: 1000 },
  { unit: 'px', words: 'pixels, 96 to the inch', mm: 25.4 / 96 },
] as const
export type DrawingUnit = (typeof drawingUnits)[number]['unit']
