import type { ChainElement } from '../../core/alignment/index.ts'
import type { Point } from '../../core/geom/index.ts'
import { lineFileRead, lineFileRefusal, NotThatFile } from './notThatFile.ts'
import type { LineFileResult } from './types.ts'

type Value = string | number | null | readonly Value[]
interface Row {
  readonly kind: string
  readonly values: readonly Value[]
}

const prefixes: Readonly<Record<string, number>> = { '.MILLI.': 1, '.CENTI.': 10, '.DECI.': 100, '.KILO.': 1e6 }

/**
 * The horizontal alignments of an IFC 4.3 file, mm.
 *
 * Domain:     LINE, CIRCULARARC and CLOTHOID segments; lengths in a unit of SI; angles in radians or degrees.
 * Outcome:    lines by their IfcAlignment's name, segments in the order of nesting; segments of no length are left out. Or the first problem.
 * Throws:     never.
 * Source:     [IFC-4.3], [ISO-10303-21].
 */
export function ifcRead(text: string): LineFileResult {
  return lineFileRead(() => {
    if (!/^\s*ISO-10303-21;/.test(text)) return lineFileRefusal({ kind: 'foreign', expected: 'IFC' })
    const rows = stepRows(text)
    const mm = lengthUnitMm(rows)
    const rad = angleUnitRad(rows)
    const nested = nests(rows)
    const lines = [...rows].flatMap(([id, { kind, values }]) => {
      if (kind !== 'IFCALIGNMENT') return []
      const name = typeof values[2] === 'string' ? unquoted(values[2]) : ''
      const layouts = (nested.get(id) ?? []).filter((child) => rows.get(child)?.kind === 'IFCALIGNMENTHORIZONTAL')
      const segments = layouts.flatMap((layout) => nested.get(layout) ?? [])
      const elements = segments.flatMap((segment, i) => elementOf(rows, segment, name, i + 1, mm, rad))
      return elements.length === 0 ? [] : [{ name, elements }]
    })
    return lines.length === 0 ? lineFileRefusal({ kind: 'noLines' }) : { ok: true, lines }
  })
}

function elementOf(
  rows: ReadonlyMap<string, Row>,
  segment: string,
  line: string,
  element: number,
  mm: number,
  rad: number,
): readonly ChainElement[] {
  const parameters = rows.get(String(rows.get(segment)?.values[7]))
  const bad = (what: string): never => {
    throw new NotThatFile({ kind: 'badElement', line, element, what })
  }
  if (parameters?.kind !== 'IFCALIGNMENTHORIZONTALSEGMENT') return bad('DesignParameters')
  const number = (at: number, what: string): number => {
    const value = parameters.values[at]
    return typeof value === 'number' && Number.isFinite(value) ? value : bad(what)
  }
  const lengthMm = number(6, 'SegmentLength') * mm
  if (lengthMm === 0) return []
  const type = String(parameters.values[8])
  if (!['.LINE.', '.CIRCULARARC.', '.CLOTHOID.'].includes(type))
    throw new NotThatFile({ kind: 'otherSpiral', line, element, type: type.replaceAll('.', '') })
  const curvature = (at: number, what: string): number => {
    const radius = number(at, what)
    return radius === 0 ? 0 : 1 / (radius * mm)
  }
  const [k0, k1] = [curvature(4, 'StartRadiusOfCurvature'), curvature(5, 'EndRadiusOfCurvature')]
  const start = pointOf(rows.get(String(parameters.values[2]))) ?? bad('StartPoint')
  const headingRad = number(3, 'StartDirection') * rad
  return [{ lengthMm, k0, k1, start: { x: start.x * mm, y: start.y * mm, headingRad } }]
}

function pointOf(row: Row | undefined): Point | null {
  const [x, y] = row?.kind === 'IFCCARTESIANPOINT' && Array.isArray(row.values[0]) ? (row.values[0] as readonly Value[]) : []
  return typeof x === 'number' && typeof y === 'number' ? { x, y } : null
}

/** Children by the row that they are nested in, in order. */
function nests(rows: ReadonlyMap<string, Row>): ReadonlyMap<string, readonly string[]> {
  const nested = new Map<string, string[]>()
  for (const { kind, values } of rows.values()) {
    if (kind !== 'IFCRELNESTS' || !Array.isArray(values[5])) continue
    const parent = String(values[4])
    nested.set(parent, [...(nested.get(parent) ?? []), ...(values[5] as readonly Value[]).map(String)])
  }
  return nested
}

