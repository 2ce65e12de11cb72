import type { Derived } from '../../pipeline/types.ts'
import { cautions } from '../cautions.ts'
import { tablePages } from '../listPages.ts'
import { pageFrame, type PageFrame } from '../paper.ts'
import { titleBlock } from '../titleBlock.ts'
import type { DrawItem, Sheet, SheetOptions, SheetSet, SheetSubject } from '../types.ts'
import { builtWorkSet } from './builtWork.ts'
import { buildTables } from './tables.ts'

type CutListSubject = Extract<SheetSubject, { kind: 'cutList' }>

/** Cut list, filing and all other tables of special work on pages of their own, or why there are none. */
export function cutListSheets(derived: Derived, subject: CutListSubject, options: SheetOptions): SheetSet {
  const framed = pageFrame(options)
  if (!framed.ok) return { title: '', sheets: [], problems: framed.problems }
  const built = builtWorkSet(derived, subject)
  if (!built.ok) return refuse(built.problem)
  const { name, parts, made } = built.work
  const tables = buildTables(parts, made, options.units)
  const title = `Cut list and filing, ${name}`
  const pages = tablePages(tables, framed.frame.window)
  return { title, sheets: pages.map((items, i) => pageSheet(derived, framed.frame, options, title, `L${i + 1}`, items)), problems: [] }
}

function refuse(problem: string): SheetSet {
  return { title: '', sheets: [], problems: [problem] }
}

function pageSheet(
  derived: Derived,
  frame: PageFrame,
  options: SheetOptions,
  title: string,
  name: string,
  items: readonly DrawItem[],
): Sheet {
  return {
    kind: 'list',
    name,
    title,
    paper: frame.paper,
    window: frame.window,
    toPage: { planOrigin: { x: 0, y: 0 }, angleRad: 0, pageOrigin: { x: frame.window.minX, y: frame.window.minY }, scaleX: 1, scaleY: 1 },
    items: [
      ...items,
      ...titleBlock(frame, options, {
        railway: derived.plan.railway.title,
        title,
        facts: [],
        sheetName: name,
        scale: 'A list, not a drawing',
        caution: cautions.build,
      }),
    ],
  }
}
