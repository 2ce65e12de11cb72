import { pointAdd, pointPolar, pointSubtract } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { angleParse, lengthParse } from '../../core/units/index.ts'
import type { Prefs } from '../../store/types.ts'
import type { EntryRefusal } from '../types.ts'

/** A comma that ends a measure: space behind it, or a unit before it. */
const listComma = /,(?=\s)|(?<=[^\d\s]),/

export type EntryPoint = { readonly ok: true; readonly point: Point } | { readonly ok: false; readonly refusal: EntryRefusal }

/** What a typed place is measured from: the last point and where the pointer shows; null where there is none. */
export interface EntryFrame {
  readonly from: Point | null
  readonly towards: Point | null
  readonly units: Prefs['units']
}

/**
 * A point from what was typed:
 * "24in" that far from the last point, in the direction the pointer shows; "24in<90" at an angle, anticlockwise from
 * the right, also "24in, 90"; "<90" at that angle as far as the pointer; "12in; 8in" right and up from the corner of the plan;
 * "@12in; 8in" right and up from the last point. A comma within a number stays a decimal comma.
 */
export function entryPoint(text: string, frame: EntryFrame): EntryPoint {
  const bare = frame.units === 'imperial' ? 'in' : 'mm'
  const typed = text.trim()
  if (typed.includes(';')) return entryXY(typed, frame, bare)
  if (frame.from === null) return refuse({ kind: 'nothingToMeasureFrom' })
  const [lengthText = '', angleText] = splitOnce(typed.includes('<') ? typed : typed.replace(listComma, '<'), '<')
  const shown = frame.towards === null ? null : pointSubtract(frame.towards, frame.from)
  const shownLength = shown === null ? 0 : Math.hypot(shown.x, shown.y)

  let lengthMm = shownLength
  if (lengthText.trim() !== '' || angleText === undefined) {
    const length = lengthParse(lengthText, { bare })
    if (!length.ok) return refuse({ kind: 'length', problem: length.problem })
    if (!(length.mm > 0)) return refuse({ kind: 'notPositive', text: lengthText.trim() })
    lengthMm = length.mm
  }
  if (angleText !== undefined) {
    const angle = angleParse(angleText)
    if (!angle.ok) return refuse({ kind: 'angle', problem: angle.problem })
    if (lengthMm <= 0) return refuse({ kind: 'noDirection' })
    return { ok: true, point: pointAdd(frame.from, polarExact(angle.rad, lengthMm)) }
  }
  if (shown === null || shownLength === 0) return refuse({ kind: 'noDirection' })
  const k = lengthMm / shownLength
  return { ok: true, point: { x: frame.from.x + shown.x * k, y: frame.from.y + shown.y * k } }
}

function entryXY(typed: string, frame: EntryFrame, bare: 'in' | 'mm'): EntryPoint {
  const isRelative = typed.startsWith('@')
  const [xText = '', yText = ''] = splitOnce(isRelative ? typed.slice(1) : typed, ';')
  const x = lengthParse(xText, { bare })
  if (!x.ok) return refuse({ kind: 'length', problem: x.problem })
  const y = lengthParse(yText, { bare })
  if (!y.ok) return refuse({ kind: 'length', problem: y.problem })
  if (!isRelative) return { ok: true, point: { x: x.mm, y: y.mm } }
  if (frame.from === null) return refuse({ kind: 'nothingToMeasureFrom' })
  return { ok: true, point: pointAdd(frame.from, { x: x.mm, y: y.mm }) }
}

/** Quarter turns are exact: a typed square closes on itself to the last digit. */
function polarExact(rad: number, lengthMm: number): Point {
  const quarters = rad / (Math.PI / 2)
  if (Math.abs(quarters - Math.round(quarters)) > 1e-12) return pointPolar(rad, lengthMm)
  const turn = ((Math.round(quarters) % 4) + 4) % 4
  const steps: readonly Point[] = [
    { x: lengthMm, y: 0 },
    { x: 0, y: lengthMm },
    { x: -lengthMm, y: 0 },
    { x: 0, y: -lengthMm },
  ]
  return steps[turn] ?? pointPolar(rad, lengthMm)
}

function splitOnce(text: string, at: string): readonly string[] {
  const index = text.indexOf(at)
  return index < 0 ? [text] : [text.slice(0, index), text.slice(index + 1)]
}

function refuse(refusal: EntryRefusal): EntryPoint {
  return { ok: false, refusal }
}
