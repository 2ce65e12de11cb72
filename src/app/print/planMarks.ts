import type { TraceShape } from '../../core/deliver/index.ts'
import { boxOfPoints, pathPoseAt, poseOffset } from '../../core/geom/index.ts'
import type { Box, Point } from '../../core/geom/types.ts'
import type { Finding } from '../../core/checks/types.ts'
import type { Network } from '../../core/network/types.ts'
import type { Plan, Wall } from '../../core/plan/types.ts'
import type { TraceMark } from '../../formats/traceSvg.ts'
import { openingLeaf, openingRings } from '../../tools/index.ts'
import { wallOutline } from '../canvas/wallOutline.ts'
import { lengthText } from '../../words/measure.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { turnoutNames } from './turnoutNames.ts'

/* What a printed plan has over its lines: walls as thick as they are, doors, overall sizes, a scale bar, names of turnouts, and the numbers of its lists. */

const ink = '#22302f'
const red = '#b3412a'

/** Height of figures and words, px of the picture: 3 mm on a page of Letter or A4. */
const textPx = 22
/** The same of the names of turnouts: there are many, and they stand close. */
const namePx = 16
/** From the outermost line to the first measure, px. */
const clearPx = 34

export interface PlanMarked {
  readonly plan: Plan
  readonly network: Network
  readonly findings: readonly Finding[]
  readonly prefs: MeasurePrefs
}

export function planMarks({ plan, network, findings, prefs }: PlanMarked, mmPerPx: number): readonly TraceMark[] {
  const px = (count: number): number => count * mmPerPx
  const text = (at: Point, words: string, colour = ink, angleRad = 0, highPx = textPx): TraceMark => ({
    shape: { kind: 'text', at, heightMm: px(highPx), angleRad, text: words },
    colour,
    widthPx: 0,
  })
  const walls = Object.values(plan.walls)
  const bodies = walls.flatMap(wallBody)
  const ways = Object.values(plan.openings).flatMap((opening): readonly TraceMark[] => {
    const wall = plan.walls[opening.wall]
    if (wall === undefined) return []
    const leaf = openingLeaf(wall, opening)
    const swing: readonly TraceMark[] =
      leaf === null ? [] : [leaf.leaf, leaf.arc].map((points) => ({ shape: chain(points), colour: ink, widthPx: 1.5 }))
    return [...openingRings(wall, opening).map((points) => ring(points, opening.sillMm === null ? '#ffffff' : '#e7ecec')), ...swing]
  })
  const tracks = Object.keys(plan.tracks).flatMap((id, i): readonly TraceMark[] => {
    const alignment = network.tracks.get(id)?.alignment
    if (alignment?.ok !== true || alignment.path.elements.length === 0) return []
    return [text(poseOffset(pathPoseAt(alignment.path, alignment.path.lengthMm / 2), px(16)), `${i + 1}`)]
  })
  const r = px(19)
  const taken: Point[] = []
  const found = findings.flatMap(({ x, y }, i): readonly TraceMark[] => {
    let at = { x, y: y + px(26) }
    // Where several lie at one place they stand over each other.
    while (taken.some((other) => Math.abs(other.x - at.x) + Math.abs(other.y - at.y) < 2 * r)) at = { x, y: at.y + 2 * r }
    taken.push(at)
    const diamond = [
      { x: at.x, y: at.y - r },
      { x: at.x + r, y: at.y },
      { x: at.x, y: at.y + r },
      { x: at.x - r, y: at.y },
    ]
    return [{ ...ring(diamond, '#ffffff'), colour: red }, text({ x: at.x, y: at.y - px(textPx * 0.36) }, `${i + 1}`, red)]
  })
  const words = [...tracks, ...found].flatMap(({ shape }) => (shape.kind === 'text' ? [shape.at] : []))
  const names = turnoutNames(network.turnouts.values(), px(namePx), words).map(({ name, at, angleRad }) =>
    text(at, name, ink, angleRad, namePx),
  )
  const room = boxOfPoints(walls.flatMap(({ points }) => points))
  const bench = boxOfPoints(Object.values(plan.benchworks).flatMap(({ outline }) => outline))
  const all = boxOfPoints([
    ...[...bodies, ...ways].flatMap(({ shape }) => (shape.kind === 'polyline' ? shape.points : [])),
    ...[room, bench].flatMap((box) => (box === null ? [] : corners(box))),
  ])
  if (all === null) return [...tracks, ...names, ...found]
  const length = (mm: number): string => lengthText(mm, prefs, 'room')
  const size = (box: Box, away: 1 | -1, word: string): readonly TraceMark[] => {
    const y = away === 1 ? all.maxY + px(clearPx) : all.minY - px(clearPx)
    const x = away === 1 ? all.maxX + px(clearPx) : all.minX - px(clearPx)
    return [
      ...measure({ x: box.minX, y }, { x: box.maxX, y }, px(6)),
      text({ x: (box.minX + box.maxX) / 2, y: y + px(6) }, `${word} ${length(box.maxX - box.minX)}`),
      ...measure({ x, y: box.minY }, { x, y: box.maxY }, px(6)),
      text({ x: x - px(6), y: (box.minY + box.maxY) / 2 }, `${word} ${length(box.maxY - box.minY)}`, ink, Math.PI / 2),
    ]
  }
  const barMm = scaleBarMm(px(280), prefs)
  const bar = { x: all.minX, y: all.minY - px(clearPx + (room === null ? 0 : 2 * textPx)) }
  return [
    ...bodies,
    ...ways,
    ...tracks,
    ...names,
    ...found,
    ...(room === null ? [] : size(room, -1, 'Room')),
    ...(bench === null ? [] : size(bench, 1, 'Benchwork')),
    ...measure(bar, { x: bar.x + barMm, y: bar.y }, px(9)),
    text({ x: bar.x + barMm / 2, y: bar.y + px(8) }, length(barMm)),
  ]
}

