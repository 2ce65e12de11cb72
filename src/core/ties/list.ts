import type { LaidTie, TieLine, TieList, TieOwner, TieSet } from './types.ts'

/** Lengths are told to a hundredth of a mm: ties that differ by less are one line of the list. */
const hundredth = (mm: number): number => Math.round(mm * 100) / 100

/** The ties of all sets by material, size and length, longest first; each tie is counted once in the whole and once for its owner. */
export function tieListOf(sets: readonly TieSet[]): TieList {
  const every = sets.flatMap(({ owner, ties }) => ties.map((tie) => ({ tie, owner })))
  const lines = linesOf(every)
  return {
    lines,
    byOwner: sets.map(({ owner, ties }) => ({ owner, count: ties.length, lines: linesOf(ties.map((tie) => ({ tie, owner }))) })),
    count: every.length,
    totalMm: lines.reduce((sum, { count, lengthMm }) => sum + count * lengthMm, 0),
  }
}

function linesOf(ties: readonly { readonly tie: LaidTie; readonly owner: TieOwner }[]): readonly TieLine[] {
  const lines = new Map<string, TieLine>()
  for (const { tie, owner } of ties) {
    const { material } = tie
    const [lengthMm, widthMm, thicknessMm] = [hundredth(tie.lengthMm), hundredth(tie.widthMm), hundredth(tie.thicknessMm)]
    const key = `${material} ${widthMm} ${thicknessMm} ${lengthMm}`
    const line = lines.get(key) ?? { material, lengthMm, widthMm, thicknessMm, count: 0, plain: 0, turnout: 0, crossing: 0 }
    const where = owner.kind === 'track' ? 'plain' : owner.kind
    lines.set(key, { ...line, count: line.count + 1, [where]: line[where] + 1 })
  }
  return [...lines.values()].toSorted(
    (a, b) =>
      (a.material < b.material ? 1 : a.material > b.material ? -1 : 0) ||
      a.widthMm - b.widthMm ||
      a.thicknessMm - b.thicknessMm ||
      b.lengthMm - a.lengthMm,
  )
}
