import { USUAL_MARGIN_MM, USUAL_OVERLAP_MM } from '../../core/deliver/index.ts'
import type { ListTable, SheetOptions } from '../../core/deliver/index.ts'
import { planMark } from '../../core/deliver/planMark.ts'
import type { Plan } from '../../core/plan/types.ts'
import type { LayingLists, Shopping } from '../../core/shopping/index.ts'
import type { CutResult } from '../../core/sticks/index.ts'
import { csvWrite } from '../../formats/csv.ts'
import { layingTablesAll } from '../../words/layingLists.ts'
import { tableRows } from '../../words/tableRows.ts'
import { lengthText } from '../../words/measure.ts'
import { recordName } from '../../words/names.ts'
import { pieceOwnerText } from '../../words/railTables.ts'
import { railEndText } from '../../words/railText.ts'
import { layingProblemTexts } from '../../words/shoppingText.ts'
import { columns, inBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { planEngine } from '../engine.ts'
import { outPath } from '../outFile.ts'
import { dateOnPaper, paperChosen, unitsOnPaper } from '../paper.ts'
import { planFromFile } from '../planFile.ts'

export const cutSpec: VerbSpec = {
  name: 'cut',
  about: 'rails, roadbed and ties to cut, from which sticks and sheets, and what to buy',
  operand: 'PLAN',
  options: {
    out: { value: 'cut.pdf', about: 'writes all lists as a PDF' },
    paper: { value: 'a4', about: 'of a PDF: letter, legal, tabloid, a4, a3 …; a4 when left out' },
    units: { value: 'imperial', about: 'of a PDF: imperial or metric; as the paper when left out' },
    date: { value: '2026-11-25', about: 'printed on every page; today when left out' },
    csv: { value: 'cut.csv', about: 'writes the rail pieces, stick by stick, as CSV' },
    lists: { value: 'lists.csv', about: 'writes all lists as CSV, one below the other' },
    budget: { value: '20', about: 'seconds for the search for the fewest sticks; 20 when left out' },
  },
  example: 'waybench cut plan.json --out cut.pdf --csv cut.csv',
}

const usualSeconds = 20
const mostSeconds = 3600

export async function cutRun(args: Args): Promise<Answer> {
  const path = args.values.has('csv') ? outPath(args, 'csv') : null
  const listsPath = args.values.has('lists') ? outPath(args, 'lists') : null
  const pdf = args.values.has('out') ? pdfOptions(args) : null
  const seconds = secondsOption(args)
  const plan = planFromFile(args.operand ?? '')
  const engine = await planEngine()
  try {
    const { lists, shopping } = await engine.laying(plan, seconds, () => true)
    const { track, roadbed } = layingProblemTexts(lists, plan, inBoth)
    const problems = [...track, ...roadbed]
    const files: Answer['files'][number][] = []
    if (path !== null) files.push({ path, bytes: new TextEncoder().encode(csvWrite(csvRows(plan, lists))) })
    if (listsPath !== null) {
      const rows = tableRows(layingTablesAll(plan, lists, shopping, inBoth))
      files.push({ path: listsPath, bytes: new TextEncoder().encode(csvWrite(rows)) })
    }
    if (pdf !== null) {
      const prefs = { units: pdf.options.units, fraction: 32 } as const
      const request = {
        title: 'What to cut and buy',
        railway: plan.railway.title,
        planMark: planMark(plan),
        tables: layingTablesAll(plan, lists, shopping, prefs),
      }
      const printed = await engine.lists(request, pdf.options)
      if (printed.sheets.length === 0) throw new BadInput(printed.problems.join('\n'))
      files.push({ path: pdf.path, bytes: printed.pdf })
    }
    return {
      json: jsonOf(lists, shopping, problems),
      text: textOf(layingTablesAll(plan, lists, shopping, inBoth)),
      exitCode: 0,
      files,
    }
  } finally {
    engine.dispose()
  }
}

function pdfOptions(args: Args): { readonly path: string; readonly options: SheetOptions } {
  const path = outPath(args)
  if (!/\.pdf$/i.test(path)) throw new BadInput(`--out ${path}: the lists come as .pdf; end the name with it, or use --csv.`)
  const paper = paperChosen(args.values.get('paper') ?? 'a4')
  const units = unitsOnPaper(args, paper)
  const date = dateOnPaper(args)
  return {
    path,
    options: { paper, marginMm: USUAL_MARGIN_MM, overlapMm: USUAL_OVERLAP_MM, calibrationX: 1, calibrationY: 1, units, date },
  }
}

function secondsOption(args: Args): number {
  const typed = args.values.get('budget')
  if (typed === undefined) return usualSeconds
  const seconds = /^\d+([.,]\d+)?$/.test(typed.trim()) ? Number(typed.replace(',', '.')) : Number.NaN
  if (!(seconds > 0 && seconds <= mostSeconds))
    throw new BadInput(`--budget ${typed}: seconds are needed, above 0 and up to ${mostSeconds}, such as --budget ${usualSeconds}.`)
  return seconds
}

const lengthOf = (mm: number): string => lengthText(mm, inBoth)

function jsonOf(lists: LayingLists, shopping: Shopping, problems: readonly string[]): object {
  const { rails, railCuts, ties, tieCuts, roadbed, roadbedCut } = lists
  const cutJson = (result: CutResult): object => (result.ok ? result.plan : { problem: result.problem })
  return {
    rails: {
      pieces: rails.pieces,
      runs: rails.runs,
      joints: rails.joints,
      order: rails.order,
      spiking: { plain: rails.spiking.plainSpikes, work: rails.spiking.workSpikes, spikes: rails.spiking.spikes },
      curves: rails.curves,
      isProven: rails.isProven,
      sticks: railCuts.map(({ code, stocks, result }) => ({ code, stocks, ...cutJson(result) })),
    },
    roadbed: {
      pieces: roadbed.runs.flatMap(({ pieces }) => pieces),
      turnoutPieces: roadbed.turnoutPieces.map(({ id, owner, strips }) => ({ id, owner, strips })),
      ramps: roadbed.ramps,
      ...(roadbedCut.ok ? roadbedCut.plan : { problem: roadbedCut.problem }),
    },
    ties: {
      ...ties.list,
      sticks: tieCuts.map(({ order: { material, widthMm, thicknessMm, stocks }, result }) => ({
        material,
        widthMm,
        thicknessMm,
        stocks,
        ...cutJson(result),
      })),
    },
    shopping,
    problems,
  }
}

function textOf(tables: readonly ListTable[]): string {
  return tables
    .map(({ title, columns: heads, rows, notes }) =>
      [title, ...(rows.length === 0 ? [] : [columns([heads.map(({ head }) => head), ...rows])]), ...notes].join('\n'),
    )
    .join('\n\n')
}

function csvRows(plan: Plan, { rails, railCuts }: LayingLists): readonly (readonly string[])[] {
  const byId = new Map(rails.pieces.map((piece) => [piece.id, piece]))
  let number = 0
  const rows = railCuts.flatMap(({ stocks, result }) =>
    (result.ok ? result.plan.sticks : []).flatMap(({ stock, pieces, leftMm }) => {
      number += 1
      const stick = String(number)
      return pieces.flatMap(({ id, fromMm, lengthMm }): (readonly string[])[] => {
        const piece = byId.get(id)
        if (!piece) return []
        return [
          [
            stick,
            recordName(plan, 'stocks', stocks[stock] ?? ''),
            id,
            pieceOwnerText(piece, plan),
            piece.rail,
            fromMm.toFixed(2),
            lengthMm.toFixed(2),
            lengthOf(lengthMm),
            railEndText(piece.startsAt),
            railEndText(piece.endsAt),
            String(piece.order),
            leftMm.toFixed(2),
          ],
        ]
      })
    }),
  )
  return [
    [
      'Stick',
      'Stock',
      'Piece',
      'Track or turnout',
      'Rail',
      'From mm',
      'Length mm',
      'Length',
      'Starts at',
      'Ends at',
      'Order of laying',
      'Left of stick mm',
    ],
    ...rows,
  ]
}
