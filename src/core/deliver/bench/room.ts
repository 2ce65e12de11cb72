import { openingPlace } from '../../checks/room/walls.ts'
import {
  boxGrow,
  boxOfPoints,
  pointCross,
  pointDistance,
  pointDot,
  pointLerp,
  pointSubtract,
  polylineSides,
  ringArea,
  ringNearest,
  segmentNearest,
} from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import type { Derived } from '../../pipeline/types.ts'
import { recordFind } from '../../plan/index.ts'
import type { Opening, Plan, Wall } from '../../plan/types.ts'
import { benchAngleWords } from '../build/words.ts'
import { tablePages, type ListTable } from '../listPages.ts'
import type { DrawItem, SheetOptions, SheetSet } from '../types.ts'
import { lengthWords } from '../words.ts'
import { dimensionItems, firstPlaced, labelPlaced, labelSpace, placesBeside, placesInside } from './labels.ts'
import { benchSheet, type BenchWords } from './pages.ts'
import { doorReach, openingPoint, roomLines } from './roomLines.ts'
import { scaledPage, scaleWords, type ScaledPage } from './scale.ts'
import { benchCautions, filledTables, left, right } from './words.ts'

type Units = SheetOptions['units']

/** One straight length of a wall, and the angle to the next as seen from the room; null: the wall ends there. */
export interface WallSide {
  readonly name: string
  readonly a: Point
  readonly b: Point
  readonly lengthMm: number
  readonly angleRad: number | null
}

const rimMm = 15
const textMm = 2.6
const nameMm = 3
const dimensionMm = 6
/** Words stand so far from the line that they belong to. */
const besideMm = 2.7
const smallMm = 2.2

/** The lengths of a wall in its order, each with the angle at its far end on the side of the room: of a closed wall inside, else to the left. */
export function wallSides({ name, points, isClosed }: Wall): readonly WallSide[] {
  const isInsideRight = isClosed && ringArea(points) < 0
  const sides = polylineSides(points, isClosed)
  return sides.map(({ index, a, b, lengthMm }, i) => {
    const next = sides[i + 1] ?? (isClosed ? sides[0] : undefined)
    const turnRad = next === undefined ? null : turnBetween(pointSubtract(b, a), pointSubtract(next.b, next.a))
    const angleRad = turnRad === null ? null : Math.PI + (isInsideRight ? turnRad : -turnRad)
    return { name: sides.length === 1 ? name : `${name} ${index + 1}`, a, b, lengthMm, angleRad }
  })
}

const turnBetween = (one: Point, next: Point): number => Math.atan2(pointCross(one, next), pointDot(one, next))

/** The room at a round scale with its dimensions, then all of them as tables. */
export function roomSheets(derived: Derived, options: SheetOptions): SheetSet {
  const title = 'Room and benchwork'
  const { plan } = derived
  const box = roomBox(plan)
  if (box === null) return { title, sheets: [], problems: ['Room: the plan has neither walls nor benchwork yet.'] }
  const fitted = scaledPage(box, rimMm, options)
  if (!fitted.ok) return { title, sheets: [], problems: fitted.problems }
  const { page } = fitted
  const { units } = options
  const words: BenchWords = {
    letter: 'R',
    title,
    facts: ['Walls at the face that is measured, angles on the side of the room. What has no room beside its line stands in the tables.'],
    scale: scaleWords(page.reduction, units),
    caution: benchCautions.room,
  }
  const drawing = benchSheet(derived, page.frame, page.options, words, 1, roomDrawing(plan, page, units), page.toPage)
  const lists = tablePages(roomTables(plan, units), page.frame.window).map((items, i) =>
    benchSheet(derived, page.frame, page.options, { ...words, scale: 'A list, not a drawing' }, i + 2, items),
  )
  return { title, sheets: [drawing, ...lists], problems: [] }
}

/** Everything that stands in the room, walls with their thickness and doors as they swing. null: nothing does. */
export function roomBox({ walls, benchworks, obstacles, openings, hatches }: Plan): ReturnType<typeof boxOfPoints> {
  const points = [
    ...Object.values(walls).flatMap((wall) => wall.points),
    ...Object.values(benchworks).flatMap(({ outline, holes }) => [outline, ...holes].flat()),
    ...Object.values(hatches).flatMap(({ outline }) => outline),
    ...Object.values(obstacles).flatMap(({ outline }) => outline),
    ...Object.values(openings).flatMap((opening) => doorReach(opening, walls[opening.wall] ?? null)),
  ]
  const box = boxOfPoints(points)
  return box === null ? null : boxGrow(box, Math.max(0, ...Object.values(walls).map(({ thicknessMm }) => thicknessMm)))
}

