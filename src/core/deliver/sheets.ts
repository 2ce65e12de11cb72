import { boxesOverlap, boxGrow, boxOfPoints, pointRotate } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'
import type { Derived } from '../pipeline/types.ts'
import type { LayingLists } from '../shopping/types.ts'
import { benchSheets } from './bench/bench.ts'
import { builtWorkSet } from './build/builtWork.ts'
import { roadbedDrawing } from './build/roadbedCard.ts'
import { cutListSheets } from './build/sheet.ts'
import { tieJigDrawing, tieJigFound, tieJigView } from './build/tieJig.ts'
import { cautions } from './cautions.ts'
import { compassOn } from './compass.ts'
import { planDrawing, type PlanDrawing } from './drawing.ts'
import { sheetGrid } from './grid.ts'
import { INDEX_NAME, indexScale, indexSheet } from './indexSheet.ts'
import { CROSS_ARM_MM, joinItems, type SheetJoin } from './join.ts'
import { itemsOnPage, laidItems, pageToPlan } from './laidItem.ts'
import { indexLook, lookUsual, setLooked } from './look.ts'
import { pageFrame, paperWays, type PageFrame } from './paper.ts'
import { planMark } from './planMark.ts'
import type { FreeSpace, SheetRoom } from './freeSpace.ts'
import { roadbedView, subjectView, type SubjectView } from './subject.ts'
import type { PlanItem } from './planItem.ts'
import { textCorners, wordsAbove, type PlanText } from './text.ts'
import { gridTiling } from './tiling/fromGrid.ts'
import { gridJoins } from './tiling/gridJoins.ts'
import { neighbourText, seamJoins } from './tiling/joins.ts'
import { lineTiling } from './tiling/line.ts'
import { tileBox, tileContains, tileCorners, tilingHolds } from './tiling/tile.ts'
import type { Tile, TileWindow, Tiling } from './tiling/types.ts'
import { tickSquareLines, titleBlock } from './titleBlock.ts'
import { footExtra, type TitleText } from './titleTexts.ts'
import type { DrawItem, LayerChoice, PlanToPage, Sheet, SheetOptions, SheetSet, SheetSubject } from './types.ts'

/** More sheets than anyone tapes together; beyond it something was chosen wrongly. */
export const SHEETS_MAX = 400

/**
 * Sheets of a subject. A cut list comes as pages of tables; all else at full size: as few as turning the paper, turning and shifting the plan allow, with overlap, match marks and title block,
 * and an index before them when there is more than one.
 *
 * lists:      what the plan is cut into; only the sheets of cuts ask for it.
 * Units:      page mm, y up from the lower left corner of the paper.
 * Exactness:  rails within EDGE_TOLERANCE_MM of the computed ones; match crosses and bars exact.
 * Outcome:    no sheets and the reasons in `problems` when the subject is missing or the options cannot be printed.
 * Throws:     never.
 */
export function sheetsForSubject(
  derived: Derived,
  subject: SheetSubject,
  options: SheetOptions,
  lists: LayingLists | null = null,
): SheetSet {
  if (subject.kind === 'bench') return benchSheets(derived, subject.sheet, options, lists)
  if (subject.kind === 'cutList') return cutListSheets(derived, subject, options)
  const ways = pageWays(options)
  if (!ways.ok) return nothing(ways.problems)
  const reachMm =
    SHEETS_MAX * Math.max(...ways.ways.map(({ frame: { window } }) => Math.hypot(window.maxX - window.minX, window.maxY - window.minY)))
  const shown = shownOf(derived, subject, options.units, reachMm, (options.look ?? lookUsual).without)
  if (!shown.ok) return nothing([shown.problem])
  const { view } = shown
  if (view.content.length === 0) return nothing([`${view.title}: nothing to draw.`])

  const said = saidOf(derived, shown)
  const worded = pageWays(options, footTexts(said))
  if (!worded.ok) return nothing(worded.problems)
  const way = wayOfFewestSheets(view, worded.ways)
  const count = way.tiling.tiles.length
  if (count > SHEETS_MAX) {
    return nothing([
      `${view.title}: ${count} sheets of ${way.frame.paper.name}, more than ${SHEETS_MAX}. Choose larger paper, or print one track, curve or turnout at a time.`,
    ])
  }
  return setLooked({ title: view.title, sheets: sheetsOf(derived, shown, way, said), problems: [] }, options)
}

