import { cornersOfChain } from '../../core/alignment/index.ts'
import type { ChainProblem } from '../../core/alignment/index.ts'
import type { PlanCommand } from '../../core/edit/index.ts'
import { boxOfPoints } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/index.ts'
import type { Id } from '../../core/plan/index.ts'
import type { LineIn } from '../line/types.ts'

export interface TracksIntake {
  readonly commands: readonly PlanCommand[]
  /** Lines that no track can have, by their names. */
  readonly refused: readonly { readonly name: string; readonly problem: ChainProblem }[]
}

/**
 * The commands that make tracks of lines from a file.
 *
 * Outcome: lines keep their places to each other. Where they lie farther from the origin than a room is wide, as lines with geographical
 *          coordinates do, all are moved so that the lower left corner of what they cover comes to `to`.
 */
export function linesTakeIn(lines: readonly LineIn[], lineClass: Id, to: Point = { x: 0, y: 0 }): TracksIntake {
  const box = boxOfPoints(lines.flatMap(({ elements }) => elements.map(({ start }) => start)))
  const isFar = box !== null && Math.max(...[box.minX, box.minY, box.maxX, box.maxY].map(Math.abs)) > FAR_MM
  const move = isFar ? { x: to.x - box.minX, y: to.y - box.minY } : { x: 0, y: 0 }
  const commands: PlanCommand[] = []
  const refused: { readonly name: string; readonly problem: ChainProblem }[] = []
  for (const { name, elements } of lines) {
    const moved = elements.map((element) => ({
      ...element,
      start: { ...element.start, x: element.start.x + move.x, y: element.start.y + move.y },
    }))
    const result = cornersOfChain(moved)
    if (result.ok) commands.push({ kind: 'track.add', record: { name, lineClass, ...result.track } })
    else refused.push({ name, problem: result.problem })
  }
  return { commands, refused }
}

/** Farther out than this no basement reaches, mm. */
const FAR_MM = 1e5
