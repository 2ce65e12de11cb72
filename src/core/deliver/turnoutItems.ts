import { pathMove, pathNearest, pathPoseAt, pathSlice, poseToLocal, poseToPlan } from '../geom/index.ts'
import type { Path, Point, Pose } from '../geom/types.ts'
import { throwHole } from '../turnout/index.ts'
import type { ThrowHole, TurnoutGeometry, TurnoutRequest } from '../turnout/types.ts'
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

/** Centrelines of the diverging routes from the points to their legs; that of the host is drawn with its track. */
export function turnoutCentreline({ geometry, pose }: SetTurnout): readonly PlanItem[] {
  const others = geometry.legs.flatMap((leg): readonly Path[] => {
    const centre = leg.route === 'other' ? geometry.routes.find(({ name }) => name === 'other')?.centre : undefined
    return centre ? [pathSlice(centre, pathNearest(centre, { x: 0, y: 0 }).stationMm, pathNearest(centre, leg.pose).stationMm)] : []
  })
  return [geometry.divergingRoute, ...others].flatMap((route): readonly PlanItem[] => {
    const path = pathMove(route, pose)
    const chain = edgeAlong(path, 0, path.lengthMm, 0)
    return chain ? [{ kind: 'stroke', layer: 'centreline', role: 'centreline', chain }] : []
  })
}

interface Leader {
  readonly at: Point
  readonly text: string
  readonly anchor: 'start' | 'end'
}

/** What leads to the names: PS, heel, theoretical frog point, and the actual one, which is half an inch wide at full size. */
function leadersOf(geometry: TurnoutGeometry, units: SheetOptions['units']): readonly Leader[] {
  const heel = geometry.rails.find((rail) => rail.role === 'point-straight')
  return [
    { at: { x: 0, y: 0 }, text: 'PS', anchor: 'start' },
    ...(heel ? [{ at: pathPoseAt(heel.gaugeLine, heel.gaugeLine.lengthMm), text: 'Heel', anchor: 'start' } as const] : []),
    // Close together: their names stand on the outer sides.
    { at: geometry.frogPoint, text: 'PF', anchor: 'end' },
    { at: geometry.halfInchPoint, text: units === 'metric' ? 'Actual point' : '½″ point', anchor: 'start' },
  ]
}

const straightSideOf = (geometry: TurnoutGeometry): 1 | -1 => (geometry.request.hand === 'left' ? -1 : 1)

/** Where a leader stands: square to the straight route, from beyond the ties that lie there on its side. */
interface LeaderSeat {
  /** On the route, in the turnout's frame. */
  readonly pose: Pose
  readonly beyondMm: number
}

/** Ties so far along from a leader may meet it. */
const LEADER_ROOM_MM = 3

function leaderSeat({ routes, ties, request }: TurnoutGeometry, at: Point, side: 1 | -1): LeaderSeat {
  const straight = routes.find(({ name }) => name === 'straight')?.centre
  const pose = straight ? pathPoseAt(straight, pathNearest(straight, at).stationMm) : { x: at.x, y: 0, headingRad: 0 }
  const ends = ties.flatMap(({ from, to }) => [from, to].map((end) => poseToLocal(pose, end)))
  const near = ends.filter(({ x }) => Math.abs(x) <= LEADER_ROOM_MM + request.tieWidthMm / 2)
  return { pose, beyondMm: Math.max(request.tieLengthMm / 2, ...near.map(({ y }) => side * y)) }
}

/**
 * What the builder looks for on a turnout sheet: point of switch, heel, theoretical frog point, half-inch point, fouling
 * point, gaps and the throw hole. Thin lines lead from the first four to beyond the tie ends on the straight side. All of
 * it takes its place before any text looks for one: turnoutTexts.
 */
export function turnoutMarks(turnout: SetTurnout, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const { geometry, pose } = turnout
  const { request, frogPoint, halfInchPoint } = geometry
  const side = straightSideOf(geometry)
  const half = request.gaugeMm / 2
  const taken = (a: Point, b: Point, layer: 'points' | 'clearance' = 'points'): PlanItem => {
    const [from, to] = [poseToPlan(pose, a), poseToPlan(pose, b)]
    freeSpaceTakeLine(space, from, to)
    return planLine(layer, 'mark', from, to)
  }
  const foulingX = frogPoint.x + geometry.foulingMm
  return [
    ...leadersOf(geometry, units).map(({ at }) => {
      const { pose: seat, beyondMm } = leaderSeat(geometry, at, side)
      return taken(poseToPlan(seat, { x: 0, y: side * (beyondMm + 1) }), poseToPlan(seat, { x: 0, y: side * (beyondMm + 13) }))
    }),
    taken({ x: 0, y: -half - 3 }, { x: 0, y: half + 3 }),
    ...geometry.frogs.flatMap(({ at }) => pointCross(pose, at)),
    taken({ x: halfInchPoint.x, y: halfInchPoint.y - 1.5 }, { x: halfInchPoint.x, y: halfInchPoint.y + 1.5 }),
    // Where the centrelines have opened to the fouling distance: from one to the other.
    taken({ x: foulingX, y: 0 }, { x: foulingX, y: -side * request.foulingMm }, 'clearance'),
    ...gapItems(turnout.work),
    ...geometry.throwHoles.flatMap((hole) => throwHoleItems(hole, geometry.request, pose)),
  ]
}

/** The names of what turnoutMarks has drawn. */
export function turnoutTexts(turnout: SetTurnout, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const { geometry, pose } = turnout
  const side = straightSideOf(geometry)
  const names = leadersOf(geometry, units).map(({ at, text, anchor }) => {
    const { pose: seat, beyondMm } = leaderSeat(geometry, at, side)
    const place = (y: number, toward: 'start' | 'end'): Place => ({
      middle: poseToPlan(pose, poseToPlan(seat, { x: toward === 'start' ? 1.2 : -1.2, y: side * (beyondMm + y) })),
      angleRad: pose.headingRad + seat.headingRad,
      anchor: toward,
    })
    const other = anchor === 'start' ? 'end' : 'start'
    const places = [11.5, 7.5, 15.5, 3.5, 19.5, 23.5].flatMap((y) => [place(y, anchor), place(y, other)])
    return freeSpacePlace(space, { kind: 'text', layer: 'points', text, sizeMm: 3.6, weight: 'bold', grey: 0 }, places, 'least-taken')
  })
  return [...names, foulingText(turnout, space), throwHoleText(turnout, units, space)].filter((text) => text !== null)
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
export function throwHoleItems(hole: ThrowHole, request: Pick<TurnoutRequest, 'tieLengthMm'>, pose: Pose): readonly PlanItem[] {
  const { at } = hole
  const { lengthMm, widthMm } = throwHole(hole, request)
  const place = (x: number, y: number): Point => poseToPlan(pose, { x: at.x + x, y: at.y + y })
  const r = widthMm / 2
  const l = Math.max(0, lengthMm / 2 - r)
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
  const { lengthMm, widthMm } = throwHole(hole, geometry.request)
  const side = straightSideOf(geometry)
  return freeSpacePlace(
    space,
    {
      kind: 'text',
      layer: 'holes',
      text: `Throw hole ${pieceWords(widthMm, units)} × ${pieceWords(lengthMm, units)} · drill ${drillWords(widthMm, units)}`,
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
