import {
  boxOfPoints,
  boxUnion,
  pathBox,
  pathIntersections,
  pathLine,
  pathToCubics,
  pointDistance,
  pointLerp,
  polygonContains,
  poseToPlan,
  segmentNearest,
} from '../../geom/index.ts'
import type { Path, Point } from '../../geom/types.ts'
import type { Derived } from '../../pipeline/types.ts'
import type { Joist } from '../../plan/types.ts'
import { crossingWiringOf, wiringOf } from '../../turnout/index.ts'
import type { ThrowSlot } from '../../turnout/index.ts'
import { tablePages, type ListTable } from '../listPages.ts'
import type { DrawItem, SheetOptions, SheetSet } from '../types.ts'
import { lengthWords } from '../words.ts'
import { labelPlaced, labelSpace, placesBeside, placesInside } from './labels.ts'
import { benchSheet, type BenchWords } from './pages.ts'
import { penPath, penPlaced, penRing } from './pen.ts'
import { roomBox } from './room.ts'
import { rightOf, roomLines, type PlaceOn } from './roomLines.ts'
import { scaledPage, scaleWords, type ScaledPage } from './scale.ts'
import { benchCautions, filledTables, left, right } from './words.ts'

type Units = SheetOptions['units']

/** Where the middle line of a track runs over the middle line of a joist. */
export interface JoistCrossing {
  readonly joist: Joist
  readonly track: string
  readonly at: Point
  /** From where the joist's record begins. */
  readonly alongMm: number
  readonly stationMm: number
}

/** A hole for a throw wire, and how near it is to timber. clearMm: from its edge to the nearest joist's; null: there is no joist. */
export interface ThrowPlace {
  readonly name: string
  readonly at: Point
  readonly drillMm: number
  readonly joist: Joist | null
  readonly clearMm: number | null
}

const rimMm = 8
const textMm = 2.6
/** Words stand so far from the line that they belong to. */
const besideMm = 2.7
const nameMm = 3
/** Dots of crossings and rings of holes on the page: seen at any scale. */
const dotMm = 0.7
const holeMm = 1.4
/** Lines of track lie within this of the true ones on the page. */
const drawnMm = 0.02
/** Lines nearer than this to each other meet. */
const meetMm = 0.01

/** Where every track runs over every joist, joist by joist and along it. */
export function joistCrossings({ plan, network }: Derived): readonly JoistCrossing[] {
  return Object.values(plan.joists).flatMap((joist) => {
    if (pointDistance(joist.from, joist.to) === 0) return []
    const line = pathLine(joist.from, joist.to)
    return [...network.tracks.values()]
      .flatMap(({ track, alignment }) =>
        alignment.ok
          ? pathIntersections(line, alignment.path, meetMm).map(
              ({ stationA, stationB, at }): JoistCrossing => ({
                joist,
                track: track.name,
                at,
                alongMm: stationA,
                stationMm: stationB,
              }),
            )
          : [],
      )
      .toSorted((a, b) => a.alongMm - b.alongMm)
  })
}

/** Throw holes of all turnouts and slips, with the joist that is nearest. */
export function throwPlaces({ plan, network }: Derived): readonly ThrowPlace[] {
  const found = (name: string, slots: readonly ThrowSlot[], at: (p: Point) => Point): readonly ThrowPlace[] =>
    slots.map(({ bar, drillMm }) => {
      const middle = at(bar)
      const [nearest] = Object.values(plan.joists)
        .map((joist) => ({ joist, clearMm: segmentNearest(joist.from, joist.to, middle).distanceMm - joist.widthMm / 2 - drillMm / 2 }))
        .toSorted((a, b) => a.clearMm - b.clearMm)
      return { name, at: middle, drillMm, joist: nearest?.joist ?? null, clearMm: nearest?.clearMm ?? null }
    })
  return [
    ...[...network.turnouts.values()].flatMap(({ turnout, result }) =>
      result.ok ? found(turnout.name, wiringOf(result.geometry).slots, (p) => poseToPlan(result.pose, p)) : [],
    ),
    ...[...network.crossings.values()].flatMap(({ record, result, pose }) =>
      result.ok ? found(record?.name ?? 'Crossing', crossingWiringOf(result.crossing).slots, (p) => poseToPlan(pose, p)) : [],
    ),
  ]
}

