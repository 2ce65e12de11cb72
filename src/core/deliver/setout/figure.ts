import { pathToCubics, pointLerp, pointPolar, poseToPlan } from '../../geom/index.ts'
import type { Path, Point, Pose } from '../../geom/types.ts'
import { setoutLengthText, setoutValueText } from './marks.ts'
import {
  sketchLay,
  sketchLine,
  type SketchDimension,
  type SketchLabel,
  type SketchLine,
  type SketchPart,
  type SketchSpot,
} from './sketch.ts'
import { stickAt } from './stick.ts'
import type { SetoutFigure, SetoutGroup, SetoutRequest, SetoutRow, SetoutSubject } from './types.ts'

/** Drawn line within this of the true one, mm of the plan: a tenth of a pencil line at the scale of a figure. */
const DRAWN_MM = 0.2

/** The figure of a table: the line, what is measured from, and one measure as it is taken. Of the base with most places. */
export function figureDraw(
  subject: SetoutSubject,
  request: SetoutRequest,
  groups: readonly SetoutGroup[],
  fromMm: number,
  toMm: number,
): SetoutFigure {
  const group = groups.reduce((most, other) => (most === undefined || other.rows.length > most.rows.length ? other : most), groups[0])
  const sample = group && sampleOf(group)
  if (!group || !sample) return sketchLay({ x: 0, y: 0, headingRad: 0 }, [])
  const scene: Scene = { subject, request, group, sample, fromMm, toMm }
  const { base } = group
  switch (base.kind) {
    case 'tangent':
    case 'chord':
    case 'edge':
    case 'lath':
      return offsetFigure(scene, base.frame)
    case 'instrument':
      return instrumentFigure(scene, base.frame, base.name)
    case 'centre':
      return centreFigure(scene)
    case 'pins':
      return pinsFigure(scene)
    case 'stick':
      return stickFigure(scene, base.chordMm)
  }
}

/** The row that shows best how it is measured: offsets neither too small to see nor the last one; else one well along. */
function sampleOf({ base, rows }: SetoutGroup): SetoutRow | undefined {
  const along = rows[Math.min(rows.length - 1, Math.floor((rows.length * 2) / 3))]
  if (base.kind !== 'tangent' && base.kind !== 'chord') return along
  const offset = (row: SetoutRow): number => Math.abs(row.values[1]?.exact ?? 0)
  const half = 0.5 * Math.max(...rows.map(offset))
  return rows.reduce((best, row) => (best && Math.abs(offset(row) - half) >= Math.abs(offset(best) - half) ? best : row), rows[0])
}

interface Scene {
  readonly subject: SetoutSubject
  readonly request: SetoutRequest
  readonly group: SetoutGroup
  readonly sample: SetoutRow
  readonly fromMm: number
  readonly toMm: number
}

/** Value of the sample row under a column, as it is set at the bench. */
function valueText({ group, sample, request }: Scene, column: number): string {
  const about = group.columns[column]
  const value = sample.values[column]
  if (!about || !value) return ''
  return setoutValueText({ ...about, isSided: false }, Math.abs(value.rounded), request.marks, request.angleStepRad)
}

function lineOf(path: Path, fromMm: number, toMm: number): readonly SketchLine[] {
  const { start, segments } = pathToCubics(path, { fromMm, toMm, offsetMm: 0, toleranceMm: DRAWN_MM })
  return [
    { kind: 'line', role: 'mark', chain: { start, segments: segments.map((cubic) => ({ kind: 'cubic', ...cubic })) }, isContext: false },
  ]
}

function rowsLine({ subject, group }: Scene): readonly SketchLine[] {
  const stations = group.rows.map(({ stationMm }) => stationMm)
  const [from, to] = [Math.min(...stations), Math.max(...stations)]
  return to > from ? lineOf(subject.path, from, to) : []
}

const label = (at: Point, text: string, dx: number, dy: number, weight: SketchLabel['weight'] = 'regular'): SketchLabel => ({
  kind: 'label',
  at,
  text,
  dx,
  dy,
  weight,
})
const spot = (at: Point, isFilled: boolean): SketchSpot => ({ kind: 'spot', at, isFilled })
const dimension = (a: Point, b: Point, asideMm: number, text: string): SketchDimension => ({ kind: 'dimension', a, b, asideMm, text })

