import type { Id, Plan } from '../plan/types.ts'
import type { CutRequest, CutResult, PlacedPiece } from '../sticks/types.ts'
import { noStockProblem, stockForStrip } from './stock.ts'
import type { RoadbedStock } from './stock.ts'
import { cutStocks, stockOfStick } from '../sticks/index.ts'
import type { RoadbedCutResult, RoadbedWork, SheetCount, SheetCut, SheetStrip } from './types.ts'

interface Wanted {
  readonly id: string
  readonly material: Id
  readonly thicknessMm: number
  readonly widthMm: number
  readonly lengthMm: number
}

interface CutStrip extends Omit<SheetStrip, 'acrossMm'> {
  readonly stock: Id
}

/** What a knife takes, if a builder has nothing better: common practice, no source. */
const usualKerfMm = 0.5
/** Widths are told apart to a ten thousandth of a mm. */
const widthKey = (mm: number): number => Math.round(mm * 1e4)
const grain = 1e-9

/** So many strips of a width lie side by side on a sheet, a knife's cut between any two. */
export function stripsAcross(sheetMm: number, widthMm: number, kerfMm: number): number {
  return Math.floor((sheetMm + kerfMm) / (widthMm + kerfMm) + grain)
}

/**
 * The strips of a plan cut from sheets in two steps: lengths on strips as long as the sheet, width by width, then those strips side by side on
 * sheets, widths together. What one track leaves of a strip is used for the next. What is at hand goes first.
 *
 * cut: puts lengths on lengths; it is asked for both steps.
 * Outcome: sheets with the place of every piece; or what is wanting. Throws what `cut` throws.
 */
