import { angleWrap } from '../../core/geom/index.ts'
import type { PathElement } from '../../core/geom/index.ts'
import type { LineOut } from './types.ts'

/**
 * Lines as IFC 4.3 alignments, in a STEP file: one IfcAlignment each with its horizontal layout, segment by segment.
 *
 * The layout states what the line is; the curve that a viewer draws is not written twice. Each layout ends with a segment of no length,
 * as the standard asks.
 *
 * Units:      millimetres and radians, and the file says so. Radii: left positive, 0 straight.
 * Source:     [IFC-4.3] IfcAlignmentHorizontalSegment (StartPoint, StartDirection, StartRadiusOfCurvature, EndRadiusOfCurvature, SegmentLength,
 *             PredefinedType), IfcRelNests, IfcRelAggregates; [ISO-10303-21] the file.
 */
export function ifcWrite(title: string, lines: readonly LineOut[]): string {
  const rows: string[] = []
  const add = (text: string): string => `#${rows.push(text)}`
  const root = (kind: string, key: string, rest: string): string => add(`${kind}('${guid(`${title}/${key}`)}',$,${rest})`)

  const lengthUnit = add('IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)')
  const angleUnit = add('IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.)')
  const units = add(`IFCUNITASSIGNMENT((${lengthUnit},${angleUnit}))`)
  const origin = add('IFCCARTESIANPOINT((0.,0.,0.))')
  const axes = add(`IFCAXIS2PLACEMENT3D(${origin},$,$)`)
  const context = add(`IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-6,${axes},$)`)
  const project = root('IFCPROJECT', 'project', `${text(title)},$,$,$,$,(${context}),${units}`)
  const placement = add(`IFCLOCALPLACEMENT($,${axes})`)
  const alignments = lines.map(({ name, path }, line) => {
    const key = `line ${line + 1}`
    const segments = path.elements.map((element, i) => segment(element, `${key} segment ${i + 1}`))
    const { x, y, headingRad } = path.end
    const endPoint = add(`IFCCARTESIANPOINT((${real(x)},${real(y)}))`)
    const end = add(`IFCALIGNMENTHORIZONTALSEGMENT($,$,${endPoint},${real(angleWrap(headingRad))},0.,0.,0.,$,.LINE.)`)
    segments.push(root('IFCALIGNMENTSEGMENT', `${key} end`, `$,$,$,${placement},$,${end}`))
    const horizontal = root('IFCALIGNMENTHORIZONTAL', `${key} horizontal`, `$,$,$,${placement},$`)
    root('IFCRELNESTS', `${key} segments`, `$,$,${horizontal},(${segments.join(',')})`)
    const alignment = root('IFCALIGNMENT', key, `${text(name)},$,$,${placement},$,$`)
    root('IFCRELNESTS', `${key} layouts`, `$,$,${alignment},(${horizontal})`)
    return alignment
  })
  if (alignments.length > 0) root('IFCRELAGGREGATES', 'alignments', `$,$,${project},(${alignments.join(',')})`)

  function segment(element: PathElement, key: string): string {
    const { start, lengthMm, k0, k1 } = element
    const point = add(`IFCCARTESIANPOINT((${real(start.x)},${real(start.y)}))`)
    const type = k0 === k1 ? (k0 === 0 ? 'LINE' : 'CIRCULARARC') : 'CLOTHOID'
    const radii = `${real(k0 === 0 ? 0 : 1 / k0)},${real(k1 === 0 ? 0 : 1 / k1)}`
    const numbers = `${real(angleWrap(start.headingRad))},${radii},${real(lengthMm)}`
    const parameters = add(`IFCALIGNMENTHORIZONTALSEGMENT($,$,${point},${numbers},$,.${type}.)`)
    return root('IFCALIGNMENTSEGMENT', key, `$,$,$,${placement},$,${parameters}`)
  }

  return [
    'ISO-10303-21;',
    'HEADER;',
    "FILE_DESCRIPTION(('ViewDefinition [Alignment-basedView]'),'2;1');",
    `FILE_NAME(${text(title)},'',(''),(''),'Waybench','Waybench','');`,
    "FILE_SCHEMA(('IFC4X3_ADD2'));",
    'ENDSEC;',
    'DATA;',
    ...rows.map((row, i) => `#${i + 1}=${row};`),
    'ENDSEC;',
    'END-ISO-10303-21;',
    '',
  ].join('\n')
}

/** A real number as STEP wants it: always with a point. */
function real(value: number): string {
  const shown = String(value)
  if (shown.includes('e')) return shown.replace('e', shown.includes('.') ? 'E' : '.E')
  return shown.includes('.') ? shown : `${shown}.`
}

/** A text in STEP: quotes doubled, what is not plain ASCII as code points. [ISO-10303-21] 6.4.3 */
function text(value: string): string {
  const shown = [...value].map((sign) => {
    const code = sign.codePointAt(0) ?? 0
    if (sign === "'") return "''"
    if (sign === '\\') return '\\\\'
    if (code >= 32 && code < 127) return sign
    return `\\X4\\${code.toString(16).toUpperCase().padStart(8, '0')}\\X0\\`
  })
  return `'${shown.join('')}'`
}

const digits = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$'

/**
 * The 22 signs of an IFC id, from a key: the same plan gives the same file. 128 bits as two signs' worth of 64; the first sign holds two bits.
 * Bits by FNV-1a over the key with a counter; an id need only differ from its neighbours'.
 */
function guid(key: string): string {
  const signs = Array.from({ length: 22 }, (_, i) => {
    let hash = 2166136261
    for (const sign of `${key} ${i}`) hash = Math.imul(hash ^ (sign.codePointAt(0) ?? 0), 16777619)
    hash ^= hash >>> 15
    return digits[(hash >>> 0) % (i === 0 ? 4 : 64)] ?? '0'
  })
  return signs.join('')
}
