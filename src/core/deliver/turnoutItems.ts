import { pathMove, pathNearest, pathPoseAt, pointDistance, poseToPlan } from '../geom/index.ts'
import type { Point, Pose } from '../geom/types.ts'
import type { TurnoutGeometry } from '../turnout/types.ts'
import type { Rail, TurnoutTrack } from '../track/types.ts'
import type { Chain } from './chain.ts'
import { edgeAlong } from './edge.ts'
import { freeSpacePlace, freeSpaceTakeLine, type FreeSpace, type Place } from './freeSpace.ts'
import { planLine, type PlanItem } from './planItem.ts'
import type { SheetOptions } from './types.ts'
import { pieceWords } from './words.ts'

/** A turnout set in the plan, with what its marks need. */
export interface SetTurnout {
  readonly geometry: TurnoutGeometry
  readonly pose: Pose
  readonly work: TurnoutTrack
}

/** Centreline of the diverging route from the points to the leg; that of the host is drawn with its track. */
export function turnoutCentreline({ geometry, pose }: SetTurnout): readonly PlanItem[] {
  const path = pathMove(geometry.divergingRoute, pose)
  const chain = edgeAlong(path, 0, path.lengthMm, 0)
  return chain ? [{ kind: 'stroke', layer: 'centreline', role: 'centreline', chain }] : []
}

interface Leader {
  /** Along the host from PS. */
  readonly x: number
  readonly text: string
  readonly anchor: 'start' | 'end'
}

/**
 * What the builder looks for on a turnout sheet: point of switch, heel, theoretical frog point, half-inch point, fouling
 * point, gaps and the throw hole. Labels stand beyond the tie ends on the straight side, led there by thin lines.
 */
export function turnoutMarks(turnout: SetTurnout, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const { geometry, pose } = turnout
  const { request } = geometry
  const straightSide = request.hand === 'left' ? -1 : 1
  const beyond = request.tieLengthMm / 2
  const at = (x: number, y: number): Point => poseToPlan(pose, { x, y })
  const items: PlanItem[] = []

  const heel = geometry.rails.find((rail) => rail.role === 'point-straight')
  const heelX = heel ? pathPoseAt(heel.gaugeLine, heel.gaugeLine.lengthMm).x : null
  const leaders: readonly Leader[] = [
    { x: 0, text: 'PS', anchor: 'start' },
    ...(heelX === null ? [] : [{ x: heelX, text: 'Heel', anchor: 'start' } as const]),
    // Close together: their names stand on the outer sides.
    { x: geometry.frogPoint.x, text: 'PF', anchor: 'end' },
    { x: geometry.halfInchPoint.x, text: '½″ point', anchor: 'start' },
  ]
  for (const { x } of leaders) {
    const from = at(x, straightSide * (beyond + 1))
    const to = at(x, straightSide * (beyond + 13))
    items.push(planLine('marks', 'mark', from, to))
    freeSpaceTakeLine(space, from, to)
  }
  // Texts after all leaders, so that none is crossed by the next one.
  for (const { x, text, anchor } of leaders) {
    const place = (y: number, side: 'start' | 'end'): Place => ({
      middle: at(x + (side === 'start' ? 1.2 : -1.2), straightSide * (beyond + y)),
      angleRad: pose.headingRad,
      anchor: side,
    })
    const other = anchor === 'start' ? 'end' : 'start'
    const places = [11.5, 7.5, 15.5].flatMap((y) => [place(y, anchor), place(y, other)])
    const placed = freeSpacePlace(
      space,
      { kind: 'text', layer: 'marks', text, sizeMm: 3.6, weight: 'bold', grey: 0 },
      places,
      'least-taken',
    )
    if (placed) items.push(placed)
  }

  const half = request.gaugeMm / 2
  items.push(planLine('marks', 'mark', at(0, -half - 3), at(0, half + 3)))
  items.push(...cross(poseToPlan(pose, geometry.frogPoint), pose.headingRad, 3))
  items.push(
    planLine(
      'marks',
      'mark',
      at(geometry.halfInchPoint.x, geometry.halfInchPoint.y - 1.5),
      at(geometry.halfInchPoint.x, geometry.halfInchPoint.y + 1.5),
    ),
  )
  items.push(...foulingMark(turnout, space))
  items.push(...gapTicks(turnout))
  items.push(...throwHole(turnout, units, space))
  return items
}

/** Lengths of the ties in small grey at their ends on the diverging side; left out where there is no room. */
export function turnoutTieLengths(turnout: SetTurnout, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const { geometry, pose, work } = turnout
  const standard = geometry.request.tieLengthMm
  const divergingSide = geometry.request.hand === 'left' ? 1 : -1
  const items: PlanItem[] = []
  for (const tie of work.ties) {
    if (tie.lengthMm <= standard + 0.05 && !tie.isHeadBlock) continue
    // The axis, turned to point to the diverging side.
    const across = Math.sin(tie.axisRad - pose.headingRad) * divergingSide
    const axisRad = across >= 0 ? tie.axisRad : tie.axisRad + Math.PI
    const reach = tie.lengthMm / 2 + 1.7
    const place: Place = {
      middle: { x: tie.centre.x + reach * Math.cos(axisRad), y: tie.centre.y + reach * Math.sin(axisRad) },
      angleRad: axisRad,
      anchor: 'start',
    }
    const text = freeSpacePlace(
      space,
      {
        kind: 'text',
        layer: 'ties',
        text: pieceWords(tie.lengthMm, units),
        sizeMm: Math.min(3, geometry.request.tieSpacingMm * 0.9),
        weight: 'regular',
        grey: 0.35,
      },
      [place],
      'leave-out',
    )
    if (text) items.push(text)
  }
  return items
}