/** Joists and risers at a round scale, with what runs over them and what is drilled beside them; then the tables. */
export function riserSheets(derived: Derived, options: SheetOptions): SheetSet {
  const title = 'Joists and risers'
  const { plan } = derived
  const ends = boxOfPoints(Object.values(plan.joists).flatMap(({ from, to }) => [from, to]))
  if (ends === null) return { title, sheets: [], problems: ['Joists: the plan has none. Draw them in the Room stage first.'] }
  const crossings = joistCrossings(derived)
  const holes = throwPlaces(derived)
  const room = roomBox(plan)
  const lines = [...derived.network.tracks.values()].flatMap(({ alignment }) => (alignment.ok ? [pathBox(alignment.path, 0)] : []))
  const rings = boxOfPoints(holes.map(({ at }) => at))
  const others = [...(room === null ? [] : [room]), ...lines, ...(rings === null ? [] : [rings])]
  const fitted = scaledPage(others.reduce(boxUnion, ends), rimMm, options)
  if (!fitted.ok) return { title, sheets: [], problems: fitted.problems }
  const { page } = fitted
  const { units } = options
  const words: BenchWords = {
    letter: 'J',
    title,
    facts: [
      'Dot: a track runs over timber there, numbered as in the table. Ring: hole for a throw wire, lettered. Heights: top of the benchwork above the floor.',
    ],
    scale: scaleWords(page.reduction, units),
    caution: benchCautions.wood,
  }
  const items = riserDrawing(derived, crossings, holes, page, units)
  const lists = tablePages(riserTables(derived, crossings, holes, units), page.frame.window).map((list, i) =>
    benchSheet(derived, page.frame, page.options, { ...words, scale: 'A list, not a drawing' }, i + 2, list),
  )
  return { title, sheets: [benchSheet(derived, page.frame, page.options, words, 1, items, page.toPage), ...lists], problems: [] }
}

/** A centreline at the scale of the drawing. */
function trackLine(path: Path, place: PlaceOn, reduction: number): readonly DrawItem[] {
  const { start, segments } = pathToCubics(path, { fromMm: 0, toMm: path.lengthMm, offsetMm: 0, toleranceMm: drawnMm * reduction })
  return penPlaced(
    [
      {
        kind: 'stroke',
        layer: 'sheet',
        role: 'frame',
        start,
        segments: segments.map((cubic) => ({ kind: 'cubic', ...cubic })),
        isClosed: false,
        fill: null,
      },
    ],
    place,
  )
}

function joistRing({ from, to, widthMm }: Joist): readonly Point[] {
  const n = rightOf(from, to)
  const off = (p: Point, mm: number): Point => ({ x: p.x + n.x * mm, y: p.y + n.y * mm })
  return [off(from, widthMm / 2), off(to, widthMm / 2), off(to, -widthMm / 2), off(from, -widthMm / 2)]
}

function riserDrawing(
  { plan, network }: Derived,
  crossings: readonly JoistCrossing[],
  holes: readonly ThrowPlace[],
  { place, frame, reduction }: ScaledPage,
  units: Units,
): readonly DrawItem[] {
  const joists = Object.values(plan.joists)
  const timber = joists.flatMap((joist) => penPath('tick', joistRing(joist).map(place), { isClosed: true, fill: 0.9 }))
  const tracks = [...network.tracks.values()].flatMap(({ alignment }) => (alignment.ok ? trackLine(alignment.path, place, reduction) : []))
  const dots = crossings.map(({ at }) => penRing('gap', place(at), dotMm / 2))
  const rings = holes.map(({ at }) => penRing('hole', place(at), holeMm))
  const lines = [...roomLines(plan, place), ...timber, ...tracks]
  const space = labelSpace(frame.window, [...lines, ...dots, ...rings])
  const names = joists.flatMap((joist) => {
    const [a, b] = [place(joist.from), place(joist.to)]
    const half = joist.widthMm / 2 / reduction
    const off = half + besideMm
    const n = rightOf(a, b)
    // Across the timber where it is too short for its name along it.
    const across = [0.2, 0.35, 0.65, 0.8].flatMap((share) =>
      [1, -1].map((side) => {
        const p = pointLerp(a, b, share)
        const gap = side * (half + 1.4)
        return {
          middle: { x: p.x + n.x * gap, y: p.y + n.y * gap },
          angleRad: 0,
          anchor: n.x * side > 0 ? ('start' as const) : ('end' as const),
        }
      }),
    )
    const isUpright = Math.abs(n.x) > 0.7
    return labelPlaced(space, { text: joist.name, sizeMm: textMm, weight: 'bold' }, [
      ...placesBeside(a, b, off),
      ...placesBeside(a, b, -off),
      ...(isUpright ? across : []),
    ])
  })
  const numbers = crossings.flatMap(({ at }, i) => around(space, place(at), String(i + 1), 'regular'))
  const drills = holes.flatMap(({ at }, i) => around(space, place(at), holeLetter(i), 'bold'))
  const heights = Object.values(plan.benchworks).flatMap(({ name, outline, holes: inner, heightMm }) =>
    labelPlaced(
      space,
      { text: `${name}, ${lengthWords(heightMm, units)} high`, sizeMm: nameMm, grey: 0.2 },
      placesInside(
        outline.map(place),
        inner.map((ring) => ring.map(place)),
      ),
    ),
  )
  return [...lines, ...dots, ...rings, ...names, ...numbers, ...drills, ...heights]
}

