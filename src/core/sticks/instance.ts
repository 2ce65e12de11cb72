import type { CutFigures, CutPiece, CutPlan, CutProblem, CutRequest, CutStick, CutStock } from './types.ts'

/** Lengths are compared in thousandths of a millimetre, as whole numbers: sums of them are exact. */
const perMm = 1000
const whole = (mm: number): number => Math.round(mm * perMm)

/** Pieces of one length. */
export interface Kind {
  /** With the cut behind it. */
  readonly weight: number
  readonly pieces: readonly CutPiece[]
}

/** Stock of one length. room: with the cut that the last piece does not need. limit: Infinity: as many as are wanted. */
export interface Source {
  readonly stock: CutStock
  readonly room: number
  /** Length that is bought with one, whole; nothing for what is at hand. */
  readonly cost: number
  readonly limit: number
}

/** A request in whole numbers: kinds longest first, sources at hand first, then by length. */
export interface Instance {
  readonly kinds: readonly Kind[]
  readonly sources: readonly Source[]
  readonly kerf: number
  readonly leastOffcut: number
}

/** A stick of a plan: its source, and how many it holds of each kind. */
export interface Load {
  readonly source: number
  readonly counts: readonly number[]
}

/** Stands for what cannot be had: so many times as dear as the longest stock. */
export const MISSING = 'missing'
const MISSING_COST = 100

export function instanceOf({ pieces, stocks, kerfMm, leastOffcutMm }: CutRequest): Instance | CutProblem {
  if (!(kerfMm >= 0 && Number.isFinite(kerfMm))) return { kind: 'badValue', where: 'kerfMm', value: kerfMm }
  if (!(leastOffcutMm >= 0 && Number.isFinite(leastOffcutMm))) return { kind: 'badValue', where: 'leastOffcutMm', value: leastOffcutMm }
  for (const { id, lengthMm } of [...pieces, ...stocks])
    if (!(whole(lengthMm) > 0 && lengthMm < 1e9)) return { kind: 'badValue', where: id, value: lengthMm }
  const bad = stocks.find(({ count }) => count !== null && !(Number.isInteger(count) && count >= 0))
  if (bad) return { kind: 'badValue', where: `${bad.id} count`, value: bad.count ?? NaN }
  const usable = stocks.filter(({ count }) => count === null || count > 0)
  if (usable.length === 0 && pieces.length > 0) return { kind: 'noStock' }
  const longestMm = Math.max(0, ...usable.map(({ lengthMm }) => lengthMm))
  const long = pieces.find(({ lengthMm }) => whole(lengthMm) > whole(longestMm))
  if (long) return { kind: 'pieceTooLong', piece: long.id, lengthMm: long.lengthMm, longestMm }

  const kerf = whole(kerfMm)
  const byLength = new Map<number, CutPiece[]>()
  for (const piece of pieces) {
    const key = whole(piece.lengthMm)
    const same = byLength.get(key)
    if (same) same.push(piece)
    else byLength.set(key, [piece])
  }
  const kinds = [...byLength].sort(([a], [b]) => b - a).map(([length, same]): Kind => ({ weight: length + kerf, pieces: same }))
  const sources = usable
    .map((stock): Source => {
      const length = whole(stock.lengthMm)
      return { stock, room: length + kerf, cost: stock.isBought ? length : 0, limit: stock.count ?? Infinity }
    })
    .sort((a, b) => Math.sign(a.cost) - Math.sign(b.cost) || a.room - b.room)
  const longest = whole(longestMm)
  const hasEnd = sources.every(({ limit }) => limit !== Infinity)
  const missing: Source = {
    stock: { id: MISSING, lengthMm: longestMm, count: null, isBought: true },
    room: longest + kerf,
    cost: MISSING_COST * longest,
    limit: Infinity,
  }
  return { kinds, sources: hasEnd ? [...sources, missing] : sources, kerf, leastOffcut: whole(leastOffcutMm) }
}

export const isInstance = (asked: Instance | CutProblem): asked is Instance => 'kinds' in asked

export function loadWeight({ kinds }: Instance, counts: readonly number[]): number {
  return counts.reduce((sum, count, i) => sum + count * (kinds[i]?.weight ?? 0), 0)
}

export function loadsCost({ sources }: Instance, loads: readonly Load[]): number {
  return loads.reduce((sum, { source }) => sum + (sources[source]?.cost ?? 0), 0)
}

/** The plan of loads: pieces by their ids, longest first along each stick. */
export function planOf(instance: Instance, loads: readonly Load[], firstFit: readonly Load[], bound: number): CutPlan {
  const { kinds, sources, kerf, leastOffcut } = instance
  const next = kinds.map(() => 0)
  const sticks = loads.flatMap(({ source, counts }): CutStick[] => {
    const from = sources[source]
    if (from === undefined) return []
    let at = 0
    const pieces = counts.flatMap((count, i) => {
      const kind = kinds[i]
      if (kind === undefined) return []
      const first = next[i] ?? 0
      next[i] = first + count
      return kind.pieces.slice(first, first + count).map((piece) => {
        const placed = { ...piece, fromMm: at / perMm }
        at += kind.weight
        return placed
      })
    })
    const left = Math.max(0, from.room - kerf - at)
    const isKept = left > 0 && left >= leastOffcut
    return [{ stock: from.stock.id, lengthMm: from.stock.lengthMm, isBought: from.stock.isBought, pieces, leftMm: left / perMm, isKept }]
  })
  const cost = loadsCost(instance, loads)
  const gap = cost > bound && cost > 0 ? (cost - bound) / cost : 0
  return {
    sticks,
    figures: figuresOf(instance, loads),
    firstFit: figuresOf(instance, firstFit),
    boundMm: bound / perMm,
    gap,
    isProven: gap === 0,
  }
}

export function figuresOf(instance: Instance, loads: readonly Load[]): CutFigures {
  const { sources, kinds, kerf, leastOffcut } = instance
  let waste = 0
  for (const { source, counts } of loads) {
    const length = (sources[source]?.room ?? 0) - kerf
    const pieces = counts.reduce((sum, count, i) => sum + count * ((kinds[i]?.weight ?? 0) - kerf), 0)
    const left = Math.max(0, length + kerf - loadWeight(instance, counts) - kerf)
    waste += length - pieces - (left >= leastOffcut ? left : 0)
  }
  return { sticks: loads.length, boughtMm: loadsCost(instance, loads) / perMm, wasteMm: waste / perMm }
}