/** On every sheet at full size. */
const FULL_SIZE = 'Full size, 1:1'

/** A way for the paper to lie, and its page. */
interface PageWay {
  readonly options: SheetOptions
  readonly frame: PageFrame
}

type PageWaysResult =
  | { readonly ok: true; readonly ways: readonly [PageWay, ...PageWay[]] }
  | { readonly ok: false; readonly problems: readonly string[] }

/** What all sheets of a set say in their feet. */
type SetText = Omit<TitleText, 'sheetName' | 'scale' | 'compass'>

function saidOf({ plan }: Derived, { view }: Shown): SetText {
  return {
    railway: plan.railway.title,
    title: view.title,
    facts: view.facts,
    caution: cautions[view.caution],
    planMark: planMark(plan),
  }
}

/** Words that a foot may have to hold: of an index, and of sheets with short and long names, whose titles have less room and break elsewhere. */
function footTexts(said: SetText): readonly TitleText[] {
  const compass = { kind: 'room', towardRad: 0 } as const
  return [
    ...['A1', 'A10', 'W99', 'AA10'].map((sheetName) => ({ ...said, sheetName, scale: FULL_SIZE, compass })),
    { ...said, sheetName: INDEX_NAME, scale: indexScale(5000), isMap: true },
  ]
}

/**
 * The ways that can be printed, the given one first; when none can, why not the given one. With the words of the foot: as high as
 * they need it.
 */
function pageWays(options: SheetOptions, words: readonly TitleText[] = []): PageWaysResult {
  const framed = paperWays(options).map((way) => {
    const result = pageFrame(way)
    return { way, result: result.ok ? pageFrame(way, footExtra(result.frame, way, words)) : result }
  })
  const [first, ...more] = framed.flatMap(({ way, result }): readonly PageWay[] =>
    result.ok ? [{ options: way, frame: result.frame }] : [],
  )
  if (first) return { ok: true, ways: [first, ...more] }
  return { ok: false, problems: framed.slice(0, 1).flatMap(({ result }) => (result.ok ? [] : result.problems)) }
}

/** How the sheets lie on the plan, and what their joins are when room for the crosses is known. */
interface Layout {
  readonly tiling: Tiling
  readonly joins: (space: FreeSpace) => readonly SheetJoin[]
}

/** The way to lie, and the tiling, that take fewest sheets; among equals the first, which is the paper as it was given, in rows. */
function wayOfFewestSheets(view: SubjectView, ways: readonly [PageWay, ...PageWay[]]): PageWay & Layout {
  const [first, ...more] = ways
  const { tiling: wanted = 'fewest' } = first.options
  let best = gridded(view.content, view.anglesRad, first)
  const fewer = (anglesRad: readonly number[], way: PageWay): void => {
    if (best.tiling.tiles.length === 1) return
    const next = gridded(view.content, anglesRad, way)
    if (next.tiling.tiles.length < best.tiling.tiles.length) best = next
  }
  for (const way of more) fewer(view.anglesRad, way)
  if (view.moreAnglesRad && best.tiling.tiles.length > 1) for (const way of ways) fewer(view.moreAnglesRad, way)
  if (wanted === 'grid') return best
  let atMost = wanted === 'line' ? SHEETS_MAX : Math.min(SHEETS_MAX, best.tiling.tiles.length - 1)
  for (const way of ways) {
    const tiling = lineTiling(view.strands, windowOf(way), atMost)
    if (tiling === null) continue
    best = { ...way, tiling, joins: (space) => seamJoins(tiling, space) }
    atMost = tiling.tiles.length - 1
  }
  return best
}

function windowOf({ frame: { window }, options }: PageWay): TileWindow {
  return {
    widthMm: (window.maxX - window.minX) * options.calibrationX,
    heightMm: (window.maxY - window.minY) * options.calibrationY,
    overlapMm: options.overlapMm,
  }
}

function gridded(content: readonly Point[], anglesRad: readonly number[], way: PageWay): PageWay & Layout {
  const grid = sheetGrid(content, anglesRad, windowOf(way))
  return { ...way, tiling: gridTiling(grid), joins: (space) => gridJoins(grid, space) }
}

