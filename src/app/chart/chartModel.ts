import type { Alignment, CornerPlace } from '../../core/alignment/types.ts'
import type { Finding } from '../../core/checks/types.ts'
import type { Path } from '../../core/geom/types.ts'
import type { NetworkTurnout } from '../../core/network/types.ts'
import type { LineClass, RailJoint, Table } from '../../core/plan/types.ts'

/** A place on the chart's curve row: station along, curvature up (left) or down (right). */
export interface CurvaturePoint {
  readonly stationMm: number
  readonly curvature: number
}

/** Curvature over station; linear in between, since that is what an easement is. */
export function curvatureProfile(path: Path): readonly CurvaturePoint[] {
  const points: CurvaturePoint[] = []
  for (const element of path.elements) {
    const last = points.at(-1)
    // A curve without easements jumps: two points at one station.
    if (last === undefined || last.curvature !== element.k0) points.push({ stationMm: element.startStationMm, curvature: element.k0 })
    points.push({ stationMm: element.startStationMm + element.lengthMm, curvature: element.k1 })
  }
  return points
}

/** One corner as a shape of the curve row. */
export interface CornerShape {
  readonly place: CornerPlace
  readonly index: number
  readonly curvature: number
  readonly isOver: boolean
}

export function cornerShapes(corners: readonly CornerPlace[], lineClass: LineClass): readonly CornerShape[] {
  return corners.flatMap((place, index) => {
    const { radiusMm, deflectionRad } = place.solution
    // A corner that does not turn has no shape; it is still in the list of corners.
    if (!(radiusMm > 0) || deflectionRad === 0) return []
    return [{ place, index, curvature: Math.sign(deflectionRad) / radiusMm, isOver: radiusMm < lineClass.minRadiusMm - 1e-6 }]
  })
}

/** Letters of marks that are nearer than this would cover each other, px. */
const lettersPx = 20
/** Of letters beside each other: each so wide, and so much air between words, on the safe side, px. */
const letterPx = 7
const airPx = 4

/** TS SC CS ST with their stations, or PC and PT of a curve without easements. */
export function curvePlaces({ solution, tsMm, scMm, csMm, stMm, joins }: CornerPlace): readonly (readonly [string, number])[] {
  const between = joins.flatMap(({ fromMm, toMm }): readonly (readonly [string, number])[] =>
    toMm > fromMm
      ? [
          ['CS', fromMm],
          ['SC', toMm],
        ]
      : [['CC', fromMm]],
  )
  return solution.easementInMm > 0 || solution.easementOutMm > 0
    ? [['TS', tsMm], ['SC', scMm], ...between, ['CS', csMm], ['ST', stMm]]
    : [['PC', tsMm], ...between, ['PT', stMm]]
}

/**
 * The letters of these places and their ticks; marks closer than their letters share them. Where there is no room for all, those of
 * the ends stay, moved apart if need be, and others are ticks alone: their name is empty.
 */
export function curveMarks(place: CornerPlace, xOf: (stationMm: number) => number): readonly CurveMark[] {
  const groups: { names: string[]; ticks: number[] }[] = []
  for (const [name, mm] of curvePlaces(place)) {
    const x = xOf(mm)
    const last = groups.at(-1)
    if (last !== undefined && x - (last.ticks.at(-1) ?? x) < lettersPx) {
      last.names.push(name)
      last.ticks.push(x)
    } else groups.push({ names: [name], ticks: [x] })
  }
  const marks = groups.map(({ names, ticks }) => ({ name: names.join(' '), x: ((ticks[0] ?? 0) + (ticks.at(-1) ?? 0)) / 2, ticks }))
  return thinned(marks)
}

interface CurveMark {
  readonly name: string
  /** Of the middle of the letters. */
  readonly x: number
  readonly ticks: readonly number[]
}