function lengthUnitMm(rows: ReadonlyMap<string, Row>): number {
  for (const { kind, values } of rows.values()) {
    if (kind === 'IFCSIUNIT' && values[1] === '.LENGTHUNIT.') return values[2] === null ? 1000 : (prefixes[String(values[2])] ?? 1000)
  }
  throw new NotThatFile({ kind: 'unit', says: null })
}

/** Degrees are written as a unit derived from the radian, by a factor. */
function angleUnitRad(rows: ReadonlyMap<string, Row>): number {
  for (const { kind, values } of rows.values()) {
    if (kind !== 'IFCCONVERSIONBASEDUNIT' || values[1] !== '.PLANEANGLEUNIT.') continue
    // A measure with its kind: IFCPLANEANGLEMEASURE(0.0174532925).
    const [, measure] = rows.get(String(values[3]))?.values ?? []
    if (Array.isArray(measure) && typeof measure[0] === 'number') return measure[0]
  }
  return 1
}

/** The rows of the DATA section by their number (#12). */
function stepRows(text: string): ReadonlyMap<string, Row> {
  const rows = new Map<string, Row>()
  const reader = stepReader(text)
  const begin = text.indexOf('DATA;')
  if (begin < 0) throw reader.fault(0, 'no DATA section')
  reader.at = begin + 'DATA;'.length
  for (;;) {
    reader.skip()
    if (text.startsWith('ENDSEC;', reader.at)) return rows
    const head = /#\d+\s*=\s*/y
    head.lastIndex = reader.at
    const id = head.exec(text)?.[0]
    if (id === undefined) throw reader.fault(reader.at, 'a row was expected')
    reader.at += id.length
    const name = /[A-Z_][A-Z0-9_]*/y
    name.lastIndex = reader.at
    const kind = name.exec(text)?.[0]
    // Rows of several kinds at once: units of other files, of no use here.
    if (kind === undefined) {
      reader.values()
    } else {
      reader.at += kind.length
      rows.set(id.replace(/\s*=\s*$/, ''), { kind, values: reader.values() })
    }
    reader.skip()
    if (text[reader.at] !== ';') throw reader.fault(reader.at, '; was expected')
    reader.at += 1
  }
}

interface StepReader {
  at: number
  skip(): void
  values(): readonly Value[]
  fault(at: number, says: string): NotThatFile
}

function stepReader(text: string): StepReader {
  const token = /'(?:[^']|'')*'|[^(),;\s]+/y
  const reader: StepReader = {
    at: 0,
    skip() {
      const blank = /(?:\s|\/\*[\s\S]*?\*\/)*/y
      blank.lastIndex = reader.at
      reader.at += blank.exec(text)?.[0].length ?? 0
    },
    values() {
      reader.skip()
      if (text[reader.at] !== '(') throw reader.fault(reader.at, '( was expected')
      reader.at += 1
      const values: Value[] = []
      for (;;) {
        reader.skip()
        const sign = text[reader.at]
        if (sign === undefined) throw reader.fault(reader.at, 'the file ends within a row')
        if (sign === ')') {
          reader.at += 1
          return values
        }
        if (sign === ',') reader.at += 1
        else if (sign === '(') values.push(reader.values())
        else {
          token.lastIndex = reader.at
          const found = token.exec(text)?.[0]
          if (found === undefined) throw reader.fault(reader.at, `${sign} was not expected`)
          reader.at += found.length
          values.push(valueOf(found))
        }
      }
    },
    fault(at, says) {
      const before = text.slice(0, at).split('\n')
      return new NotThatFile({ kind: 'damaged', line: before.length, column: (before.at(-1)?.length ?? 0) + 1, says })
    },
  }
  return reader
}

function valueOf(found: string): Value {
  if (found === '$' || found === '*') return null
  return /^[-+]?\d/.test(found) ? Number(found) : found
}

/** A STEP text back in plain signs. */
function unquoted(quoted: string): string {
  return quoted
    .replace(/^'|'$/g, '')
    .replaceAll("''", "'")
    .replace(/\\X4\\((?:[0-9A-F]{8})+)\\X0\\/g, (_all, codes: string) => signs(codes, 8))
    .replace(/\\X2\\((?:[0-9A-F]{4})+)\\X0\\/g, (_all, codes: string) => signs(codes, 4))
    .replaceAll('\\\\', '\\')
}

function signs(codes: string, width: number): string {
  return (codes.match(new RegExp(`.{${width}}`, 'g')) ?? []).map((code) => String.fromCodePoint(parseInt(code, 16))).join('')
}
