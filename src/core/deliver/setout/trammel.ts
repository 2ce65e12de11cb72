import { angleWrap, pathPoseAt, pointDistance, pointPolar, segmentIntersection } from '../../geom/index.ts'
import type { PathElement, Point } from '../../geom/types.ts'
import { columns } from './columns.ts'
import { elementKind, jointNameAt, pathJoints, SAME_STATION_MM } from './joints.ts'
import { angleValue, lengthValue } from './marks.ts'
import { centreReach, fixedPoints, roomBlocks } from './room.ts'
import { groupsRefuse, stationPoint, type GroupsResult } from './rows.ts'
import { tapeSight, tapesMeet, tiePair } from './tapes.ts'
import type { SetoutGroup, SetoutRequest, SetoutSubject, SetoutValue } from './types.ts'

/** Each arc of the stretch by its centre, radius and the directions from the centre in which it begins and ends. */
export function trammelGroups(subject: SetoutSubject, request: SetoutRequest, fromMm: number, toMm: number): GroupsResult {
  const groups = subject.path.elements.flatMap((element) => {
    const first = Math.max(fromMm, element.startStationMm)
    const last = Math.min(toMm, element.startStationMm + element.lengthMm)
    return elementKind(element) === 'arc' && last - first > SAME_STATION_MM ? [arcGroup(subject, request, element, first, last)] : []
  })
  return groups.length > 0 ? { ok: true, groups } : groupsRefuse({ kind: 'noArc' })
}

function arcGroup(subject: SetoutSubject, request: SetoutRequest, element: PathElement, first: number, last: number): SetoutGroup {
  const { path, room } = subject
  const { marks, angleStepRad } = request
  const pose = pathPoseAt(path, first)
  const radiusMm = 1 / Math.abs(element.k0)
  const centre: Point = { x: pose.x - Math.sin(pose.headingRad) / element.k0, y: pose.y + Math.cos(pose.headingRad) / element.k0 }
  const startRad = angleWrap(pose.headingRad - Math.sign(element.k0) * (Math.PI / 2))
  const endRad = startRad + (last - first) * element.k0

  const blocks = roomBlocks(room)
  const middle = stationPoint(path, 0.5 * (first + last))
  const reach = centreReach(room, blocks, centre, middle)
  const isReachable = reach.kind === 'benchwork' || reach.kind === 'floor'
  const pins = isReachable ? tiePair(fixedPoints(room), centre, (pin) => tapeSight(blocks, pin, centre)) : null

  const values = {
    x: lengthValue(centre.x, marks),
    y: lengthValue(centre.y, marks),
    radius: lengthValue(radiusMm, marks),
    start: angleValue(startRad, angleStepRad),
    end: angleValue(endRad, angleStepRad),
  }
  const ties = pins === null ? [] : [pins.a, pins.b].map((pin) => lengthValue(pointDistance(pin, centre), marks))
  const [tieA, tieB] = ties
  const centres: Point[] = [{ x: values.x.rounded, y: values.y.rounded }]
  if (pins !== null && tieA && tieB) {
    const met = tapesMeet(pins.a, tieA.rounded, pins.b, tieB.rounded, pins.side)
    if (met !== null) centres.push(met)
  }
  const joints = pathJoints(path)
  const names = [jointNameAt(joints, first) || 'from', jointNameAt(joints, last) || 'to']
  return {
    base: {
      kind: 'centre',
      centre,
      toStationMm: last,
      pins: pins === null ? null : [pins.a, pins.b],
      side: pins?.side ?? null,
      reach,
      barBlockedBy: isReachable ? barBlocked(blocks, centre, radiusMm, startRad, endRad) : null,
    },
    title: `Arc from ${names.join(' to ')}`,
    facts: [],
    columns: [
      columns.centreX,
      columns.centreY,
      columns.radius,
      columns.startAngle,
      columns.endAngle,
      ...(ties.length > 0 ? [columns.tieA, columns.tieB] : []),
    ],
    rows: [
      {
        stationMm: first,
        name: names[0] ?? '',
        at: { x: pose.x, y: pose.y },
        values: [values.x, values.y, values.radius, values.start, values.end, ...ties],
        errorMm: Math.max(...centres.map((plotted) => arcErrorMm(centre, plotted, values.radius, values.start, values.end))),
      },
    ],
  }
}

/**
 * Farthest that an arc swung from a plotted centre with a rounded radius lies from the true one, mm. In the direction u from the
 * centre the two are |d + e u| apart, d the error of the centre and e that of the radius: most where u points along e d, if the
 * arc comes by there, else at an end. The ends are also put off along the arc by the rounding of their angles.
 */
function arcErrorMm(centre: Point, plotted: Point, radius: SetoutValue, start: SetoutValue, end: SetoutValue): number {
  const d: Point = { x: plotted.x - centre.x, y: plotted.y - centre.y }
  const e = radius.rounded - radius.exact
  const apart = (angleRad: number, plottedRad: number): number => {
    const from = pointPolar(angleRad, radius.exact)
    const to = pointPolar(plottedRad, radius.rounded)
    return Math.hypot(d.x + to.x - from.x, d.y + to.y - from.y)
  }
  const ends = [
    apart(start.exact, start.rounded),
    apart(end.exact, end.rounded),
    apart(start.exact, start.exact),
    apart(end.exact, end.exact),
  ]
  const worst = Math.atan2(d.y * e, d.x * e)
  const turn = end.exact - start.exact
  const within = turn > 0 ? positive(worst - start.exact) <= turn : positive(start.exact - worst) <= -turn
  return Math.max(...ends, within ? apart(worst, worst) : 0)
}

/** The same angle from 0 up to a whole turn. */
function positive(rad: number): number {
  return rad - 2 * Math.PI * Math.floor(rad / (2 * Math.PI))
}

/** Chords of the swept sector leave its arc by less than this, mm. */
const SECTOR_SAG_MM = 1

/** What a bar strikes that is swung about a centre from one direction to another; null when it swings free. */
function barBlocked(
  blocks: ReturnType<typeof roomBlocks>,
  centre: Point,
  radiusMm: number,
  startRad: number,
  endRad: number,
): string | null {
  const turn = endRad - startRad
  const count = Math.max(1, Math.ceil(Math.abs(turn) / Math.sqrt((8 * SECTOR_SAG_MM) / radiusMm)))
  const rim = Array.from({ length: count + 1 }, (_, i) => {
    const p = pointPolar(startRad + (turn * i) / count, radiusMm)
    return { x: centre.x + p.x, y: centre.y + p.y }
  })
  const outline = [centre, ...rim]
  const sides = outline.flatMap((a, i) => {
    const b = outline[i + 1] ?? centre
    return [[a, b] as const]
  })
  const isIn = (p: Point): boolean => {
    const angle = Math.atan2(p.y - centre.y, p.x - centre.x)
    const swept = turn > 0 ? positive(angle - startRad) <= turn : positive(startRad - angle) <= -turn
    return swept && pointDistance(p, centre) < radiusMm
  }
  const struck = blocks.find(({ a, b }) => isIn(a) || isIn(b) || sides.some(([p, q]) => segmentIntersection(p, q, a, b) !== null))
  return struck?.name ?? null
}
