import { dxfRead } from '../dxf/read.ts'
import type { DxfResult } from '../dxf/read.ts'
import { ifcRead } from '../line/ifcRead.ts'
import { landXmlRead } from '../line/landXmlRead.ts'
import type { LineFileResult } from '../line/types.ts'

export type ForeignRead =
  | { readonly kind: 'lines'; readonly result: LineFileResult }
  | { readonly kind: 'outlines'; readonly result: DxfResult }

/** A file of another program by what it says that it is: lines of LandXML or IFC; all else is taken for a DXF. */
export function foreignRead(text: string): ForeignRead {
  if (text.trimStart().startsWith('ISO-10303-21')) return { kind: 'lines', result: ifcRead(text) }
  if (/<(?:\w+:)?LandXML/.test(text)) return { kind: 'lines', result: landXmlRead(text) }
  return { kind: 'outlines', result: dxfRead(text) }
}

/** Units that a drawing may be measured in when it does not say. */
export const drawingUnits = [
  { unit: 'in', words: 'inches', mm: 25.4 },
  { unit: 'ft', words: 'feet', mm: 304.8 },
  { unit: 'mm', words: 'millimetres', mm: 1 },
  { unit: 'cm', words: 'centimetres', mm: 10 },
  { unit: 'm', words: 'metres', mm: 1000 },
] as const
export type DrawingUnit = (typeof drawingUnits)[number]['unit']