const wordPx = ({ name }: CurveMark): number => name.length * letterPx + airPx
const apart = (a: CurveMark, b: CurveMark): boolean => Math.abs(a.x - b.x) >= (wordPx(a) + wordPx(b)) / 2

/** The ends first, then from the left what has room beside those that stand. */
function thinned(marks: readonly CurveMark[]): readonly CurveMark[] {
  const [first, last] = [marks[0], marks.at(-1)]
  if (first === undefined || last === undefined || first === last) return marks
  const short = Math.max(0, (wordPx(first) + wordPx(last)) / 2 - (last.x - first.x)) / 2
  const ends = [
    { ...first, x: first.x - short },
    { ...last, x: last.x + short },
  ] as const
  const standing: CurveMark[] = [...ends]
  const between = marks.slice(1, -1).map((mark) => {
    if (!standing.every((other) => apart(mark, other))) return { ...mark, name: '' }
    standing.push(mark)
    return mark
  })
  return [ends[0], ...between, ends[1]]
}

/** So many times the limit a curve may be sharp before it is cut off at the top: the limits keep clear of the axis and of the letters beside it. */
const mostOverLimit = 2.6

/** Curvature that the row reaches to each side: the limit always shows, the sharpest curve fits with air above, up to what would squeeze the limits. */
export function curvatureReach(shapes: readonly CornerShape[], lineClass: LineClass): number {
  const sharpest = Math.max(0, ...shapes.map((shape) => Math.abs(shape.curvature)))
  const limit = 1 / lineClass.minRadiusMm
  return Math.max(Math.min(sharpest * 1.12, mostOverLimit * limit), 1.18 * limit)
}

/** A line of the row cut off where it leaves the reach, level from there to where it comes back. */
export function withinReach(places: readonly CurvaturePoint[], reach: number): readonly CurvaturePoint[] {
  return places.flatMap((place, i) => {
    const from = places[i - 1]
    const held = { ...place, curvature: Math.max(-reach, Math.min(reach, place.curvature)) }
    if (from === undefined) return [held]
    const crossings = [reach, -reach]
      .map((level) => ({ level, part: (level - from.curvature) / (place.curvature - from.curvature) }))
      .filter(({ part }) => part > 0 && part < 1)
      .toSorted((a, b) => a.part - b.part)
      .map(({ level, part }) => ({ stationMm: from.stationMm + part * (place.stationMm - from.stationMm), curvature: level }))
    return [...crossings, held]
  })
}

/** Distances between the ticks of the station scale: the smallest that keeps them this many px apart. */
export function tickStep(pxPerMm: number, units: 'imperial' | 'metric', minPx = 64): number {
  const steps = units === 'metric' ? [50, 100, 200, 500, 1000, 2000, 5000, 10000] : [152.4, 304.8, 609.6, 1219.2, 1828.8, 3048, 6096, 12192]
  return steps.find((step) => step * pxPerMm >= minPx) ?? steps.at(-1) ?? 1000
}

/** Findings of this track that have a station to stand at: its own, and those of what stands on it. */
export function findingsOnTrack(
  findings: readonly Finding[],
  trackId: string,
  turnouts: readonly NetworkTurnout[],
  joints: Table<RailJoint>,
): readonly { readonly finding: Finding; readonly stationMm: number }[] {
  return findings.flatMap((finding) => {
    const { table, record, stationFromMm } = finding
    if (table === 'tracks' && record === trackId && stationFromMm !== null)
      return [{ finding, stationMm: (stationFromMm + (finding.stationToMm ?? stationFromMm)) / 2 }]
    const joint = table === 'railJoints' ? joints[record] : undefined
    if (joint?.track === trackId) return [{ finding, stationMm: joint.stationMm }]
    const turnout = table === 'turnouts' ? turnouts.find((placed) => placed.turnout.id === record) : undefined
    return turnout === undefined ? [] : [{ finding, stationMm: turnout.turnout.stationMm }]
  })
}

export type SolvedAlignment = Extract<Alignment, { readonly ok: true }>
