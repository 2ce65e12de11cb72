import { boxContains, boxGrow, boxOfPoints, pointRotate } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'
import type { Derived } from '../pipeline/types.ts'
import { builtWorkSet } from './build/builtWork.ts'
import { roadbedDrawing } from './build/roadbedCard.ts'
import { cutListSheets } from './build/sheet.ts'
import { tieJigDrawing, tieJigFound, tieJigView } from './build/tieJig.ts'
import { cautions } from './cautions.ts'
import { planDrawing, type PlanDrawing } from './drawing.ts'
import { cellOrigin, gridHolds, sheetGrid, type GridCell, type SheetGrid } from './grid.ts'
import { indexSheet } from './indexSheet.ts'
import { cellWindow, joinItems, neighbourText, sheetJoins, type SheetJoin } from './join.ts'
import { itemsOnPage, laidItems, pageToPlan, type LaidItem } from './laidItem.ts'
import { indexLook, setLooked } from './look.ts'
import { pageFrame, paperWays, type PageFrame } from './paper.ts'
import type { FreeSpace } from './freeSpace.ts'
import { roadbedView, subjectView, type SubjectView } from './subject.ts'
import { textItemCorners } from './text.ts'
import { titleBlock } from './titleBlock.ts'
import type { DrawItem, PlanToPage, Sheet, SheetOptions, SheetSet, SheetSubject } from './types.ts'

/** More sheets than anyone tapes together; beyond it something was chosen wrongly. */
export const SHEETS_MAX = 400

/**
 * Sheets of a subject. A cut list comes as pages of tables; all else at full size: as few as turning the paper, turning and shifting the plan allow, with overlap, match marks and title block,
 * and an index before them when there is more than one.
 *
 * Units:      page mm, y up from the lower left corner of the paper.
 * Exactness:  rails within EDGE_TOLERANCE_MM of the computed ones; match crosses and bars exact.
 * Outcome:    no sheets and the reasons in `problems` when the subject is missing or the options cannot be printed.
 * Throws:     never.
 */
export function sheetsForSubject(derived: Derived, subject: SheetSubject, options: SheetOptions): SheetSet {
  if (subject.kind === 'cutList') return cutListSheets(derived, subject, options)
  const ways = pageWays(options)
  if (!ways.ok) return nothing(ways.problems)
  const reachMm =
    SHEETS_MAX * Math.max(...ways.ways.map(({ frame: { window } }) => Math.hypot(window.maxX - window.minX, window.maxY - window.minY)))
  const shown = shownOf(derived, subject, options.units, reachMm)
  if (!shown.ok) return nothing([shown.problem])
  const { view } = shown
  if (view.content.length === 0) return nothing([`${view.title}: nothing to draw.`])

  const { frame, grid, options: laid } = wayOfFewestSheets(view, ways.ways)
  if (grid.cells.length > SHEETS_MAX) {
    return nothing([
      `${view.title}: ${grid.cells.length} sheets of ${frame.paper.name}, more than ${SHEETS_MAX}. Choose larger paper, or print one track, curve or turnout at a time.`,
    ])
  }
  return setLooked({ title: view.title, sheets: sheetsOf(derived, shown, grid, frame, laid), problems: [] }, options)
}

/** A way for the paper to lie, and its page. */
interface PageWay {
  readonly options: SheetOptions
  readonly frame: PageFrame
}

type PageWaysResult =
  | { readonly ok: true; readonly ways: readonly [PageWay, ...PageWay[]] }
  | { readonly ok: false; readonly problems: readonly string[] }

/** The ways that can be printed, the given one first; when none can, why not the given one. */
function pageWays(options: SheetOptions): PageWaysResult {
  const framed = paperWays(options).map((way) => ({ way, result: pageFrame(way) }))
  const [first, ...more] = framed.flatMap(({ way, result }): readonly PageWay[] =>
    result.ok ? [{ options: way, frame: result.frame }] : [],
  )
  if (first) return { ok: true, ways: [first, ...more] }
  return { ok: false, problems: framed.slice(0, 1).flatMap(({ result }) => (result.ok ? [] : result.problems)) }
}