/** Benchwork and walls round about, faint. */
function roomLines({ subject }: Scene): readonly SketchLine[] {
  const closed = (points: readonly Point[]): readonly Point[] => (points[0] ? [...points, points[0]] : [])
  return [
    ...Object.values(subject.room.benchworks).flatMap(({ outline }) => sketchLine('benchwork', closed(outline), true)),
    ...Object.values(subject.room.walls).flatMap(({ points, isClosed }) => sketchLine('frame', isClosed ? closed(points) : points, true)),
  ]
}

function offsetFigure(scene: Scene, frame: Pose): SetoutFigure {
  const { group, sample } = scene
  const { base } = group
  const alongs = group.rows.map(({ values }) => values[0]?.exact ?? 0)
  const onBase = (along: number): Point => poseToPlan(frame, { x: along, y: 0 })
  const along = sample.values[0]?.exact ?? 0
  const offset = sample.values[1]?.exact ?? 0
  const away = offset >= 0 ? -1 : 1
  const origin = onBase(0)
  const foot = onBase(along)
  const originName =
    base.kind === 'tangent'
      ? base.datum
      : base.kind === 'lath'
        ? base.side === 'in'
          ? 'TS'
          : 'ST'
        : base.kind === 'edge'
          ? base.edge.name
          : 'from'
  const isEdge = base.kind === 'edge'
  const parts: readonly SketchPart[] = [
    ...(isEdge ? roomLines(scene) : []),
    ...sketchLine(isEdge ? 'scale-bar' : 'tangent', [onBase(Math.min(0, ...alongs)), onBase(Math.max(0, ...alongs))]),
    ...rowsLine(scene),
    ...sketchLine('tick', [foot, sample.at]),
    ...(along === 0 ? [] : [dimension(origin, foot, (along > 0 ? 1 : -1) * away * 4, valueText(scene, 0))]),
    label(pointLerp(foot, sample.at, 0.5), valueText(scene, 1), 1.4, 0),
    label(origin, originName, isEdge ? 1 : -1.6, isEdge ? away * 8.6 : base.kind === 'lath' ? -away * 2.6 : 0, 'bold'),
    spot(origin, true),
    spot(sample.at, false),
    ...group.rows
      .filter((row) => row.name !== '' && row.name !== 'pin' && row.name !== originName)
      .map((row) => label(row.at, row.name, 0, -away * 2.8)),
    ...(base.kind === 'lath' ? group.rows.map((row) => spot(row.at, row.name === 'pin')) : []),
  ]
  return sketchLay(frame, parts)
}

function instrumentFigure(scene: Scene, frame: Pose, name: string): SetoutFigure {
  const { group, sample } = scene
  const eye: Point = { x: frame.x, y: frame.y }
  const index = group.rows.indexOf(sample)
  const before = group.rows[index - 1]?.at ?? eye
  const reach = Math.max(...group.rows.map(({ values }) => values[2]?.exact ?? 0))
  const deflection = sample.values[0]?.exact ?? 0
  const away = deflection >= 0 ? -1 : 1
  const last = group.rows.at(-1)
  const swing = Array.from({ length: 9 }, (_, i): Point => {
    const p = pointPolar((deflection * i) / 8, reach * 0.45)
    return poseToPlan(frame, p)
  })
  return sketchLay(frame, [
    ...sketchLine('tangent', [eye, poseToPlan(frame, { x: reach, y: 0 })]),
    ...(last ? lineOf(scene.subject.path, group.base.kind === 'instrument' ? group.base.stationMm : sample.stationMm, last.stationMm) : []),
    ...sketchLine('tick', [eye, sample.at]),
    ...sketchLine('tick', swing),
    ...sketchLine('gap', [before, sample.at]),
    label(poseToPlan(frame, { x: reach * 0.45, y: 0 }), valueText(scene, 0), 0, away * 3),
    label(pointLerp(before, sample.at, 0.5), `chord ${valueText(scene, 1)}`, 2.4, away * 1.6),
    label(eye, name, -1.6, 0, 'bold'),
    spot(eye, true),
    ...group.rows.map(({ at }) => spot(at, false)),
  ])
}

