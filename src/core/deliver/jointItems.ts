import { boxContains, poseToPlan } from '../geom/index.ts'
import type { Derived } from '../pipeline/types.ts'
import { keptFor } from '../plan/index.ts'
import { linePoseAt, railsCreateDeriver } from '../rails/index.ts'
import { freeSpacePlace, freeSpaceTakeLine, type FreeSpace, type Place } from './freeSpace.ts'
import { planLine, type PlanItem } from './planItem.ts'
import type { SheetOptions } from './types.ts'
import { pieceWords } from './words.ts'

/** Air between the foot of the rail and the ticks of a joint, and how long they are, mm. */
const AIR_MM = 0.4
const TICK_MM = 2.2

/** Sheets know only the plan, so they cut its rails themselves, once for each. */
const railsKept = keptFor((derived: Derived) => railsCreateDeriver()(derived))

/**
 * Joints of the rails as they are cut from sticks: a tick on either side of the rail, not across it as at a gap; with the
 * gap of a slip joint, and soldered ones named.
 */
export function jointItems(derived: Derived, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const { joints, lines, runs, sections } = railsKept(derived)
  const lineOf = new Map(lines.map((line) => [line.run, line]))
  const codeOf = new Map(runs.map((run) => [run.id, run.code]))
  const ticks: PlanItem[] = []
  const texts: PlanItem[] = []
  for (const { run, atMm, kind, gapMm } of joints) {
    const line = lineOf.get(run)
    const size = sections.find(({ code }) => code === codeOf.get(run))
    if (!line || !size) continue
    const pose = linePoseAt(line, atMm)
    if (!boxContains(space.within, pose)) continue
    const rim = (size.footMm - size.headMm) / 2 + AIR_MM
    const outside = size.headMm + rim
    const tick = (from: number, to: number): void => {
      const [a, b] = [from, to].map((across) => poseToPlan(pose, { x: 0, y: line.headSide * across }))
      if (!a || !b) return
      freeSpaceTakeLine(space, a, b)
      ticks.push(planLine('joints', 'joint', a, b))
    }
    tick(-rim - TICK_MM, -rim)
    tick(outside, outside + TICK_MM)
    const places = ([1, -1] as const).flatMap((ahead): readonly Place[] =>
      [outside + TICK_MM / 2, -rim - TICK_MM / 2].map((across) => ({
        middle: poseToPlan(pose, { x: ahead, y: line.headSide * across }),
        angleRad: pose.headingRad,
        anchor: ahead > 0 ? 'start' : 'end',
      })),
    )
    const words = kind === 'solder' ? 'soldered' : `slip ${pieceWords(gapMm, units)}`
    const text = freeSpacePlace(
      space,
      { kind: 'text', layer: 'joints', text: words, sizeMm: 2, weight: 'regular', grey: 0.2 },
      places,
      'leave-out',
    )
    if (text) texts.push(text)
  }
  return [...ticks, ...texts]
}