/** The way that takes fewest sheets; among equals the first, which is the paper as it was given. */
function wayOfFewestSheets(view: SubjectView, [first, ...more]: readonly [PageWay, ...PageWay[]]): PageWay & { readonly grid: SheetGrid } {
  const gridded = ({ frame: { window }, options }: PageWay): SheetGrid =>
    sheetGrid(view.content, view.anglesRad, {
      widthMm: (window.maxX - window.minX) * options.calibrationX,
      heightMm: (window.maxY - window.minY) * options.calibrationY,
      overlapMm: options.overlapMm,
    })
  let best = { ...first, grid: gridded(first) }
  for (const way of more) {
    const grid = gridded(way)
    if (grid.cells.length < best.grid.cells.length) best = { ...way, grid }
  }
  return best
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
  readonly draw: (near: Box, isOnOneSheet: FreeSpace['isOnOneSheet']) => PlanDrawing
}

type ShownResult = ({ readonly ok: true } & Shown) | { readonly ok: false; readonly problem: string }

/** A card or a jig is drawn alone; all else with what lies round it. */
function shownOf(
  derived: Derived,
  subject: Exclude<SheetSubject, { kind: 'cutList' }>,
  units: SheetOptions['units'],
  reachMm: number,
): ShownResult {
  if (subject.kind === 'roadbed') {
    const built = builtWorkSet(derived, subject)
    if (!built.ok) return built
    const viewed = roadbedView(built.work, units)
    return viewed.ok ? { ...viewed, draw: (near, isOnOneSheet) => roadbedDrawing(built.work, near, units, isOnOneSheet) } : viewed
  }
  if (subject.kind === 'tieJig') {
    const found = tieJigFound(derived, subject.lineClass)
    if (!found.ok) return found
    const viewed = tieJigView(derived, subject, units)
    return viewed.ok ? { ...viewed, draw: (near, isOnOneSheet) => tieJigDrawing(found.jig, found.name, near, isOnOneSheet) } : viewed
  }
  const viewed = subjectView(derived, subject, units, reachMm)
  return viewed.ok ? { ...viewed, draw: (near, isOnOneSheet) => planDrawing(derived, near, units, isOnOneSheet) } : viewed
}

function sheetsOf(derived: Derived, { view, draw }: Shown, grid: SheetGrid, frame: PageFrame, options: SheetOptions): readonly Sheet[] {
  const isOnOneSheet = (corners: readonly Point[]): boolean =>
    gridHolds(
      grid,
      corners.map((p) => pointRotate(p, -grid.angleRad)),
    )
  const drawing = draw(planBox(grid), isOnOneSheet)
  const joins = sheetJoins(grid, drawing.space)
  const laid = laidItems(drawing.items, grid.angleRad)
  const homeless = textsWithoutHome(laid, grid)
  const shown = laid.filter((item) => item.kind !== 'text' || !homeless.has(item) || isNamedInSight(item, grid))
  const said = {
    railway: derived.plan.railway.title,
    title: view.title,
    facts: view.facts,
    caution: cautions[view.caution],
  }
  const pages = grid.cells.map((cell): Sheet => {
    const toPage = pageOf(grid, cell, frame, options)
    return {
      kind: 'full-size',
      name: cell.name,
      title: view.title,
      paper: frame.paper,
      window: frame.window,
      toPage,
      items: [
        ...cellItems(shown, homeless, grid, cell, toPage),
        ...cellJoins(joins, grid, cell, toPage, drawing),
        ...titleBlock(frame, options, { ...said, sheetName: cell.name, scale: 'Scale 1:1' }),
      ],
    }
  })
  return pages.length > 1 ? [indexSheet(grid, shown, frame, indexLook(options), said), ...pages] : pages
}

