import type { DrawItem } from '../types.ts'
import { penPath } from './pen.ts'

/** Cells of tables that are for the pencil: a box to tick and a line to write on. Drawn, since the face of the sheets has no such letters. */
export const tickCell = '☐'
export const blankCell = '‗‗‗‗‗‗'

const boxMm = 2.9
const blankMm = 15

/** The items of pages with boxes and lines where such cells stand. */
export function tickBoxesDrawn(items: readonly DrawItem[]): readonly DrawItem[] {
  return items.flatMap((item): readonly DrawItem[] => {
    if (item.kind !== 'text') return [item]
    const { x, y } = item.at
    if (item.text === tickCell) {
      const low = y - 0.5
      return penPath(
        'tick',
        [
          { x, y: low },
          { x: x + boxMm, y: low },
          { x: x + boxMm, y: low + boxMm },
          { x, y: low + boxMm },
        ],
        { isClosed: true },
      )
    }
    if (item.text === blankCell) {
      return penPath('frame', [
        { x, y: y - 0.5 },
        { x: x + blankMm, y: y - 0.5 },
      ])
    }
    return [item]
  })
}