/** A, B … Z, A1, B1 … */
function holeLetter(index: number): string {
  const round = Math.floor(index / 26)
  return `${String.fromCharCode(65 + (index % 26))}${round === 0 ? '' : round}`
}

const aroundSteps = [0.5, -0.5, 2.6, -2.6, 1.57, -1.57, 0, Math.PI]

/** Words beside a mark, on whichever side is free. */
function around(space: ReturnType<typeof labelSpace>, at: Point, text: string, weight: 'regular' | 'bold'): readonly DrawItem[] {
  return labelPlaced(
    space,
    { text, sizeMm: textMm, weight },
    [2.6, 4.2].flatMap((off) =>
      aroundSteps.map((rad) => ({
        middle: { x: at.x + off * Math.cos(rad), y: at.y + off * Math.sin(rad) },
        angleRad: 0,
        anchor: Math.abs(Math.cos(rad)) < 0.2 ? ('middle' as const) : Math.cos(rad) > 0 ? ('start' as const) : ('end' as const),
      })),
    ),
  )
}

function riserTables(
  { plan }: Derived,
  crossings: readonly JoistCrossing[],
  holes: readonly ThrowPlace[],
  units: Units,
): readonly ListTable[] {
  const size = (mm: number): string => lengthWords(mm, units)
  const heightAt = (p: Point): string => {
    const found = Object.values(plan.benchworks).find((benchwork) => polygonContains(benchwork, p))
    return found === undefined ? '–' : size(found.heightMm)
  }
  return filledTables([
    {
      title: 'Timber',
      notes: [
        'Height: top of the benchwork over its middle. A plan has no heights of track yet: where track climbs, risers are longer by as much.',
      ],
      columns: [left(''), right('Length'), right('Width'), right('Benchwork above floor'), right('Tracks over it')],
      rows: Object.values(plan.joists).map((joist) => [
        joist.name,
        size(pointDistance(joist.from, joist.to)),
        size(joist.widthMm),
        heightAt(pointLerp(joist.from, joist.to, 0.5)),
        String(crossings.filter((crossing) => crossing.joist === joist).length),
      ]),
    },
    {
      title: 'Where tracks run over timber',
      notes: ['Along the timber from where it begins in the plan; station along the track.'],
      columns: [right(''), left('Timber'), left('Track'), right('Along the timber'), right('Station'), right('Benchwork above floor')],
      rows: crossings.map(({ joist, track, at, alongMm, stationMm }, i) => [
        String(i + 1),
        joist.name,
        track,
        size(alongMm),
        size(stationMm),
        heightAt(at),
      ]),
    },
    {
      title: 'Throw holes',
      notes: ['Drill: for the usual wire through the usual deck. Clear: from the edge of the hole to the edge of the nearest timber.'],
      columns: [left(''), left('Turnout'), right('Drill'), left('Nearest timber'), right('Clear')],
      rows: holes.map(({ name, drillMm, joist, clearMm }, i) => [
        holeLetter(i),
        name,
        size(drillMm),
        joist?.name ?? '–',
        clearMm === null ? '–' : clearMm < 0 ? 'in the timber' : size(clearMm),
      ]),
    },
  ])
}