function roomDrawing(plan: Plan, { place, frame, reduction }: ScaledPage, units: Units): readonly DrawItem[] {
  const lines = roomLines(plan, place)
  const space = labelSpace(frame.window, lines)
  const size = (mm: number): string => lengthWords(mm, units)
  const sides = Object.values(plan.walls).flatMap((wall) =>
    wallSides(wall).flatMap((side): readonly DrawItem[] => {
      const isInsideRight = wall.isClosed && ringArea(wall.points) < 0
      const thick = wall.thicknessMm / reduction
      const [a, b] = [place(side.a), place(side.b)]
      const off = isInsideRight ? -dimensionMm : thick + dimensionMm
      const n = { x: side.b.x, y: side.b.y }
      return [
        ...dimensionItems(space, {
          a,
          b,
          offMm: off,
          fromMm: isInsideRight ? -1 : thick + 1,
          text: `${side.name}: ${size(side.lengthMm)}`,
          sizeMm: textMm,
        }),
        ...(side.angleRad === null ? [] : angleLabel(space, place(n), a, place(cornerAfter(wall, side)), side.angleRad)),
      ]
    }),
  )
  const openings = Object.values(plan.openings).flatMap((opening) => {
    const found = openingPlace(opening, recordFind(plan, 'walls', opening.wall))
    if (found === null) return []
    const [a, b] = [place(openingPoint(found, 0, 0)), place(openingPoint(found, 1, 0))]
    const what = `${opening.name} ${size(opening.widthMm)}${opening.sillMm === null ? '' : `, sill ${size(opening.sillMm)}`}`
    const whole = `${what}, ${size(openingFrom(plan, opening).fromMm)} from corner`
    const thick = found.thicknessMm / reduction
    const places = [...placesBeside(a, b, -2.4), ...placesBeside(a, b, thick + 2.4), ...placesBeside(a, b, -5.6)]
    return firstPlaced([whole, what].map((text) => () => labelPlaced(space, { text, sizeMm: textMm }, places)))
  })
  const benches = Object.values(plan.benchworks).flatMap(({ name, outline, holes, heightMm }) => {
    const rings = [outline, ...holes].map((ring) => ring.map(place))
    const [ring = [], ...inner] = rings
    const places = placesInside(ring, inner)
    const [full, short] = [`${name}, ${size(heightMm)} high`, name]
    const heads = firstPlaced([
      () => labelPlaced(space, { text: full, sizeMm: nameMm, weight: 'bold' }, places),
      () => labelPlaced(space, { text: full, sizeMm: smallMm, weight: 'bold' }, places),
      () => labelPlaced(space, { text: short, sizeMm: smallMm, weight: 'bold' }, places),
    ])
    return [...heads, ...[outline, ...holes].flatMap((edge, i) => edgeLabels(space, edge, rings[i] ?? [], size))]
  })
  const posts = Object.values(plan.obstacles).flatMap(({ name, outline, undersideMm }) => {
    const box = boxOfPoints(outline.map(place))
    if (!box) return []
    const text = undersideMm > 0 ? `${name}, from ${size(undersideMm)} up` : name
    const [x, y] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2]
    return labelPlaced(space, { text, sizeMm: textMm, weight: 'bold' }, [
      { middle: { x: box.maxX + 1.2, y }, angleRad: 0, anchor: 'start' },
      { middle: { x: box.minX - 1.2, y }, angleRad: 0, anchor: 'end' },
      { middle: { x, y: box.maxY + 2.4 }, angleRad: 0, anchor: 'middle' },
      { middle: { x, y: box.minY - 2.4 }, angleRad: 0, anchor: 'middle' },
    ])
  })
  return [...lines, ...sides, ...openings, ...benches, ...posts]
}

function cornerAfter({ points }: Wall, { b }: WallSide): Point {
  const i = points.indexOf(b)
  return points[(i + 1) % points.length] ?? b
}

/** The angle in its corner, where the room is; a right one is marked by a square. */
function angleLabel(space: ReturnType<typeof labelSpace>, at: Point, before: Point, after: Point, angleRad: number): readonly DrawItem[] {
  const unit = (to: Point): Point => {
    const mm = pointDistance(at, to) || 1
    return { x: (to.x - at.x) / mm, y: (to.y - at.y) / mm }
  }
  const [u, v] = [unit(before), unit(after)]
  const sum = { x: u.x + v.x, y: u.y + v.y }
  const mm = Math.hypot(sum.x, sum.y)
  const inward = mm < 1e-6 ? { x: -v.y, y: v.x } : { x: sum.x / mm, y: sum.y / mm }
  // Past half a turn the room lies on the other side of the bisector.
  const sign = angleRad > Math.PI ? -1 : 1
  return labelPlaced(
    space,
    { text: benchAngleWords(angleRad), sizeMm: textMm, grey: 0.2 },
    [6, 8, 10, 13].map((off) => ({
      middle: { x: at.x + sign * inward.x * off, y: at.y + sign * inward.y * off },
      angleRad: 0,
      anchor: 'middle',
    })),
  )
}