/** Corners of the plan that a sheet's window covers, from the lower left of the page, anticlockwise. */
export function sheetPlanCorners(sheet: Pick<Sheet, 'window' | 'toPage'>): readonly Point[] {
  const { minX, minY, maxX, maxY } = sheet.window
  return [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ].map((p) => pageToPlan(sheet.toPage, p))
}

function nothing(problems: readonly string[]): SheetSet {
  return { title: '', sheets: [], problems }
}

/** What is to be seen, and how it is drawn near a box. */
interface Shown {
  readonly view: SubjectView
  /** It lies where it is drawn; a jig does not. */
  readonly isInRoom: boolean
  readonly draw: (near: Box, room: SheetRoom) => PlanDrawing
}

type ShownResult = ({ readonly ok: true } & Shown) | { readonly ok: false; readonly problem: string }

/** A card or a jig is drawn alone; all else with what lies round it. */
function shownOf(
  derived: Derived,
  subject: Exclude<SheetSubject, { kind: 'cutList' | 'bench' }>,
  units: SheetOptions['units'],
  reachMm: number,
  without: readonly LayerChoice[],
): ShownResult {
  if (subject.kind === 'roadbed') {
    const built = builtWorkSet(derived, subject)
    if (!built.ok) return built
    const viewed = roadbedView(built.work, units)
    return viewed.ok ? { ...viewed, isInRoom: true, draw: (near, room) => roadbedDrawing(built.work, near, units, room) } : viewed
  }
  if (subject.kind === 'tieJig') {
    const found = tieJigFound(derived, subject.lineClass)
    if (!found.ok) return found
    const viewed = tieJigView(derived, subject, units)
    return viewed.ok ? { ...viewed, isInRoom: false, draw: (near, room) => tieJigDrawing(found.jig, found.name, near, room) } : viewed
  }
  const viewed = subjectView(derived, subject, units, reachMm)
  return viewed.ok ? { ...viewed, isInRoom: true, draw: (near, room) => planDrawing(derived, near, units, room, without) } : viewed
}

function sheetsOf(
  derived: Derived,
  { view, isInRoom, draw }: Shown,
  { tiling, joins: joinsIn, frame, options }: PageWay & Layout,
  said: SetText,
): readonly Sheet[] {
  const isOnOneSheet = (corners: readonly Point[]): boolean => tilingHolds(tiling, corners)
  const lines = isInRoom ? tiling.tiles.flatMap((tile) => squareOnPlan(pageOf(tile, frame, options), frame, options)) : []
  const drawing = draw(planBox(tiling), { isOnOneSheet, lines })
  const joins = joinsIn(drawing.space)
  const drawn = drawing.items.filter((item) => item.kind !== 'text' || !isGivingWay(item, joins))
  // Boxes in the plan, to know what comes near a sheet before it is turned to lie as that sheet lies.
  const placed = drawn.flatMap((item): readonly PlacedItem[] => {
    const corners = item.kind === 'text' ? textCorners(item, 0) : []
    const box = item.kind === 'text' ? boxOfPoints(corners) : laidItems([item], 0)[0]?.box
    return box ? [{ item, box, isHomeless: item.kind === 'text' && !isOnOneSheet(corners) }] : []
  })
  const shown = placed.filter(({ item, isHomeless }) => item.kind !== 'text' || !isHomeless || isNamedInSight(item, tiling))
  const { railway } = derived.plan
  const pages = tiling.tiles.map((tile): Sheet => {
    const toPage = pageOf(tile, frame, options)
    return {
      kind: 'full-size',
      name: tile.name,
      title: view.title,
      paper: frame.paper,
      window: frame.window,
      toPage,
      items: [
        ...wordsAbove([...tileItems(shown, tiling, tile, toPage), ...tileJoins(joins, tiling, tile, toPage, drawing)]),
        ...titleBlock(frame, options, {
          ...said,
          sheetName: tile.name,
          scale: FULL_SIZE,
          ...(isInRoom ? { compass: compassOn(toPage, railway) } : {}),
        }),
      ],
    }
  })
  const items = shown.map(({ item }) => item)
  return pages.length > 1 ? [indexSheet(tiling, joins, items, frame, indexLook(options), said), ...pages] : pages
}

