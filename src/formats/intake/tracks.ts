import { cornersOfChain } from '../../core/alignment/index.ts'
import type { ChainElement, ChainProblem } from '../../core/alignment/index.ts'
import type { PlanCommand } from '../../core/edit/index.ts'
import { boxOfPoints } from '../../core/geom/index.ts'
import type { Id } from '../../core/plan/index.ts'
import type { LineIn } from '../line/types.ts'

export interface TracksIntake {
  readonly commands: readonly PlanCommand[]
  /** Lines that no track can have, by their names. */
  readonly refused: readonly { readonly name: string; readonly problem: ChainProblem }[]
}

/** Farther out than this no basement reaches, mm. */
const FAR_MM = 1e5

/**
 * The commands that make tracks of lines from a file.
 *
 * Units:   by brings what the file states to the model: 1 where it is drawn as large as that.
 * Outcome: lines keep their places to each other. Where they lie farther from the origin than a room is wide, as lines with geographical
 *          coordinates do, all are moved so that the lower left corner of what they cover comes to the origin.
 */
export function linesTakeIn(lines: readonly LineIn[], lineClass: Id, by: number): TracksIntake {
  const onModel = lines.map(({ name, elements }) => ({ name, elements: elements.map((element) => elementScaled(element, by)) }))
  const box = boxOfPoints(onModel.flatMap(({ elements }) => elements.map(({ start }) => start)))
  const isFar = box !== null && Math.max(...[box.minX, box.minY, box.maxX, box.maxY].map(Math.abs)) > FAR_MM
  const move = isFar ? { x: box.minX, y: box.minY } : { x: 0, y: 0 }
  const commands: PlanCommand[] = []
  const refused: { readonly name: string; readonly problem: ChainProblem }[] = []
  for (const { name, elements } of onModel) {
    const moved = elements.map(({ start, ...element }) => ({ ...element, start: { ...start, x: start.x - move.x, y: start.y - move.y } }))
    const result = cornersOfChain(moved)
    if (result.ok) commands.push({ kind: 'track.add', record: { name, lineClass, ...result.track } })
    else refused.push({ name, problem: result.problem })
  }
  return { commands, refused }
}

function elementScaled({ lengthMm, k0, k1, start }: ChainElement, by: number): ChainElement {
  return { lengthMm: lengthMm * by, k0: k0 / by, k1: k1 / by, start: { ...start, x: start.x * by, y: start.y * by } }
}