/** The length of every side of a ring beside it, inside first, where it is as long as its words. */
function edgeLabels(
  space: ReturnType<typeof labelSpace>,
  ring: readonly Point[],
  onPage: readonly Point[],
  size: (mm: number) => string,
): readonly DrawItem[] {
  const inside = ringArea(ring) < 0 ? 1 : -1
  return ring.flatMap((p, i) => {
    const [q, a, b] = [ring[(i + 1) % ring.length], onPage[i], onPage[(i + 1) % onPage.length]]
    if (!q || !a || !b || pointDistance(a, b) < 7) return []
    return labelPlaced(space, { text: size(pointDistance(p, q)), sizeMm: textMm, grey: 0.2 }, [
      ...placesBeside(a, b, inside * besideMm),
      ...placesBeside(a, b, -inside * besideMm),
    ])
  })
}

function boxWords(ring: readonly Point[], size: (mm: number) => string): string {
  const box = boxOfPoints(ring)
  return box === null ? '–' : `${size(box.maxX - box.minX)} × ${size(box.maxY - box.minY)}`
}

/** Every number of the room: nothing hangs on there being room for it in the drawing. */
export function roomTables(plan: Plan, units: Units): readonly ListTable[] {
  const size = (mm: number): string => lengthWords(mm, units)
  const sides = Object.values(plan.walls).flatMap(wallSides)
  const area = (mm2: number): string => (units === 'metric' ? `${(mm2 / 1e6).toFixed(2)} m²` : `${(mm2 / 92_903.04).toFixed(1)} sq ft`)
  return filledTables([
    {
      title: 'Walls',
      notes: ['Length of the face that is measured; angle to the next length, on the side of the room.'],
      columns: [left('Wall'), right('Length'), right('Angle after it')],
      rows: sides.map(({ name, lengthMm, angleRad }) => [name, size(lengthMm), angleRad === null ? '–' : benchAngleWords(angleRad)]),
    },
    {
      title: 'Doors, passages and windows',
      notes: ['From where that length of wall begins to the nearer edge, in the order of the walls.'],
      columns: [left(''), left('Wall'), right('From'), right('Width'), right('Sill')],
      rows: Object.values(plan.openings).map((opening) => {
        const { wall, fromMm } = openingFrom(plan, opening)
        return [opening.name, wall, size(fromMm), size(opening.widthMm), opening.sillMm === null ? '–' : size(opening.sillMm)]
      }),
    },
    {
      title: 'Posts and pipes',
      notes: ['Across and up the drawing; least distance to the two nearest lengths of wall.'],
      columns: [left(''), right('Size'), right('Above the floor'), left('To the walls')],
      rows: Object.values(plan.obstacles).map(({ name, outline, undersideMm }) => [
        name,
        boxWords(outline, size),
        undersideMm > 0 ? size(undersideMm) : 'stands on it',
        nearestWalls(outline, sides)
          .map((near) => `${near.name}: ${size(near.mm)}`)
          .join(' · '),
      ]),
    },
    {
      title: 'Benchwork',
      notes: ['Size across and up the drawing, surface without its holes. Sides in the order of the outline.'],
      columns: [left(''), right('Top above floor'), right('Size'), right('Surface'), left('Sides')],
      rows: Object.values(plan.benchworks).map(({ name, heightMm, outline, holes }) => [
        name,
        size(heightMm),
        boxWords(outline, size),
        area(Math.abs(ringArea(outline)) - holes.reduce((sum, hole) => sum + Math.abs(ringArea(hole)), 0)),
        outline.map((p, i) => size(pointDistance(p, outline[(i + 1) % outline.length] ?? p))).join(' · '),
      ]),
    },
  ])
}

/** The length of wall that an opening is in, and how far along it. */
export function openingFrom(plan: Plan, opening: Opening): { readonly wall: string; readonly fromMm: number } {
  const wall = recordFind(plan, 'walls', opening.wall)
  let startMm = 0
  for (const { name, lengthMm } of wall === null ? [] : wallSides(wall)) {
    if (opening.fromMm < startMm + lengthMm) return { wall: name, fromMm: opening.fromMm - startMm }
    startMm += lengthMm
  }
  return { wall: wall?.name ?? '–', fromMm: opening.fromMm }
}

/** The two lengths of wall that are nearest to an outline. */
function nearestWalls(outline: readonly Point[], sides: readonly WallSide[]): readonly { readonly name: string; readonly mm: number }[] {
  return sides
    .map(({ name, a, b }) => ({
      name,
      mm: Math.min(
        ...outline.map((p) => segmentNearest(a, b, p).distanceMm),
        ...[a, b, pointLerp(a, b, 0.5)].map((p) => Math.abs(ringNearest(outline, p)?.distanceMm ?? Infinity)),
      ),
    }))
    .toSorted((one, other) => one.mm - other.mm)
    .slice(0, 2)
}