/** Box of the plan round all windows. */
function planBox(grid: SheetGrid): Box {
  const corners = grid.cells.flatMap((cell) => boxCorners(cellWindow(grid, cell)).map((p) => pointRotate(p, grid.angleRad)))
  return boxGrow(boxOfPoints(corners) ?? { minX: 0, minY: 0, maxX: 0, maxY: 0 }, 20)
}

function boxCorners(box: Box): readonly Point[] {
  return [
    { x: box.minX, y: box.minY },
    { x: box.maxX, y: box.minY },
    { x: box.maxX, y: box.maxY },
    { x: box.minX, y: box.maxY },
  ]
}

function pageOf(grid: SheetGrid, cell: GridCell, frame: PageFrame, options: SheetOptions): PlanToPage {
  return {
    planOrigin: pointRotate(cellOrigin(grid, cell), grid.angleRad),
    angleRad: grid.angleRad,
    pageOrigin: { x: frame.window.minX, y: frame.window.minY },
    scaleX: 1 / options.calibrationX,
    scaleY: 1 / options.calibrationY,
  }
}

/** From the turned frame to the page of a cell. */
function placer(grid: SheetGrid, cell: GridCell, toPage: PlanToPage): (p: Point) => Point {
  const at = cellOrigin(grid, cell)
  return (p) => ({ x: (p.x - at.x) * toPage.scaleX + toPage.pageOrigin.x, y: (p.y - at.y) * toPage.scaleY + toPage.pageOrigin.y })
}

/** A text is drawn only on sheets that hold it whole. */
function holdsText(window: Box, item: Extract<LaidItem, { kind: 'text' }>): boolean {
  return textItemCorners(item.text, 0.3).every((p) => boxContains(window, p))
}

/** Texts that no sheet holds whole: they are drawn cut rather than not at all. */
function textsWithoutHome(laid: readonly LaidItem[], grid: SheetGrid): ReadonlySet<LaidItem> {
  return new Set(laid.filter((item) => item.kind === 'text' && !gridHolds(grid, textItemCorners(item.text, 0.3))))
}

/** Whether the place that a text names is on a sheet: texts stand with their anchor at it. One that reaches in from beyond says nothing. */
function isNamedInSight({ text }: Extract<LaidItem, { kind: 'text' }>, grid: SheetGrid): boolean {
  return grid.cells.some((cell) => boxContains(cellWindow(grid, cell), text.at))
}

function cellItems(
  laid: readonly LaidItem[],
  homeless: ReadonlySet<LaidItem>,
  grid: SheetGrid,
  cell: GridCell,
  toPage: PlanToPage,
): readonly DrawItem[] {
  const window = cellWindow(grid, cell)
  const near = boxGrow(window, 1)
  const place = placer(grid, cell, toPage)
  return laid.flatMap((item) =>
    item.kind === 'text' && !homeless.has(item) && !holdsText(window, item) ? [] : itemsOnPage(item, near, place),
  )
}

/** Match marks, trim lines and neighbours' names of one sheet. */
function cellJoins(
  joins: readonly SheetJoin[],
  grid: SheetGrid,
  cell: GridCell,
  toPage: PlanToPage,
  drawing: PlanDrawing,
): readonly DrawItem[] {
  const window = cellWindow(grid, cell)
  const place = placer(grid, cell, toPage)
  const items: DrawItem[] = []
  for (const join of joins) {
    if (join.a !== cell.name && join.b !== cell.name) continue
    const other = grid.cells.find((c) => c.name === (join.a === cell.name ? join.b : join.a))
    if (!other) continue
    // Already in the turned frame: laid with no further turn.
    for (const item of laidItems(joinItems(join), 0)) items.push(...itemsOnPage(item, window, place))
    const name = neighbourText(grid, cell, other, drawing.space)
    if (name) items.push(...itemsOnPage(name, window, place))
  }
  return items
}
