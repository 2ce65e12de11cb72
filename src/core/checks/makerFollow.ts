import { pathStart } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import { makerCure, makerExpand } from '../makers/index.ts'
import type { Network } from '../network/types.ts'
import type { Maker, MakerNumbers, Plan } from '../plan/types.ts'
import { numbersCure } from './numbersCure.ts'
import type { Finding, Stage } from './types.ts'

/**
 * A maker that cannot follow any more what it stands on: its track has moved away, has become too short, or has bent where the turnouts
 * stand. What it made is as it was, and no longer where it belongs.
 *
 * Outcome:  one finding with the reason, at what it made; the numbers that would do as its cure where the reason names a value and everything
 *           comes out with it. Silent while a track it stands on is not solved: that track speaks.
 */
export function makerFollow(plan: Plan, network: Network, maker: Maker): readonly Finding[] {
  const result = makerExpand(plan, network, maker)
  if (result.ok || result.problem.kind === 'hostUnsolved') return []
  const { problem } = result
  const cured = makerCure(maker.numbers, problem)
  const isSafe = cured !== null && makerExpand(plan, network, { ...maker, numbers: cured }).ok
  return [
    {
      id: `maker-follow:${maker.id}`,
      rule: 'maker-follow',
      severity: 'error',
      stage: stageOf(maker.numbers),
      table: 'makers',
      record: maker.id,
      otherRecord: maker.numbers.track,
      corner: null,
      stationFromMm: null,
      stationToMm: null,
      ...placeOf(network, maker),
      measured: null,
      limit: null,
      unit: 'mm',
      source: 'geometry',
      problem: { kind: 'makerStays', problem },
      cure: isSafe ? numbersCure(maker, cured) : null,
    },
  ]
}

/** Where the builder made it. */
function stageOf({ kind }: MakerNumbers): Stage {
  switch (kind) {
    case 'crossover':
    case 'spur':
    case 'yard':
    case 'wye':
      return 'turnouts'
    case 'siding':
    case 'loop':
    case 'turnback':
    case 'helix':
      return 'line'
  }
}

/** Where its first turnout stands, or its first track begins; where neither has a place any more, at the track it stands on. */
function placeOf(network: Network, { made, numbers }: Maker): Point {
  for (const id of made.turnouts) {
    const result = network.turnouts.get(id)?.result
    if (result?.ok === true) return { x: result.pose.x, y: result.pose.y }
  }
  for (const id of [...made.tracks, numbers.track]) {
    const alignment = network.tracks.get(id)?.alignment
    if (alignment?.ok !== true) continue
    const { x, y } = pathStart(alignment.path)
    return { x, y }
  }
  return { x: 0, y: 0 }
}
