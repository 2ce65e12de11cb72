import { pathNearest, pathPoseAt, poseToPlan } from '../../geom/index.ts'
import type { Point, Pose } from '../../geom/types.ts'
import { constructionOf, crossingConstructionOf, zoneCorners } from '../../turnout/index.ts'
import type { CrossingGeometry, TurnoutGeometry, TurnoutConstruction, WirePlace } from '../../turnout/index.ts'
import { chainOfCircle } from '../chain.ts'
import { freeSpacePlace, freeSpaceTakeArea, freeSpaceTakeLine, type FreeSpace } from '../freeSpace.ts'
import { planLine, type PlanItem } from '../planItem.ts'
import type { SheetOptions } from '../types.ts'
import { lengthWords } from '../words.ts'
import { handMarks } from './handMarks.ts'

/** A hole for a wire, drawn as a ring. */
const wireRingMm = 0.7
/** How far a hole stands off the rail's foot, on the side away from the wheels. */
const offFootMm = 1.1
/** A spike is a stroke from the edge of the foot outwards. */
const spikeMm = 0.8
const letterMm = 2.6

/** A turnout or crossing set in the plan with its wires. */
export interface WiredWork {
  readonly geometry: Pick<TurnoutGeometry, 'rails' | 'ties'>
  readonly pose: Pose
  readonly wiring: TurnoutConstruction
}

export function wiredTurnout(geometry: TurnoutGeometry, pose: Pose): WiredWork {
  return { geometry, pose, wiring: constructionOf(geometry) }
}

export function wiredCrossing(crossing: CrossingGeometry, pose: Pose): WiredWork {
  return { geometry: crossing, pose, wiring: crossingConstructionOf(crossing) }
}

/**
 * Marks of what is built in beside rails and ties: holes for jumpers and feeders, the line of each jumper, PC-board ties with
 * the gaps in their foil, the room below the throw, spikes as short ticks at the foot, bends and filings. Strokes only; buildTexts names them.
 */
export function buildMarks({ geometry, pose, wiring }: WiredWork, space: FreeSpace): readonly PlanItem[] {
  const { electrics, boardTies, zones, spikes, sticks } = wiring
  const at = (p: Point): Point => poseToPlan(pose, p)
  const items: PlanItem[] = [...handMarks(geometry.rails, sticks, pose)]
  for (const { from, to } of electrics.bonds) {
    const [a, b] = [wireHole(geometry, from), wireHole(geometry, to)]
    items.push(planLine('wires', 'hole', at(a), at(b)), ring(at(a)), ring(at(b)))
    freeSpaceTakeLine(space, at(a), at(b))
  }
  for (const feeder of electrics.feeders) {
    const hole = at(wireHole(geometry, feeder))
    items.push(ring(hole))
    freeSpaceTakeArea(space, square(hole))
  }
  for (const { tie: index, foilGaps } of boardTies) {
    const tie = geometry.ties[index]
    if (tie === undefined) continue
    const turn = Math.atan2(tie.to.y - tie.from.y, tie.to.x - tie.from.x)
    const [ux, uy] = [Math.cos(turn), Math.sin(turn)]
    const half = tie.widthMm / 2
    const point = (p: Point, along: number, across: number): Point =>
      at({ x: p.x + along * ux - across * uy, y: p.y + along * uy + across * ux })
    for (const side of [-half, half]) items.push(planLine('marks', 'mark', point(tie.from, 0, side), point(tie.to, 0, side)))
    for (const gap of foilGaps) items.push(planLine('marks', 'gap', point(gap.at, 0, -half), point(gap.at, 0, half)))
  }
  for (const { rail: index, at: place, side } of spikes) {
    const rail = geometry.rails[index]
    if (rail === undefined) continue
    const { headingRad } = pathPoseAt(rail.gaugeLine, pathNearest(rail.gaugeLine, place).stationMm)
    // Away from the rail, from the edge of its foot.
    const off = (side === 'outside' ? 1 : -1) * rail.headSide * spikeMm
    items.push(
      planLine('marks', 'tick', at(place), at({ x: place.x - off * Math.sin(headingRad), y: place.y + off * Math.cos(headingRad) })),
    )
  }
  for (const zone of zones) {
    const [a, b, c, d] = zoneCorners(zone)
    for (const [from, to] of [
      [a, b],
      [b, c],
      [c, d],
      [d, a],
    ] as const)
      items.push(planLine('holes', 'tangent', at(from), at(to)))
  }
  return items
}

/** Letters beside the holes and words along the room below; left out where there is no room. */
export function buildTexts({ geometry, pose, wiring }: WiredWork, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const { electrics, zones } = wiring
  const letters = [
    ...electrics.bonds.map(({ from }) => ({ place: from, text: 'J' })),
    ...electrics.feeders.map((feeder) => ({ place: feeder, text: 'F' })),
  ]
  const named = letters.map(({ place, text }) => {
    const hole = wireHole(geometry, place)
    const places = ([-1.3, 1.3] as const).map((x) => ({
      middle: poseToPlan(pose, { x: hole.x + x, y: hole.y }),
      angleRad: pose.headingRad,
      anchor: x < 0 ? ('end' as const) : ('start' as const),
    }))
    return freeSpacePlace(space, { kind: 'text', layer: 'wires', text, sizeMm: letterMm, weight: 'bold', grey: 0 }, places, 'leave-out')
  })
  const rooms = zones.map(({ middle, lengthMm, widthMm }) => {
    const text = `Machine below: ${lengthWords(lengthMm, units)} × ${lengthWords(widthMm, units)}`
    const places = ([-1, 1] as const).map((side) => ({
      middle: poseToPlan(pose, poseToPlan(middle, { x: lengthMm / 2 - 1.5, y: side * (widthMm / 2 - 2) })),
      angleRad: pose.headingRad + middle.headingRad,
      anchor: 'end' as const,
    }))
    return freeSpacePlace(
      space,
      { kind: 'text', layer: 'holes', text, sizeMm: letterMm, weight: 'regular', grey: 0.3 },
      places,
      'leave-out',
    )
  })
  return [...named, ...rooms].filter((text) => text !== null)
}

/** Beside the rail's foot, on its outer side, so that neither wheel nor spike meets the wire. */
function wireHole({ rails }: WiredWork['geometry'], { at, rail: index }: WirePlace): Point {
  const rail = rails[index]
  if (rail === undefined) return at
  const { headingRad } = pathPoseAt(rail.gaugeLine, pathNearest(rail.gaugeLine, at).stationMm)
  const off = rail.headSide * (rail.headWidthMm / 2 + rail.footWidthMm / 2 + offFootMm)
  return { x: at.x - off * Math.sin(headingRad), y: at.y + off * Math.cos(headingRad) }
}

function ring(middle: Point): PlanItem {
  return { kind: 'stroke', layer: 'wires', role: 'hole', chain: chainOfCircle(middle, wireRingMm) }
}

function square(middle: Point): readonly Point[] {
  const r = wireRingMm + 0.3
  return [
    { x: middle.x - r, y: middle.y - r },
    { x: middle.x + r, y: middle.y - r },
    { x: middle.x + r, y: middle.y + r },
    { x: middle.x - r, y: middle.y + r },
  ]
}