/** Words of which there are more like them: they give way to a match cross that found no better place. */
function isGivingWay(text: PlanText, joins: readonly SheetJoin[]): boolean {
  if (!['stations', 'tie-lengths', 'offsets', 'joints'].includes(text.layer)) return false
  const corners = textCorners(text, 0)
  const cross = { minX: -CROSS_ARM_MM, minY: -CROSS_ARM_MM, maxX: CROSS_ARM_MM, maxY: CROSS_ARM_MM }
  return joins.some(({ crosses, angleRad }) =>
    crosses.some(({ x, y }) => {
      const box = boxOfPoints(corners.map((p) => pointRotate({ x: p.x - x, y: p.y - y }, -angleRad)))
      return box !== null && boxesOverlap(box, cross)
    }),
  )
}

/** Where the ticks of the check square lie in the plan. */
function squareOnPlan(toPage: PlanToPage, frame: PageFrame, options: SheetOptions): SheetRoom['lines'] {
  return tickSquareLines(frame, options).map(([from, to]) => [pageToPlan(toPage, from), pageToPlan(toPage, to)])
}

/** An item of the plan with its box there. */
interface PlacedItem {
  readonly item: PlanItem
  readonly box: Box
  /** A text that no sheet holds whole: it is drawn cut rather than not at all. */
  readonly isHomeless: boolean
}

/** Box of the plan round all windows. */
function planBox({ tiles, window }: Tiling): Box {
  const corners = tiles.flatMap((tile) => tileCorners(tile, window))
  return boxGrow(boxOfPoints(corners) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 }, 20)
}

function pageOf(tile: Tile, frame: PageFrame, options: SheetOptions): PlanToPage {
  return {
    planOrigin: tile.origin,
    angleRad: tile.angleRad,
    pageOrigin: { x: frame.window.minX, y: frame.window.minY },
    scaleX: 1 / options.calibrationX,
    scaleY: 1 / options.calibrationY,
  }
}

/** The window of a tile in the plan turned as the tile lies. */
function windowTurned({ origin, angleRad }: Tile, { widthMm, heightMm }: TileWindow): Box {
  const at = pointRotate(origin, -angleRad)
  return { minX: at.x, minY: at.y, maxX: at.x + widthMm, maxY: at.y + heightMm }
}

/** From the turned frame of a tile to its page. */
function placer(tile: Tile, toPage: PlanToPage): (p: Point) => Point {
  const at = pointRotate(tile.origin, -tile.angleRad)
  return (p) => ({ x: (p.x - at.x) * toPage.scaleX + toPage.pageOrigin.x, y: (p.y - at.y) * toPage.scaleY + toPage.pageOrigin.y })
}

/** Whether the place that a text names is on a sheet: texts stand with their anchor at it. One that reaches in from beyond says nothing. */
function isNamedInSight({ middle }: PlanText, { tiles, window }: Tiling): boolean {
  return tiles.some((tile) => tileContains(tile, window, middle))
}

/** A text is drawn only on sheets that hold it whole. */
function tileItems(placed: readonly PlacedItem[], { window }: Tiling, tile: Tile, toPage: PlanToPage): readonly DrawItem[] {
  const near = boxGrow(tileBox(tile, window), 1)
  const nearTurned = boxGrow(windowTurned(tile, window), 1)
  const place = placer(tile, toPage)
  const here = placed.filter(({ item, box, isHomeless }) => {
    if (!boxesOverlap(box, near)) return false
    return item.kind !== 'text' || isHomeless || textCorners(item, 0.3).every((p) => tileContains(tile, window, p))
  })
  return laidItems(
    here.map(({ item }) => item),
    tile.angleRad,
  ).flatMap((item) => itemsOnPage(item, nearTurned, place))
}

/** Match marks, trim lines and neighbours' names of one sheet. */
function tileJoins(joins: readonly SheetJoin[], tiling: Tiling, tile: Tile, toPage: PlanToPage, drawing: PlanDrawing): readonly DrawItem[] {
  const near = windowTurned(tile, tiling.window)
  const place = placer(tile, toPage)
  const items: PlanItem[] = []
  for (const [nth, join] of joins.entries()) {
    if (join.a !== tile.name && join.b !== tile.name) continue
    const other = tiling.tiles.find(({ name }) => name === (join.a === tile.name ? join.b : join.a))
    if (!other) continue
    items.push(...joinItems(join, nth))
    const name = neighbourText(tiling, tile, other, join, drawing.space)
    if (name) items.push(name)
  }
  return laidItems(items, tile.angleRad).flatMap((item) => itemsOnPage(item, near, place))
}
