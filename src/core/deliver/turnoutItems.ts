import { pathMove, pathPoseAt, poseToPlan } from '../geom/index.ts'
import type { Point, Pose } from '../geom/types.ts'
import type { ThrowHole, TurnoutGeometry } from '../turnout/types.ts'
import type { TurnoutTrack } from '../track/types.ts'
import type { Chain } from './chain.ts'
import { edgeAlong } from './edge.ts'
import { gapItems } from './gapItems.ts'
import { freeSpacePlace, freeSpaceTakeLine, type FreeSpace, type Place } from './freeSpace.ts'
import { planLine, type PlanItem } from './planItem.ts'
import type { PlanText } from './text.ts'
import type { SheetOptions } from './types.ts'
import { drillWords, pieceWords } from './words.ts'

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

/** What leads to the names: PS, heel, theoretical frog point, half-inch point. */
function leadersOf(geometry: TurnoutGeometry): readonly Leader[] {
  const heel = geometry.rails.find((rail) => rail.role === 'point-straight')
  const heelX = heel ? pathPoseAt(heel.gaugeLine, heel.gaugeLine.lengthMm).x : null
  return [
    { x: 0, text: 'PS', anchor: 'start' },
    ...(heelX === null ? [] : [{ x: heelX, text: 'Heel', anchor: 'start' } as const]),
    // Close together: their names stand on the outer sides.
    { x: geometry.frogPoint.x, text: 'PF', anchor: 'end' },
    { x: geometry.halfInchPoint.x, text: '½″ point', anchor: 'start' },
  ]
}

const straightSideOf = (geometry: TurnoutGeometry): 1 | -1 => (geometry.request.hand === 'left' ? -1 : 1)

/**
 * What the builder looks for on a turnout sheet: point of switch, heel, theoretical frog point, half-inch point, fouling
 * point, gaps and the throw hole. Thin lines lead from the first four to beyond the tie ends on the straight side. All of
 * it takes its place before any text looks for one: turnoutTexts.
 */
export function turnoutMarks(turnout: SetTurnout, space: FreeSpace): readonly PlanItem[] {
  const { geometry, pose } = turnout
  const { request, frogPoint, halfInchPoint } = geometry
  const side = straightSideOf(geometry)
  const beyond = request.tieLengthMm / 2
  const half = request.gaugeMm / 2
  const taken = (a: Point, b: Point, layer: 'points' | 'clearance' = 'points'): PlanItem => {
    const [from, to] = [poseToPlan(pose, a), poseToPlan(pose, b)]
    freeSpaceTakeLine(space, from, to)
    return planLine(layer, 'mark', from, to)
  }
  const foulingX = frogPoint.x + geometry.foulingMm
  return [
    ...leadersOf(geometry).map(({ x }) => taken({ x, y: side * (beyond + 1) }, { x, y: side * (beyond + 13) })),
    taken({ x: 0, y: -half - 3 }, { x: 0, y: half + 3 }),
    ...pointCross(pose, frogPoint),
    taken({ x: halfInchPoint.x, y: halfInchPoint.y - 1.5 }, { x: halfInchPoint.x, y: halfInchPoint.y + 1.5 }),
    // Where the centrelines have opened to the fouling distance: from one to the other.
    taken({ x: foulingX, y: 0 }, { x: foulingX, y: -side * request.foulingMm }, 'clearance'),
    ...gapItems(turnout.work),
    ...geometry.throwHoles.flatMap((hole) => throwHoleItems(hole, pose)),
  ]
}