export async function roadbedCut(
  plan: Plan,
  work: Pick<RoadbedWork, 'runs' | 'turnoutPieces'>,
  cut: (request: CutRequest) => Promise<CutResult>,
): Promise<RoadbedCutResult> {
  const { kerfMm, leastOffcutMm } = plan.railway.laying.cutting
  if (!(kerfMm >= 0 && Number.isFinite(kerfMm))) return { ok: false, problem: { kind: 'badKerf', value: kerfMm, wouldDo: usualKerfMm } }
  const wanted = piecesWanted(work)
  const handLeft = new Map(Object.values(plan.stocks).map(({ id, onHand }) => [id, onHand]))
  const strips: CutStrip[] = []
  let isProven = true
  for (const pieces of byWidth(wanted)) {
    const [first] = pieces
    if (!first) continue
    const { material, thicknessMm, widthMm } = first
    const stocks = stockForStrip(plan, material, thicknessMm, widthMm)
    if (stocks.length === 0) return { ok: false, problem: noStockProblem(plan, material, thicknessMm, widthMm) }
    const longestMm = Math.max(...stocks.map(({ of }) => of.lengthMm))
    const long = pieces.find(({ lengthMm }) => lengthMm > longestMm + 1e-6)
    if (long) return { ok: false, problem: { kind: 'pieceTooLong', piece: long.id, lengthMm: long.lengthMm, longestMm } }
    const across = (stock: RoadbedStock): number => stripsAcross(stock.of.widthMm, widthMm, kerfMm)
    const answer = await cut({
      pieces: pieces.map(({ id, lengthMm }) => ({ id, lengthMm })),
      stocks: cutStocks(
        stocks.map((stock) => ({ ...stock, lengthMm: stock.of.lengthMm, onHand: (handLeft.get(stock.id) ?? 0) * across(stock) })),
      ),
      kerfMm,
      leastOffcutMm,
    })
    if (!answer.ok) return { ok: false, problem: { kind: 'lengths', material, thicknessMm, widthMm, problem: answer.problem } }
    isProven &&= answer.plan.isProven
    for (const { stock, pieces: placed, leftMm, isKept } of answer.plan.sticks) {
      strips.push({ stock: stockOfStick(stock), widthMm, pieces: placed, leftMm, isKept })
    }
    for (const stock of stocks) {
      const fromHand = answer.plan.sticks.filter((stick) => stick.stock === stock.id).length
      handLeft.set(stock.id, (handLeft.get(stock.id) ?? 0) - Math.ceil(fromHand / across(stock)))
    }
  }

  const sheets: SheetCut[] = []
  const counts: SheetCount[] = []
  for (const id of new Set(strips.map(({ stock }) => stock))) {
    const stock = plan.stocks[id]
    if (stock?.of.kind !== 'roadbed') continue
    const mine = strips.filter((strip) => strip.stock === id)
    const answer = await cut({
      pieces: mine.map(({ widthMm }, i) => ({ id: String(i), lengthMm: widthMm })),
      stocks: [{ id, lengthMm: stock.of.widthMm, count: null, isBought: stock.canBuy }],
      kerfMm,
      leastOffcutMm,
    })
    if (!answer.ok) {
      const { material, thicknessMm, widthMm } = stock.of
      return { ok: false, problem: { kind: 'lengths', material, thicknessMm, widthMm, problem: answer.problem } }
    }
    isProven &&= answer.plan.isProven
    sheets.push(
      ...answer.plan.sticks.map(({ pieces, leftMm }): SheetCut => ({ stock: id, strips: sheetStrips(mine, pieces), leftWidthMm: leftMm })),
    )
    const used = answer.plan.sticks.length
    if (used > stock.onHand && !stock.canBuy)
      return { ok: false, problem: { kind: 'notEnough', stock: id, needed: used, onHand: stock.onHand } }
    const fromHand = Math.min(used, stock.onHand)
    counts.push({ stock: id, used, fromHand, toBuy: used - fromHand, packs: Math.ceil((used - fromHand) / stock.packOf) })
  }
  const areaOf = ({ stock }: SheetCut): number => {
    const of = plan.stocks[stock]?.of
    return of?.kind === 'roadbed' ? of.widthMm * of.lengthMm : 0
  }
  return {
    ok: true,
    plan: {
      sheets,
      counts,
      usedMm2: wanted.reduce((sum, { widthMm, lengthMm }) => sum + widthMm * lengthMm, 0),
      sheetMm2: sheets.reduce((sum, sheet) => sum + areaOf(sheet), 0),
      isProven,
    },
  }
}

function sheetStrips(strips: readonly CutStrip[], placed: readonly PlacedPiece[]): readonly SheetStrip[] {
  return placed.flatMap(({ id, fromMm }): readonly SheetStrip[] => {
    const strip = strips[Number(id)]
    if (!strip) return []
    const { widthMm, pieces, leftMm, isKept } = strip
    return [{ widthMm, acrossMm: fromMm, pieces, leftMm, isKept }]
  })
}

function piecesWanted({ runs, turnoutPieces }: Pick<RoadbedWork, 'runs' | 'turnoutPieces'>): readonly Wanted[] {
  const strips = [...runs, ...turnoutPieces].flatMap((one) => {
    const { material, thicknessMm } = one.roadbed
    return ('pieces' in one ? one.pieces : one.strips).map(({ id, widthMm, lengthMm }) => ({
      id,
      widthMm,
      lengthMm,
      material,
      thicknessMm,
    }))
  })
  return strips.filter(({ lengthMm }) => lengthMm > 0)
}

/** Pieces of one material, thickness and width together, wide ones first. */
function byWidth(wanted: readonly Wanted[]): readonly (readonly Wanted[])[] {
  const groups = new Map<string, Wanted[]>()
  for (const one of wanted.toSorted((a, b) => b.widthMm - a.widthMm)) {
    const key = `${one.material} ${one.thicknessMm} ${widthKey(one.widthMm)}`
    const group = groups.get(key)
    if (group) group.push(one)
    else groups.set(key, [one])
  }
  return [...groups.values()]
}
