import type { ListTable } from '../core/deliver/index.ts'
import type { Plan } from '../core/plan/types.ts'
import type { LayingLists, Shopping, ShoppingLine } from '../core/shopping/index.ts'
import { cutProblemText } from './cutText.ts'
import { lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName } from './names.ts'
import { railProblemText } from './railText.ts'
import { roadbedCutProblemText, roadbedProblemText } from './roadbedText.ts'
import { tieProblemText } from './tieText.ts'

/** What is bought, in words. */
export const whatWords: { readonly [W in ShoppingLine['what']]: string } = {
  rail: 'rail',
  roadbed: 'roadbed',
  tie: 'tie wood',
  board: 'PC-board',
  spikes: 'spikes',
  joiners: 'rail joiners',
  insulatedJoiners: 'insulated rail joiners',
  transitionJoiners: 'joiners between rails of two codes',
  shimTape: 'shim tape',
}

/** What to buy, as a table: the screen, the printer and the command line tell it alike. */
export function shoppingTable(shopping: Shopping, plan: Plan, prefs: MeasurePrefs): ListTable {
  return {
    title: 'Shopping list',
    notes: shoppingNotes(shopping, prefs),
    columns: [
      { head: 'What', align: 'left' },
      { head: 'Stock', align: 'left' },
      { head: 'Needed', align: 'right' },
      { head: 'On hand', align: 'right' },
      { head: 'To buy', align: 'right' },
      { head: 'Packs', align: 'right' },
      { head: 'Price', align: 'right' },
    ],
    rows: shopping.lines.map(({ what, stock, needed, unit, fromHand, toBuy, packs, price }) => [
      whatWords[what],
      stock === null ? 'not in the stock list' : recordName(plan, 'stocks', stock),
      unit === 'mm' ? lengthText(needed, prefs, 'room') : String(needed),
      unit === 'mm' ? '' : String(fromHand),
      toBuy === null ? '' : String(toBuy),
      packs === null ? '' : String(packs),
      price === null ? 'not known' : price.toFixed(2),
    ]),
  }
}

const counted = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`

const partWords = { plain: 'plain track', turnouts: 'turnouts', crossings: 'crossings' } as const

function shoppingNotes({ lines, total, unpriced, missing, time }: Shopping, prefs: MeasurePrefs): readonly string[] {
  const priced = lines.length - unpriced.length
  const sum =
    lines.length === 0
      ? 'Nothing is needed.'
      : unpriced.length === 0
        ? `Total ${total.toFixed(2)}.`
        : priced === 0
          ? 'No price is known: type the prices of packs into the stock list.'
          : `Total ${total.toFixed(2)} without ${unpriced.length} of ${lines.length} lines, whose price is not known.`
  const lacks = missing.map((what) => `Not all ${whatWords[what]} is on the list: the problems say why.`)
  const work = `${lengthText(time.plainMm, prefs, 'room')} of plain track, ${counted(time.turnouts, 'turnout')}, ${counted(time.crossings, 'crossing')}`
  const pace = time.unknown.map((part) => partWords[part]).join(', ')
  const hours =
    time.hours === null
      ? `Time is not known: no pace is given for ${pace || 'anything'} (${work}).`
      : `${numberText(time.hours, 1)} hours by your own pace${pace === '' ? '' : `, without ${pace}, for which none is given`} (${work}).`
  return [sum, ...lacks, hours]
}

/** All that hinders the lists, in words, by the stage in which it is mended. */
export function layingProblemTexts(
  lists: LayingLists,
  plan: Plan,
  prefs: MeasurePrefs,
): { readonly track: readonly string[]; readonly roadbed: readonly string[] } {
  const { rails, railCuts, ties, tieProblems, tieCuts, roadbed, roadbedCut } = lists
  const track = (id: string): string => recordName(plan, 'tracks', id)
  return {
    track: [
      ...rails.problems.map((problem) => railProblemText(problem, track, prefs)),
      ...railCuts.flatMap(({ code, result }) => (result.ok ? [] : [`Rail of code ${code}: ${cutProblemText(result.problem, prefs)}`])),
      ...[...ties.problems, ...tieProblems].map((problem) => tieProblemText(problem, plan, prefs)),
      ...tieCuts.flatMap(({ order, result }) =>
        result.ok
          ? []
          : [
              `Ties ${lengthText(order.widthMm, prefs)} wide and ${lengthText(order.thicknessMm, prefs)} thick: ${cutProblemText(result.problem, prefs)}`,
            ],
      ),
    ],
    roadbed: [
      ...roadbed.problems.map((problem) => roadbedProblemText(problem, plan, prefs)),
      ...(roadbedCut.ok ? [] : [roadbedCutProblemText(roadbedCut.problem, plan, prefs, (problem) => cutProblemText(problem, prefs))]),
    ],
  }
}
