import type { Derived } from '../pipeline/types.ts'
import type { Id, Plan, Stock } from '../plan/types.ts'
import { jointStations, railsCreateDeriver } from '../rails/index.ts'
import type { RailPiece, RailWork } from '../rails/types.ts'
import { roadbedCut, roadbedOf } from '../roadbed/index.ts'
import { cutStocks, stockNames } from '../sticks/index.ts'
import type { CutRequest, CutResult } from '../sticks/types.ts'
import { tieOrders, tiesOf } from '../ties/index.ts'
import type { LayingLists, RailCut, TieCut } from './types.ts'

type RailStock = Stock & { readonly of: Extract<Stock['of'], { kind: 'rail' }> }

/**
 * Everything that a plan is cut into, put on its stock.
 *
 * cut: puts lengths on lengths; asked for each code of rail, each size of tie, and for roadbed.
 * rails: of the same derived plan, if they are there already.
 * Outcome: the lists, with what could not be had as problems in them. Throws what `cut` throws.
 */
export async function layingLists(
  derived: Derived,
  cut: (request: CutRequest) => Promise<CutResult>,
  rails: RailWork = railsCreateDeriver()(derived),
): Promise<LayingLists> {
  const { plan } = derived
  const railCuts: RailCut[] = []
  for (const { code, stocks, request } of railOrders(plan, rails.pieces)) railCuts.push({ code, stocks, result: await cut(request) })
  const ties = tiesOf(derived, jointStations(rails))
  const { orders, problems } = tieOrders(plan, ties)
  const tieCuts: TieCut[] = []
  for (const order of orders) tieCuts.push({ order, result: await cut(order.request) })
  const roadbed = roadbedOf(derived)
  return { rails, railCuts, ties, tieProblems: problems, tieCuts, roadbed, roadbedCut: await roadbedCut(plan, roadbed, cut) }
}

/** What is to be cut from sticks of rail, code by code. Pieces longer than every stick are left out: the rails tell of them. */
function railOrders(
  { stocks, railway }: Plan,
  pieces: readonly Pick<RailPiece, 'id' | 'lengthMm' | 'code'>[],
): readonly { readonly code: number; readonly stocks: { readonly [name: string]: Id }; readonly request: CutRequest }[] {
  const { kerfMm, leastOffcutMm } = railway.laying.cutting
  const codes = [...new Set(pieces.map(({ code }) => code))].toSorted((a, b) => b - a)
  return codes.flatMap((code) => {
    const mine = Object.values(stocks).filter(
      (stock): stock is RailStock => stock.of.kind === 'rail' && stock.of.code === code && (stock.onHand > 0 || stock.canBuy),
    )
    const longestMm = Math.max(0, ...mine.map(({ of }) => of.lengthMm))
    const fitting = pieces.filter((piece) => piece.code === code && piece.lengthMm <= longestMm + 1e-6)
    if (fitting.length === 0) return []
    return [
      {
        code,
        stocks: stockNames(mine),
        request: {
          pieces: fitting.map(({ id, lengthMm }) => ({ id, lengthMm: Math.min(lengthMm, longestMm) })),
          stocks: cutStocks(mine.map(({ of, ...stock }) => ({ ...stock, lengthMm: of.lengthMm }))),
          kerfMm,
          leastOffcutMm,
        },
      },
    ]
  })
}