/** The largest round length in the person's own rule that is no longer than asked, mm. */
export function scaleBarMm(mostMm: number, { units }: MeasurePrefs): number {
  const unit = units === 'metric' ? 100 : 304.8
  const steps = [50, 20, 10, 5, 2, 1].map((step) => step * unit)
  return steps.find((mm) => mm <= mostMm) ?? unit
}

/** The body of a wall, and its two faces over it: a closed one is filled side by side, so that the room stays open. */
function wallBody({ points, thicknessMm, isClosed }: Wall): readonly TraceMark[] {
  const rings = wallOutline(points, thicknessMm, isClosed)
  const [face = [], back = []] = rings
  const parts = isClosed ? face.map((a, i) => [a, face.at(i - 1) ?? a, back.at(i - 1) ?? a, back[i] ?? a]) : rings
  return [...parts.map((part) => ({ ...ring(part, '#cfc8b6'), widthPx: 0 })), ...rings.map((outline) => ring(outline, 'none'))]
}

const chain = (points: readonly Point[]): TraceShape => ({ kind: 'polyline', points, isClosed: false })

const ring = (points: readonly Point[], fill: string): TraceMark => ({
  shape: { kind: 'polyline', points, isClosed: true },
  colour: ink,
  widthPx: 1.5,
  fill,
})

/** A line with a tick at both ends. */
function measure(from: Point, to: Point, tickMm: number): readonly TraceMark[] {
  const isUpright = from.x === to.x
  const tick = ({ x, y }: Point): readonly Point[] =>
    isUpright
      ? [
          { x: x - tickMm, y },
          { x: x + tickMm, y },
        ]
      : [
          { x, y: y - tickMm },
          { x, y: y + tickMm },
        ]
  return [[from, to], tick(from), tick(to)].map((points) => ({ shape: chain(points), colour: ink, widthPx: 1.5 }))
}

const corners = ({ minX, minY, maxX, maxY }: Box): readonly Point[] => [
  { x: minX, y: minY },
  { x: maxX, y: maxY },
]
