import type { TraceItem } from '../../core/deliver/index.ts'
import { dxfWrite } from '../dxf/write.ts'
import { traceSvg } from '../traceSvg.ts'
import type { SolidPiece } from './types.ts'

/** Pieces lie so far apart. */
const apartMm = 5

/** Outlines of flat pieces, one above the other, as closed chains; empty: they are not flat. */
export function flatItems(pieces: readonly SolidPiece[]): readonly TraceItem[] {
  const items: TraceItem[] = []
  let aside = 0
  for (const { outlines, sizeMm } of pieces) {
    for (const outline of outlines ?? []) {
      const points = outline.map(({ x, y }) => ({ x, y: y + aside }))
      items.push({ layer: 'cut', shape: { kind: 'polyline', points, isClosed: true } })
    }
    aside += sizeMm[1] + apartMm
  }
  return items
}

/** Flat pieces for knife or laser, at true size. */
export function flatWrite(kind: 'svg' | 'dxf', title: string, pieces: readonly SolidPiece[], unit: 'mm' | 'in'): string {
  const items = flatItems(pieces)
  return kind === 'svg' ? traceSvg(title, items) : dxfWrite(items, unit)
}
