import type { Plan, Stock } from '../plan/types.ts'
import { cutStocks, stockNames } from '../sticks/index.ts'
import type { LaidTie, TieMaterial, TieOrder, TieProblem, TieWork } from './types.ts'

/** Stock so much wider or thicker is of the same size: what inch and mm name alike. Common practice, no source. */
const sameMm = 0.1

type TieStock = Stock & { readonly of: Extract<Stock['of'], { kind: 'tie' | 'board' }> }

/** What is to be cut from tie stock, size by size, for the room of sticks; and ties for which there is no stock, or none long enough. */
export function tieOrders(
  { stocks, railway }: Plan,
  { sets }: Pick<TieWork, 'sets'>,
): { readonly orders: readonly TieOrder[]; readonly problems: readonly TieProblem[] } {
  const { kerfMm, leastOffcutMm } = railway.laying.cutting
  const orders: TieOrder[] = []
  const problems: TieProblem[] = []
  for (const ties of bySize(sets.flatMap((set) => set.ties))) {
    const [first] = ties
    if (!first) continue
    const { material, widthMm, thicknessMm } = first
    const kind = material === 'wood' ? 'tie' : 'board'
    const all = Object.values(stocks).filter((stock): stock is TieStock => stock.of.kind === kind && (stock.onHand > 0 || stock.canBuy))
    const fits = all.filter(({ of }) => Math.abs(of.widthMm - widthMm) <= sameMm && Math.abs(of.thicknessMm - thicknessMm) <= sameMm)
    const longest = ties.reduce((a, b) => (b.lengthMm > a.lengthMm ? b : a), first)
    if (fits.length === 0) {
      const others = all.map(({ of }) => ({ widthMm: of.widthMm, thicknessMm: of.thicknessMm }))
      problems.push({ kind: 'noTieStock', material, widthMm, thicknessMm, count: ties.length, longestMm: longest.lengthMm, others })
      continue
    }
    const longestMm = Math.max(...fits.map(({ of }) => of.lengthMm))
    const fitting = ties.filter(({ lengthMm }) => lengthMm <= longestMm + 1e-6)
    if (fitting.length < ties.length) {
      const count = ties.length - fitting.length
      problems.push({ kind: 'tieTooLong', material, tie: longest.id, lengthMm: longest.lengthMm, longestMm, count })
    }
    if (fitting.length === 0) continue
    orders.push({
      material,
      widthMm,
      thicknessMm,
      stocks: stockNames(fits),
      request: {
        pieces: fitting.map(({ id, lengthMm }) => ({ id, lengthMm })),
        stocks: cutStocks(fits.map(({ of, ...stock }) => ({ ...stock, lengthMm: of.lengthMm }))),
        kerfMm,
        leastOffcutMm,
      },
    })
  }
  return { orders, problems }
}

function bySize(ties: readonly LaidTie[]): readonly (readonly LaidTie[])[] {
  const groups = new Map<string, LaidTie[]>()
  const keyOf = (material: TieMaterial, ...sizes: readonly number[]): string =>
    [material, ...sizes.map((mm) => Math.round(mm * 100))].join(' ')
  for (const tie of ties) {
    const key = keyOf(tie.material, tie.widthMm, tie.thicknessMm)
    const group = groups.get(key)
    if (group) group.push(tie)
    else groups.set(key, [tie])
  }
  return [...groups.values()]
}
