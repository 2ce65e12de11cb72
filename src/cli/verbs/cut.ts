import { pipelineCreate } from '../../core/pipeline/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import type { RailPiece } from '../../core/rails/types.ts'
import { layingLists, shoppingOf } from '../../core/shopping/index.ts'
import type { LayingLists, Shopping } from '../../core/shopping/index.ts'
import type { CutResult } from '../../core/sticks/index.ts'
import { csvWrite } from '../../formats/csv.ts'
import { roadbedTables, tieTables } from '../../words/layingTables.ts'
import { fineText, lengthText } from '../../words/measure.ts'
import { recordName } from '../../words/names.ts'
import { jointKindText, railEndText, railPlaceText } from '../../words/railText.ts'
import { layingProblemTexts, shoppingTable } from '../../words/shoppingText.ts'
import { columns, inBoth, type Answer } from '../answer.ts'
import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { planEngine } from '../engine.ts'
import { outPath } from '../outFile.ts'
import { planFromFile } from '../planFile.ts'

export const cutSpec: VerbSpec = {
  name: 'cut',
  about: 'rails, roadbed and ties to cut, from which sticks and sheets, and what to buy',
  operand: 'PLAN',
  options: {
    csv: { value: 'cut.csv', about: 'writes the rail pieces, stick by stick, as CSV' },
    budget: { value: '20', about: 'seconds for the search for the fewest sticks; 20 when left out' },
  },
  example: 'waybench cut plan.json --csv cut.csv',
}

const usualSeconds = 20
const mostSeconds = 3600

export async function cutRun(args: Args): Promise<Answer> {
  const path = args.values.has('csv') ? outPath(args, 'csv') : null
  const seconds = secondsOption(args)
  const plan = planFromFile(args.operand ?? '')
  const derived = pipelineCreate().derive(plan)
  const engine = await planEngine()
  const until = performance.now() + seconds * 1000
  const lists = await layingLists(derived, (request) => {
    const left = Math.max(0, (until - performance.now()) / 1000)
    return engine.cut(request, left, () => true)
  })
  engine.dispose()
  const shopping = shoppingOf(plan, lists, derived.network)
  const problems = layingProblemTexts(lists, plan, inBoth)
  return {
    json: jsonOf(lists, shopping, problems),
    text: textOf(plan, lists, shopping, problems),
    exitCode: 0,
    files: path === null ? [] : [{ path, bytes: new TextEncoder().encode(csvWrite(csvRows(plan, lists))) }],
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

const pieceWhere = (plan: Plan, { owner, from, to }: RailPiece): string => {
  const place = from ?? to
  if (owner.kind === 'turnout') return recordName(plan, 'turnouts', owner.turnout)
  if (owner.kind === 'crossing') return recordName(plan, 'crossings', owner.crossing)
  return recordName(plan, 'tracks', place?.track ?? owner.track)
}

function textOf(plan: Plan, lists: LayingLists, shopping: Shopping, problems: readonly string[]): string {
  const { rails, railCuts, ties, tieCuts, roadbed, roadbedCut } = lists
  const name = (track: string): string => recordName(plan, 'tracks', track)
  const byOrder = rails.pieces.toSorted((a, b) => a.order - b.order)
  const tables = [...tieTables(ties, plan, inBoth).slice(0, 1), ...roadbedTables(roadbed, plan, inBoth).slice(0, 1)]
  const sheets = roadbedCut.ok
    ? [
        'Sheets of roadbed',
        columns([
          ['Stock', 'used', 'from hand', 'to buy', 'packs'],
          ...roadbedCut.plan.counts.map(({ stock, used, fromHand, toBuy, packs }) => [
            recordName(plan, 'stocks', stock),
            ...[used, fromHand, toBuy, packs].map(String),
          ]),
        ]),
      ].join('\n')
    : ''
  return [
    [
      'Rails in the order of laying',
      columns([
        ['Piece', 'track or turnout', 'rail', 'length', 'from', 'to', 'code'],
        ...byOrder.map((piece) => [
          piece.id,
          pieceWhere(plan, piece),
          piece.rail,
          lengthOf(piece.lengthMm),
          railEndText(piece.startsAt),
          railEndText(piece.endsAt),
          String(piece.code),
        ]),
      ]),
    ].join('\n'),
    [
      'Joints',
      columns([
        ['Pieces', 'where', 'how'],
        ...rails.joints.map(({ pieces, place, kind, gapMm }) => [
          pieces.join(' and '),
          railPlaceText(place, name, inBoth),
          jointKindText(kind, gapMm, inBoth),
        ]),
      ]),
      rails.isProven ? 'No better places for joints exist.' : 'No better places for joints were found.',
    ].join('\n'),
    ...railCuts.map(({ code, stocks, result }) => sticksText(plan, `Sticks of rail, code ${code}`, stocks, result, true)),
    ...tables.map(({ title, columns: heads, rows }) => [title, columns([heads.map(({ head }) => head), ...rows])].join('\n')),
    ...tieCuts.map(({ order, result }) =>
      sticksText(
        plan,
        `Sticks of ${order.material === 'board' ? 'PC-board' : 'tie wood'}, ${fineText(order.widthMm, inBoth)} × ${fineText(order.thicknessMm, inBoth)}`,
        order.stocks,
        result,
        false,
      ),
    ),
    sheets,
    shoppingText(shopping, plan),
    problems.length === 0 ? '' : ['Problems', ...problems].join('\n'),
  ]
    .filter((part) => part !== '')
    .join('\n\n')
}

function shoppingText(shopping: Shopping, plan: Plan): string {
  const { title, notes, columns: heads, rows } = shoppingTable(shopping, plan, inBoth)
  return [title, columns([heads.map(({ head }) => head), ...rows]), ...notes].join('\n')
}

/** Sticks with what is cut from each, and how good the cutting is known to be. */
function sticksText(plan: Plan, title: string, stocks: { readonly [name: string]: string }, result: CutResult, isListed: boolean): string {
  if (!result.ok) return ''
  const { sticks, stickCount, boughtCount, isProven, gap, boundSticks, boundMm, firstFit } = result.plan
  const rows = sticks.map(({ stock, pieces, leftMm, isKept }, i) => [
    String(i + 1),
    recordName(plan, 'stocks', stocks[stock] ?? ''),
    pieces.map(({ id, lengthMm }) => `${id} ${lengthMm.toFixed(1)}`).join(', '),
    `${lengthOf(leftMm)}${isKept ? ', keep' : ''}`,
  ])
  const bound = boundSticks === null ? `at least ${lengthOf(boundMm)}` : `at least ${boundSticks} of them`
  const proof = isProven
    ? 'proven: no cutting takes less'
    : `no cutting takes less than ${bound.slice(9)}; at most ${(100 * gap).toFixed(2)} % above that`
  const usual = firstFit === null ? '' : ` First fit, longest first, would take ${firstFit.stickCount}.`
  return [
    title,
    ...(isListed ? [columns([['Stick', 'stock', 'pieces in mm', 'left'], ...rows])] : []),
    `${stickCount} sticks, ${boughtCount} of them to buy; ${proof}.${usual}`,
  ].join('\n')
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
            pieceWhere(plan, piece),
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
