import type { ColumnKey, SetoutColumn } from './types.ts'

const length = (key: ColumnKey, words: string, isSided = false): SetoutColumn => ({ key, words, unit: 'mm', isSided })
const angle = (key: ColumnKey, words: string, isSided = false): SetoutColumn => ({ key, words, unit: 'rad', isSided })

/** Everything that is measured at the bench, once. */
export const columns = {
  along: length('along', 'Along'),
  offset: length('offset', 'Offset', true),
  deflection: angle('deflection', 'Deflection', true),
  chord: length('chord', 'Chord from the last point'),
  longChord: length('longChord', 'From the instrument'),
  centreX: length('centreX', 'Centre x'),
  centreY: length('centreY', 'Centre y'),
  radius: length('radius', 'Radius'),
  startAngle: angle('startAngle', 'Begins at'),
  endAngle: angle('endAngle', 'Ends at'),
  tieA: length('tieA', 'Tape A'),
  tieB: length('tieB', 'Tape B'),
  ordinate: length('ordinate', 'Mid-ordinate', true),
  outerRailOrdinate: length('outerRailOrdinate', 'At the outer rail', true),
  tangent: length('tangent', 'Tangent to the PI'),
  turn: angle('turn', 'Turns', true),
  pinsApart: length('pinsApart', 'A to B'),
  freeLength: length('freeLength', 'Free length'),
  shift: length('shift', 'Shift'),
} as const satisfies { readonly [K in ColumnKey]: SetoutColumn }