/** Two short strokes crossing on a point, along and square to a direction. */
function cross(p: Point, headingRad: number, armMm: number): readonly PlanItem[] {
  return [headingRad, headingRad + Math.PI / 2].map((angle) => {
    const [dx, dy] = [armMm * Math.cos(angle), armMm * Math.sin(angle)]
    return planLine('marks', 'mark', { x: p.x - dx, y: p.y - dy }, { x: p.x + dx, y: p.y + dy })
  })
}

/** Where the centrelines have opened to the fouling distance: a stroke from one to the other. */
function foulingMark({ geometry, pose }: SetTurnout, space: FreeSpace): readonly PlanItem[] {
  const { request } = geometry
  const side = request.hand === 'left' ? 1 : -1
  const x = geometry.frogPoint.x + geometry.foulingMm
  const from = poseToPlan(pose, { x, y: 0 })
  const to = poseToPlan(pose, { x, y: side * request.foulingMm })
  const text = freeSpacePlace(
    space,
    { kind: 'text', layer: 'marks', text: 'Fouling point', sizeMm: 3, weight: 'regular', grey: 0 },
    [0.5, 0.4, 0.6].map((t) => ({
      middle: poseToPlan(pose, { x: x + 1.5, y: side * t * request.foulingMm }),
      angleRad: pose.headingRad,
      anchor: 'start',
    })),
    'leave-out',
  )
  return text ? [planLine('marks', 'mark', from, to), text] : [planLine('marks', 'mark', from, to)]
}

/** A heavy stroke across the rail at each gap. */
function gapTicks({ geometry, work }: SetTurnout): readonly PlanItem[] {
  const items: PlanItem[] = []
  for (const gap of work.gaps) {
    const rail = nearestRail(work.rails, gap.rail, gap.at)
    if (!rail) continue
    const pose = pathPoseAt(rail.gaugeLine.path, pathNearest(rail.gaugeLine.path, gap.at).stationMm)
    const [nx, ny] = [-Math.sin(pose.headingRad) * rail.headSide, Math.cos(pose.headingRad) * rail.headSide]
    const rim = geometry.request.railFootMm * 0.8
    const from = { x: pose.x - rim * nx, y: pose.y - rim * ny }
    const to = { x: pose.x + (rail.headWidthMm + rim) * nx, y: pose.y + (rail.headWidthMm + rim) * ny }
    items.push(planLine('marks', 'gap', from, to))
  }
  return items
}

function nearestRail(rails: readonly Rail[], role: Rail['role'], p: Point): Rail | null {
  let best: { readonly rail: Rail; readonly distance: number } | null = null
  for (const rail of rails) {
    if (rail.role !== role || rail.gaugeLine.path.elements.length === 0) continue
    const distance = pointDistance(pathNearest(rail.gaugeLine.path, p), p)
    if (best === null || distance < best.distance) best = { rail, distance }
  }
  return best?.rail ?? null
}

/** The slot for the throw rod, a cross on its middle and its size. */
function throwHole({ geometry, pose }: SetTurnout, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const { at, slotLengthMm, slotWidthMm } = geometry.throwHole
  const straightSide = geometry.request.hand === 'left' ? -1 : 1
  const place = (x: number, y: number): Point => poseToPlan(pose, { x: at.x + x, y: at.y + y })
  const r = slotWidthMm / 2
  const l = Math.max(0, slotLengthMm / 2 - r)
  const q = 0.5522847498 * r
  const quarter = (c1: Point, c2: Point, to: Point): Chain['segments'][number] => ({ kind: 'cubic', c1, c2, to })
  const slot: Chain = {
    start: place(r, -l),
    segments: [
      { kind: 'line', to: place(r, l) },
      quarter(place(r, l + q), place(q, l + r), place(0, l + r)),
      quarter(place(-q, l + r), place(-r, l + q), place(-r, l)),
      { kind: 'line', to: place(-r, -l) },
      quarter(place(-r, -l - q), place(-q, -l - r), place(0, -l - r)),
      quarter(place(q, -l - r), place(r, -l - q), place(r, -l)),
    ],
  }
  const text = freeSpacePlace(
    space,
    {
      kind: 'text',
      layer: 'marks',
      text: `Throw hole ${pieceWords(slotWidthMm, units)} × ${pieceWords(slotLengthMm, units)}`,
      sizeMm: 3,
      weight: 'regular',
      grey: 0,
    },
    [straightSide, -straightSide].flatMap((side) =>
      [4, 8, 12].flatMap((beyond): readonly Place[] => {
        const y = side * (geometry.request.tieLengthMm / 2 + beyond) - at.y
        return [
          { middle: place(-at.x - 2, y), angleRad: pose.headingRad, anchor: 'end' },
          { middle: place(-at.x + 2, y), angleRad: pose.headingRad, anchor: 'start' },
        ]
      }),
    ),
    'least-taken',
  )
  return [
    { kind: 'stroke', layer: 'marks', role: 'hole', chain: slot },
    planLine('marks', 'hole', place(-r - 2, 0), place(r + 2, 0)),
    planLine('marks', 'hole', place(0, -l - r - 2), place(0, l + r + 2)),
    ...(text ? [text] : []),
  ]
}
