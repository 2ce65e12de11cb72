import type { CutPiece, CutProblem, CutRequest, CutStock } from './types.ts'

/** Pieces of one length, in whole micrometres with the kerf behind each counted in: n pieces fit a stick if their sizes fit its size. */
export interface PieceKind {
  readonly size: number
  readonly pieces: readonly CutPiece[]
}

export interface StockKind {
  /** null: not there at all; what is cut from it is missing. */
  readonly stock: CutStock | null
  readonly lengthMm: number
  /** Length and one kerf, micrometres: the last piece needs no cut behind it. */
  readonly size: number
  readonly length: number
  readonly count: number
  /** Length that counts first: what is bought, or all if nothing is. */
  readonly prime: number
  /** Length that counts second. */
  readonly second: number
}

export interface Instance {
  /** Longest first. */
  readonly kinds: readonly PieceKind[]
  /** Longest first. */
  readonly stocks: readonly StockKind[]
}

export type InstanceResult = { readonly ok: true; readonly instance: Instance } | { readonly ok: false; readonly problem: CutProblem }

/** A missing stick counts as much as so many of the longest: none is used unless it must be. */
const missingWeight = 1000
/** A blade of common practice, no source. */
const usualKerfMm = 0.5

const micro = (mm: number): number => Math.round(mm * 1000)
/** Down to the micrometre: three thirds of a stick come out of it. */
const microDown = (mm: number): number => Math.floor(mm * 1000 + 1e-3)

/** A request in whole numbers, or what is wrong with it. */
export function instanceOf(request: CutRequest): InstanceResult {
  const problem = numberProblem(request)
  if (problem) return { ok: false, problem }
  const { pieces, kerfMm } = request
  const usable = request.stocks.filter(({ count }) => count === null || count > 0)
  const longest = usable.reduce<CutStock | null>((a, b) => (a && a.lengthMm >= b.lengthMm ? a : b), null)
  if (!longest) return pieces.length === 0 ? { ok: true, instance: { kinds: [], stocks: [] } } : { ok: false, problem: { kind: 'noStock' } }
  const long = pieces.find(({ lengthMm }) => microDown(lengthMm) > micro(longest.lengthMm))
  if (long) return { ok: false, problem: { kind: 'pieceTooLong', piece: long.id, lengthMm: long.lengthMm, longestMm: longest.lengthMm } }

  const kerf = micro(kerfMm)
  const bySize = new Map<number, CutPiece[]>()
  for (const piece of pieces) {
    const size = microDown(piece.lengthMm) + kerf
    const same = bySize.get(size)
    if (same) same.push(piece)
    else bySize.set(size, [piece])
  }
  const kinds = [...bySize].map(([size, same]) => ({ size, pieces: same })).toSorted((a, b) => b.size - a.size)
  const buys = usable.some(({ isBought }) => isBought)
  const stocks = usable.map((stock): StockKind => {
    const length = micro(stock.lengthMm)
    const isPrime = !buys || stock.isBought
    return {
      stock,
      lengthMm: stock.lengthMm,
      size: length + kerf,
      length,
      count: stock.count ?? Infinity,
      prime: isPrime ? length : 0,
      second: isPrime ? 0 : length,
    }
  })
  const endless = Math.max(0, ...stocks.filter(({ count }) => count === Infinity).map(({ size }) => size))
  if ((kinds[0]?.size ?? 0) > endless || endless === 0) {
    const length = micro(longest.lengthMm)
    const size = length + kerf
    stocks.push({
      stock: null,
      lengthMm: longest.lengthMm,
      size,
      length,
      count: Infinity,
      prime: missingWeight * length,
      second: 0,
    })
  }
  return { ok: true, instance: { kinds, stocks: stocks.toSorted((a, b) => b.size - a.size || a.prime - b.prime) } }
}

function numberProblem({ pieces, stocks, kerfMm, leastOffcutMm }: CutRequest): CutProblem | null {
  const isLength = (value: number): boolean => Number.isFinite(value) && value >= 0
  if (!isLength(kerfMm)) return { kind: 'badKerf', value: kerfMm, wouldDo: usualKerfMm }
  if (!isLength(leastOffcutMm)) return { kind: 'badLeastOffcut', value: leastOffcutMm, wouldDo: 0 }
  for (const { id, lengthMm } of pieces)
    if (!isLength(lengthMm) || microDown(lengthMm) < 1) return { kind: 'badPiece', piece: id, value: lengthMm }
  for (const { id, lengthMm, count } of stocks) {
    if (!isLength(lengthMm) || micro(lengthMm) < 1) return { kind: 'badStock', stock: id, what: 'length', value: lengthMm }
    if (count !== null && !(Number.isInteger(count) && count >= 0)) return { kind: 'badStock', stock: id, what: 'count', value: count }
  }
  return null
}
