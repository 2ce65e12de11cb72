import { flatWrite } from './flat.ts'
import { stlWrite } from './stl.ts'
import { threeMfWrite } from './threeMf.ts'
import type { SolidPiece } from './types.ts'

export const jigFileKinds = ['3mf', 'stl', 'svg', 'dxf'] as const
export type JigFileKind = (typeof jigFileKinds)[number]

export interface JigFile {
  readonly name: string
  readonly bytes: Uint8Array
}

/** A jig as files: one for all pieces, but an STL holds a single piece. `name`: without ending. */
export function jigFiles(
  kind: JigFileKind,
  name: string,
  title: string,
  pieces: readonly SolidPiece[],
  unit: 'mm' | 'in',
): readonly JigFile[] {
  switch (kind) {
    case '3mf':
      return [{ name: `${name}.3mf`, bytes: threeMfWrite(title, pieces) }]
    case 'stl':
      return pieces.map(({ number, mesh }) => ({
        name: pieces.length === 1 ? `${name}.stl` : `${name}-${number}.stl`,
        bytes: stlWrite(pieces.length === 1 ? title : `${title} ${number}`, mesh),
      }))
    case 'svg':
    case 'dxf':
      return [{ name: `${name}.${kind}`, bytes: new TextEncoder().encode(flatWrite(kind, title, pieces, unit)) }]
  }
}