/** The names of what turnoutMarks has drawn. */
export function turnoutTexts(turnout: SetTurnout, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const { geometry, pose } = turnout
  const side = straightSideOf(geometry)
  const beyond = geometry.request.tieLengthMm / 2
  const names = leadersOf(geometry).map(({ x, text, anchor }) => {
    const place = (y: number, toward: 'start' | 'end'): Place => ({
      middle: poseToPlan(pose, { x: x + (toward === 'start' ? 1.2 : -1.2), y: side * (beyond + y) }),
      angleRad: pose.headingRad,
      anchor: toward,
    })
    const other = anchor === 'start' ? 'end' : 'start'
    const places = [11.5, 7.5, 15.5, 3.5].flatMap((y) => [place(y, anchor), place(y, other)])
    return freeSpacePlace(space, { kind: 'text', layer: 'points', text, sizeMm: 3.6, weight: 'bold', grey: 0 }, places, 'least-taken')
  })
  return [...names, foulingText(turnout, space), throwHoleText(turnout, units, space)].filter((text) => text !== null)
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
        layer: 'tie-lengths',
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

/** A cross on a theoretical point, square to the work's own frame. */
export function pointCross(pose: Pose, at: Point): readonly PlanItem[] {
  return cross(poseToPlan(pose, at), pose.headingRad, 3)
}

/** Two short strokes crossing on a point, along and square to a direction. */
function cross(p: Point, headingRad: number, armMm: number): readonly PlanItem[] {
  return [headingRad, headingRad + Math.PI / 2].map((angle) => {
    const [dx, dy] = [armMm * Math.cos(angle), armMm * Math.sin(angle)]
    return planLine('points', 'mark', { x: p.x - dx, y: p.y - dy }, { x: p.x + dx, y: p.y + dy })
  })
}

/** Beside the fouling mark, between the centrelines; left out where there is no room. */
function foulingText({ geometry, pose }: SetTurnout, space: FreeSpace): PlanText | null {
  const across = -straightSideOf(geometry) * geometry.request.foulingMm
  const x = geometry.frogPoint.x + geometry.foulingMm
  return freeSpacePlace(
    space,
    { kind: 'text', layer: 'clearance', text: 'Fouling point', sizeMm: 3, weight: 'regular', grey: 0 },
    [0.5, 0.4, 0.6].map((t) => ({
      middle: poseToPlan(pose, { x: x + 1.5, y: across * t }),
      angleRad: pose.headingRad,
      anchor: 'start',
    })),
    'leave-out',
  )
}

/** The slot for the throw rod and a cross on its middle. */
export function throwHoleItems({ at, slotLengthMm, slotWidthMm }: ThrowHole, pose: Pose): readonly PlanItem[] {
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
  return [
    { kind: 'stroke', layer: 'holes', role: 'hole', chain: slot },
    planLine('holes', 'hole', place(-r - 2, 0), place(r + 2, 0)),
    planLine('holes', 'hole', place(0, -l - r - 2), place(0, l + r + 2)),
  ]
}

/** Its size, beyond the tie ends beside PS; the foot of the turnout's own sheet tells it where there is no room. */
function throwHoleText({ geometry, pose }: SetTurnout, units: SheetOptions['units'], space: FreeSpace): PlanText | null {
  const [hole] = geometry.throwHoles
  if (!hole) return null
  const { slotLengthMm, slotWidthMm } = hole
  const side = straightSideOf(geometry)
  return freeSpacePlace(
    space,
    {
      kind: 'text',
      layer: 'holes',
      text: `Throw hole ${pieceWords(slotWidthMm, units)} × ${pieceWords(slotLengthMm, units)} · drill ${drillWords(slotWidthMm, units)}`,
      sizeMm: 3,
      weight: 'regular',
      grey: 0,
    },
    [side, -side].flatMap((toSide) =>
      [4, 8, 12, 16, 20].flatMap((beyond): readonly Place[] => {
        const y = toSide * (geometry.request.tieLengthMm / 2 + beyond)
        return [
          { middle: poseToPlan(pose, { x: -2, y }), angleRad: pose.headingRad, anchor: 'end' },
          { middle: poseToPlan(pose, { x: 2, y }), angleRad: pose.headingRad, anchor: 'start' },
        ]
      }),
    ),
    'leave-out',
  )
}
