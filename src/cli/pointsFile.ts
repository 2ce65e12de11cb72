import type { Point } from '../core/geom/types.ts'
import { pointsRead, pointsTextMostBytes } from '../formats/pointsText.ts'
import { pointFaultText } from '../words/pointsText.ts'
import { BadInput } from './badInput.ts'
import { textFromFile } from './textFile.ts'

/** Measured points of a file; see pointsRead. Numbers without a unit are millimetres. Throws BadInput with the first line that is no point. */
export function pointsFromFile(path: string): readonly Point[] {
  const { points, faults } = pointsRead(textFromFile(path, pointsTextMostBytes, 'list of points'), 'mm')
  const [first] = faults
  if (first !== undefined) throw new BadInput(`${path}: ${pointFaultText(first)}`)
  return points.map(({ x, y }) => ({ x, y }))
}
