import { pathPoseAt, poseReverse } from '../../geom/index.ts'
import type { PathElement, Pose } from '../../geom/types.ts'
import { spiralSolve } from '../../alignment/index.ts'
import { columns } from './columns.ts'
import { elementKind } from './joints.ts'
import { lengthValue } from './marks.ts'
import { alongAndOffset, groupsRefuse, localRow, offsetRow, type GroupsResult } from './rows.ts'
import type { SetoutGroup, SetoutNote, SetoutRequest, SetoutRow, SetoutSubject } from './types.ts'

export type LathResult = GroupsResult & { readonly notes?: readonly SetoutNote[] }

/**
 * Easements by a springy lath: three pins hold it on the tangent, three on the arc, and between them it is free. Free, it bends
 * with curvature that grows nearly evenly, so its free length is that of the easement. Pins over 6 in, three on each side:
 * builders' practice, no published source.
 */
export function lathGroups(subject: SetoutSubject, request: SetoutRequest, pinnedMm: number, fromMm: number, toMm: number): LathResult {
  const { path } = subject
  const made = path.elements.flatMap((element, i) => {
    const endMm = element.startStationMm + element.lengthMm
    const isEasement = elementKind(element) === 'easement' && (element.k0 === 0 || element.k1 === 0)
    if (!isEasement || endMm <= fromMm || element.startStationMm >= toMm) return []
    const neighbours = [path.elements[i - 1] ?? null, path.elements[i + 1] ?? null] as const
    return [
      element.k0 === 0
        ? easement(subject, request, pinnedMm, element, 'in', ...neighbours)
        : easement(subject, request, pinnedMm, element, 'out', neighbours[1], neighbours[0]),
    ]
  })
  if (made.length === 0) return groupsRefuse({ kind: 'noEasement' })
  return { ok: true, groups: made.map(({ group }) => group), notes: made.flatMap(({ notes }) => notes) }
}

/** One easement from its tangent end on; `straight` is the element before that end, `arc` the one behind the other. */
function easement(
  { path }: SetoutSubject,
  { marks }: SetoutRequest,
  pinnedMm: number,
  element: PathElement,
  side: 'in' | 'out',
  straight: PathElement | null,
  arc: PathElement | null,
): { readonly group: SetoutGroup; readonly notes: readonly SetoutNote[] } {
  const startMm = side === 'in' ? element.startStationMm : element.startStationMm + element.lengthMm
  const endMm = side === 'in' ? startMm + element.lengthMm : element.startStationMm
  const ahead = side === 'in' ? 1 : -1
  const pose = pathPoseAt(path, startMm)
  const tangent: Pose = { x: pose.x, y: pose.y, headingRad: pose.headingRad }
  const frame = side === 'in' ? tangent : poseReverse(tangent)
  const radiusMm = 1 / Math.abs(element.k0 === 0 ? element.k1 : element.k0)
  const { shiftMm } = spiralSolve(element.lengthMm, radiusMm)

  const haveStraight = straight && elementKind(straight) === 'line' ? Math.min(pinnedMm, straight.lengthMm) : 0
  const haveArc = arc && elementKind(arc) === 'arc' ? Math.min(pinnedMm, arc.lengthMm) : 0
  const [startName, endName] = side === 'in' ? ['TS', 'SC'] : ['ST', 'CS']
  const onTangent = pinPlaces(haveStraight)
    .toReversed()
    .map((back): SetoutRow => localRow(frame, { x: -back, y: 0 }, startMm - ahead * back, back === 0 ? startName : 'pin', marks))
  const onArc = pinPlaces(haveArc).map((on): SetoutRow => {
    const stationMm = endMm + ahead * on
    return offsetRow(path, frame, stationMm, on === 0 ? endName : 'pin', marks)
  })
  const notes: SetoutNote[] = []
  if (haveStraight < pinnedMm) notes.push({ kind: 'shortTangent', stationMm: startMm, haveMm: haveStraight, wantMm: pinnedMm })
  if (haveArc < pinnedMm) notes.push({ kind: 'shortArc', stationMm: endMm, haveMm: haveArc, wantMm: pinnedMm })
  return {
    group: {
      base: { kind: 'lath', side, fromStationMm: startMm, toStationMm: endMm, frame },
      title: `Easement from ${startName} to ${endName}, pins along the tangent from ${startName}, − back`,
      facts: [
        { column: columns.freeLength, ...lengthValue(element.lengthMm, marks) },
        { column: columns.shift, ...lengthValue(shiftMm, marks) },
        { column: columns.radius, ...lengthValue(radiusMm, marks) },
      ],
      columns: alongAndOffset,
      rows: [...onTangent, ...onArc],
    },
    notes,
  }
}

/** Three pins over a length, the first where the free part begins; one where there is no length. */
function pinPlaces(lengthMm: number): readonly number[] {
  return lengthMm === 0 ? [0] : [0, lengthMm / 2, lengthMm]
}
