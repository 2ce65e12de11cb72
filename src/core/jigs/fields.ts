import type { FrogDefinition } from '../plan/types.ts'
import type { JigKind, JigRequest, JigValueName, JigValues, Printer } from './types.ts'

/**
 * How a value is read: shop a length in fractions of an inch, fine one in hundredths of a millimetre, mm in millimetres whatever the units:
 * printers know no others. */
export type JigMeasure = 'shop' | 'fine' | 'mm' | 'angle' | 'number' | 'frog'

/** A value that is typed. canBeNone: 0 means that there is no such thing. */
export interface JigField<N extends string = JigValueName> {
  readonly name: N
  readonly measure: JigMeasure
  readonly canBeNone: boolean
}

const field = <N extends string>(name: N, measure: JigMeasure, canBeNone = false): JigField<N> => ({ name, measure, canBeNone })

/** Values of each kind in the order in which they are asked for; the frog's definition is the railway's. */
export const jigFields: { readonly [K in JigKind]: readonly JigField<Exclude<keyof JigValues[K], 'definition'> & string>[] } = {
  tieSpacing: [
    field('tieLengthMm', 'fine'),
    field('tieWidthMm', 'fine'),
    field('tieThicknessMm', 'fine'),
    field('spacingMm', 'fine'),
    field('radiusMm', 'shop', true),
  ],
  curve: [
    field('gaugeMm', 'fine'),
    field('radiusMm', 'shop'),
    field('easementMm', 'shop', true),
    field('arcMm', 'shop'),
    field('runOutMm', 'shop', true),
    field('thicknessMm', 'fine'),
    field('footReachMm', 'fine', true),
    field('footHeightMm', 'fine', true),
  ],
  trackSpacing: [
    field('centresMm', 'shop'),
    field('gaugeMm', 'fine'),
    field('railHeadMm', 'fine'),
    field('railHeightMm', 'fine'),
    field('thicknessMm', 'fine'),
  ],
  filing: [field('frog', 'frog'), field('pointAngleRad', 'angle'), field('railFootMm', 'fine'), field('railHeightMm', 'fine')],
  roadbed: [field('widthMm', 'shop'), field('sheetMm', 'shop'), field('shoulderRun', 'number', true), field('lengthMm', 'shop')],
  riser: [field('heightMm', 'shop'), field('widthMm', 'shop'), field('thicknessMm', 'shop')],
  midOrdinate: [field('radiusMm', 'shop'), field('gaugeMm', 'fine'), field('chordMm', 'shop'), field('thicknessMm', 'fine')],
}

export const printerFields: readonly JigField<keyof Printer>[] = [
  field('bedXMm', 'mm'),
  field('bedYMm', 'mm'),
  field('bedZMm', 'mm'),
  field('slotAllowanceMm', 'mm', true),
  field('jointAllowanceMm', 'mm', true),
]

/** A jig's value by its name; NaN when the kind has no such value. */
export function jigValue({ values }: JigRequest, name: string): number {
  const value = Object.entries(values).find(([key]) => key === name)?.[1] as number | FrogDefinition | undefined
  return typeof value === 'number' ? value : NaN
}

/** The same jig with other numbers in place of some; names that the kind does not have change nothing. */
export function jigWith(request: JigRequest, change: ReadonlyMap<string, number>): JigRequest {
  const names: readonly JigField<string>[] = jigFields[request.kind]
  const values = Object.fromEntries(names.flatMap(({ name }) => (change.has(name) ? [[name, change.get(name)]] : [])))
  // Every name is one of the kind's own numbers.
  return { ...request, values: { ...request.values, ...values } } as JigRequest
}
