import { strToU8, zipSync } from 'fflate'
import { markupText } from '../markup.ts'
import type { SolidPiece } from './types.ts'

const core = 'http://schemas.openxmlformats.org/package/2006'
const model = 'http://schemas.microsoft.com/3dmanufacturing'
/** Pieces lie so far apart. */
const apartMm = 5
/** The earliest day that a zip file can name, so that the same jig gives the same bytes. */
const zipDay = new Date(1980, 0, 1)

/**
 * Pieces as one 3MF file: a zip of three parts, of which the model declares millimetres and holds one object a piece, laid side by side.
 *
 * Exactness:  corners with all digits that single precision has. The same pieces give the same bytes.
 * Source:     [3MF-CORE]
 */
export function threeMfWrite(title: string, pieces: readonly SolidPiece[]): Uint8Array {
  const parts = {
    '[Content_Types].xml': [
      `<Types xmlns="${core}/content-types">`,
      '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>',
      '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>',
      '</Types>',
    ],
    '_rels/.rels': [
      `<Relationships xmlns="${core}/relationships">`,
      `<Relationship Target="/3D/3dmodel.model" Id="model" Type="${model}/2013/01/3dmodel"/>`,
      '</Relationships>',
    ],
    '3D/3dmodel.model': modelLines(title, pieces),
  }
  const files = Object.entries(parts).map(([name, lines]) => [
    name,
    strToU8(`<?xml version="1.0" encoding="UTF-8"?>\n${lines.join('\n')}\n`),
  ])
  return zipSync(Object.fromEntries(files), { mtime: zipDay, level: 9 })
}

function modelLines(title: string, pieces: readonly SolidPiece[]): readonly string[] {
  const items: string[] = []
  let y = 0
  for (const { number, sizeMm } of pieces) {
    items.push(`<item objectid="${number}" transform="1 0 0 0 1 0 0 0 1 0 ${digits(y)} 0"/>`)
    y += sizeMm[1] + apartMm
  }
  return [
    `<model unit="millimeter" xml:lang="en-US" xmlns="${model}/core/2015/02">`,
    `<metadata name="Title">${markupText(title)}</metadata>`,
    '<metadata name="Application">Waybench</metadata>',
    '<resources>',
    ...pieces.flatMap((piece) => objectLines(title, piece)),
    '</resources>',
    '<build>',
    ...items,
    '</build>',
    '</model>',
  ]
}

function objectLines(title: string, { number, mesh: { corners, triangles } }: SolidPiece): readonly string[] {
  const three = (values: Float32Array | Uint32Array, i: number): readonly string[] => [0, 1, 2].map((k) => digits(values[3 * i + k] ?? 0))
  const vertices = Array.from({ length: corners.length / 3 }, (_, i) => {
    const [x, y, z] = three(corners, i)
    return `<vertex x="${x}" y="${y}" z="${z}"/>`
  })
  const faces = Array.from({ length: triangles.length / 3 }, (_, i) => {
    const [a, b, c] = three(triangles, i)
    return `<triangle v1="${a}" v2="${b}" v3="${c}"/>`
  })
  return [
    `<object id="${number}" type="model" name="${markupText(`${title} ${number}`)}">`,
    '<mesh>',
    '<vertices>',
    ...vertices,
    '</vertices>',
    '<triangles>',
    ...faces,
    '</triangles>',
    '</mesh>',
    '</object>',
  ]
}

/** A number as XML schema has it, nine digits: all that single precision holds. */
const digits = (value: number): string => String(Number(value.toPrecision(9)))