function centreFigure(scene: Scene): SetoutFigure {
  const { subject, group, sample } = scene
  const { base } = group
  if (base.kind !== 'centre') return sketchLay({ x: 0, y: 0, headingRad: 0 }, [])
  const [start, end] = [sample.values[3]?.exact ?? 0, sample.values[4]?.exact ?? 0]
  const onArc = (headingRad: number): Point => poseToPlan({ ...base.centre, headingRad }, { x: sample.values[2]?.exact ?? 0, y: 0 })
  const middle = onArc(0.5 * (start + end))
  const ties = (base.pins ?? []).flatMap((pin, i): readonly SketchPart[] => [
    ...sketchLine('tick', [pin, base.centre]),
    label(pointLerp(pin, base.centre, 0.5), valueText(scene, 5 + i), 1.4, 0),
    label(pin, i === 0 ? 'A' : 'B', -1.8, 0, 'bold'),
    spot(pin, true),
  ])
  return sketchLay({ x: 0, y: 0, headingRad: 0 }, [
    ...roomLines(scene),
    ...lineOf(subject.path, sample.stationMm, base.toStationMm),
    ...sketchLine('tangent', [sample.at, base.centre]),
    ...sketchLine('tangent', [base.centre, onArc(end)]),
    ...sketchLine('tick', [base.centre, middle]),
    ...ties,
    label(pointLerp(base.centre, middle, 0.72), `R ${valueText(scene, 2)}`, 1.4, 0),
    label(base.centre, 'centre', 1.8, 2.4, 'bold'),
    spot(base.centre, true),
    label(sample.at, sample.name, 1.6, -2.4),
  ])
}

function pinsFigure(scene: Scene): SetoutFigure {
  const { group, sample } = scene
  const { base } = group
  if (base.kind !== 'pins') return sketchLay({ x: 0, y: 0, headingRad: 0 }, [])
  return sketchLay({ x: 0, y: 0, headingRad: 0 }, [
    ...roomLines(scene),
    ...rowsLine(scene),
    ...base.pins.flatMap((pin, i): readonly SketchPart[] => [
      ...sketchLine('tick', [pin, sample.at]),
      label(pointLerp(pin, sample.at, 0.5), valueText(scene, i), 1.4, 0),
      label(pin, i === 0 ? 'A' : 'B', -1.8, 0, 'bold'),
      spot(pin, true),
    ]),
    ...group.rows.filter((row) => row.name !== '').map((row) => label(row.at, row.name, 1.6, 2.2)),
    spot(sample.at, false),
  ])
}

function stickFigure(scene: Scene, chordMm: number): SetoutFigure {
  const { subject, group, request } = scene
  // Where the line curves most there is most to see.
  const most = group.rows.reduce(
    (best, row) => (Math.abs(row.values[0]?.exact ?? 0) > Math.abs(best.values[0]?.exact ?? 0) ? row : best),
    scene.sample,
  )
  const place = stickAt(subject.path, subject.isClosed, most.stationMm, 0, chordMm)
  if (place === null) return sketchLay({ x: 0, y: 0, headingRad: 0 }, [])
  const { a, b, at } = place
  const frame: Pose = { ...a, headingRad: Math.atan2(b.y - a.y, b.x - a.x) }
  const middle = pointLerp(a, b, 0.5)
  const side = place.ordinateMm >= 0 ? 1 : -1
  const [from, to] = [Math.max(0, most.stationMm - 0.7 * chordMm), Math.min(subject.path.lengthMm, most.stationMm + 0.7 * chordMm)]
  return sketchLay(frame, [
    ...lineOf(subject.path, from, to),
    ...sketchLine('gap', [a, b]),
    ...sketchLine('tick', [middle, at]),
    dimension(a, b, side * 4, setoutLengthText(chordMm, request.marks)),
    label(pointLerp(middle, at, 0.5), valueText({ ...scene, sample: most }, 0), 1.4, 0),
    label(at, `station ${setoutLengthText(most.stationMm, request.marks)}`, 0, -side * 3.2),
    spot(at, false),
  ])
}
