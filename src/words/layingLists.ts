import type { ListTable } from '../core/deliver/index.ts'
import type { Plan } from '../core/plan/types.ts'
import type { RoadbedCutPlan } from '../core/roadbed/types.ts'
import type { LayingLists, Shopping } from '../core/shopping/index.ts'
import { roadbedTables, tieTables } from './layingTables.ts'
import { fineText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName } from './names.ts'
import { railLayingTables } from './railLayingTables.ts'
import { cutProofText, railTables, stickTable } from './railTables.ts'
import { tieChecklist } from './tieText.ts'
import { layingProblemTexts, shoppingTable } from './shoppingText.ts'

/** All lists of what is cut, laid and bought, by what they are worked with at. */
export interface ListsInWords {
  readonly rails: readonly ListTable[]
  readonly ties: readonly ListTable[]
  readonly roadbed: readonly ListTable[]
  readonly shopping: ListTable
}

/** Every list as tables, the same for screen, printer, spreadsheet and command line. */
export function layingListTables(plan: Plan, lists: LayingLists, shopping: Shopping, prefs: MeasurePrefs): ListsInWords {
  const { rails, railCuts, ties, tieCuts, roadbed, roadbedCut } = lists
  const some = (tables: readonly ListTable[]): readonly ListTable[] => tables.filter(({ rows }) => rows.length > 0)
  return {
    rails: some([
      ...railTables(rails, plan, prefs),
      ...railCuts.flatMap(({ code, stocks, result }) =>
        result.ok ? [stickTable(`Sticks of rail, code ${code}`, result.plan, stocks, plan, prefs)] : [],
      ),
      ...railLayingTables(rails, plan, prefs),
    ]),
    ties: some([
      ...tieTables(ties, plan, prefs).map((table, i) =>
        i === 0 ? { ...table, notes: [...table.notes, ...tieCuts.flatMap((cut) => tieProof(cut, prefs))] } : table,
      ),
      ...(ties.list.count === 0 ? [] : [finishTable]),
    ]),
    roadbed: some([...roadbedTables(roadbed, plan, prefs), ...(roadbedCut.ok ? [sheetTable(roadbedCut.plan, plan)] : [])]),
    shopping: shoppingTable(shopping, plan, prefs),
  }
}

/** What is done to ties once they lie, step by step. */
const finishTable: ListTable = {
  title: 'Level and stain the ties',
  notes: [],
  columns: [
    { head: 'Step', align: 'right' },
    { head: 'What', align: 'left' },
  ],
  rows: tieChecklist.map((step, i) => [String(i + 1), step]),
}

function tieProof({ order, result }: LayingLists['tieCuts'][number], prefs: MeasurePrefs): readonly string[] {
  return result.ok ? [`${tieStockText(order, prefs)}: ${cutProofText(result.plan, prefs)}`] : []
}

/** What ties are sawn from: its material and section. */
export function tieStockText({ material, widthMm, thicknessMm }: LayingLists['tieCuts'][number]['order'], prefs: MeasurePrefs): string {
  return `${material === 'board' ? 'PC-board' : 'Wood'} ${fineText(widthMm, prefs)} × ${fineText(thicknessMm, prefs)}`
}

function sheetTable({ counts }: RoadbedCutPlan, plan: Plan): ListTable {
  return {
    title: 'Sheets of roadbed',
    notes: [],
    columns: [
      { head: 'Stock', align: 'left' },
      ...['Used', 'From hand', 'To buy', 'Packs'].map((head) => ({ head, align: 'right' }) as const),
    ],
    rows: counts.map(({ stock, used, fromHand, toBuy, packs }) => [
      recordName(plan, 'stocks', stock),
      ...[used, fromHand, toBuy, packs].map(String),
    ]),
  }
}

/** All of it in one row of tables, with what hinders it at the end. */
export function layingTablesAll(plan: Plan, lists: LayingLists, shopping: Shopping, prefs: MeasurePrefs): readonly ListTable[] {
  const { rails, ties, roadbed, shopping: bought } = layingListTables(plan, lists, shopping, prefs)
  const hindered = layingProblemTexts(lists, plan, prefs)
  const problems: ListTable = {
    title: 'Problems',
    notes: [],
    columns: [{ head: 'What, and what would be right', align: 'left' }],
    rows: [...hindered.track, ...hindered.roadbed].map((text) => [text]),
  }
  return [...rails, ...ties, ...roadbed, bought, ...(problems.rows.length === 0 ? [] : [problems])]
}
