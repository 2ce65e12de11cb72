import { angleWrap, pathNearest } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import { tieCutBack } from './tieCut.ts'
import { tieSeenFrom, tiesOverlap, tiesReach } from './tieOverlap.ts'
import type { WorkTrack } from './types.ts'

/** Ties that lean less than this against each other can be one: as much as a No. 7 turns. Common practice, no source. */
const alikeRad = 0.15

/** Two ties of which one lies beside the other nearer than this, from middle to middle in tie widths, are one: no spike or tamper comes between. Common practice, no source. */
const besideWidths = 1.7

type WorkTie = WorkTrack['ties'][number]

/** A turnout's or crossing's ties, and the track whose rails its head blocks hold; null: they are not cut. */
export interface SharedWork {
  readonly ties: readonly WorkTie[]
  readonly host: { readonly path: Path; readonly holdMm: number } | null
}

/**
 * The ties of works that stand together, as the two turnouts of a crossover: where a later one's long tie lies on an earlier one's or hard beside it, both
 * are one long tie, in steps of the stock; and head blocks are cut back where other ties lie, as far as the rails on them allow. Ties that lean against
 * each other stay as they are.
 *
 * Outcome:  the ties of each work; the same list where nothing changed. Never throws.
 * Source:   common practice: crossovers lie on ties that reach under both tracks.
 */
export function tiesShared(works: readonly SharedWork[], stepMm: number): readonly (readonly WorkTie[])[] {
  const lists = works.map(({ ties }) => [...ties])
  const changed = works.map(() => false)
  for (const [later, ties] of lists.entries()) {
    const kept = ties.filter((tie) => !isJoined(tie, lists, later, changed, stepMm))
    if (kept.length < ties.length) {
      lists[later] = kept
      changed[later] = true
    }
  }
  for (const [at, { host }] of works.entries()) {
    const list = lists[at] ?? []
    if (host === null || !list.some(({ isHeadBlock }) => isHeadBlock)) continue
    // Of two head blocks the later one is cut.
    const others = lists.flatMap((theirs, i) => (i === at ? [] : theirs.filter(({ isHeadBlock }) => !isHeadBlock || i < at)))
    for (const [i, tie] of list.entries()) {
      if (!tie.isHeadBlock || !others.some((other) => tiesReach(tie, other) && tiesOverlap(tie, other))) continue
      const cut = tieCutBack(
        tie,
        others.filter((other) => tiesReach(tie, other)),
        { holdMm: host.holdMm, middleMm: hostOn(tie, host.path) },
      )
      if (cut === null) continue
      list[i] = cut
      changed[at] = true
    }
  }
  return works.map(({ ties }, i) => (changed[i] === true ? (lists[i] ?? ties) : ties))
}

/** Where along a tie, from its middle, a track lies on it. */
function hostOn({ centre, axisRad }: WorkTie, path: Path): number {
  const { x, y } = pathNearest(path, centre)
  return (x - centre.x) * Math.cos(axisRad) + (y - centre.y) * Math.sin(axisRad)
}

/** Whether a tie became part of one of an earlier work. */
function isJoined(tie: WorkTie, lists: WorkTie[][], later: number, changed: boolean[], stepMm: number): boolean {
  if (tie.isHeadBlock) return false
  for (let earlier = 0; earlier < later; earlier++) {
    const list = lists[earlier] ?? []
    const at = list.findIndex((other) => !other.isHeadBlock && tiesReach(tie, other) && areAlike(tie, other) && liesBeside(tie, other))
    const other = list[at]
    if (other === undefined) continue
    list[at] = joined(other, tie, stepMm)
    changed[earlier] = true
    return true
  }
  return false
}

function areAlike(a: WorkTie, b: WorkTie): boolean {
  const turn = Math.abs(angleWrap(a.axisRad - b.axisRad))
  return Math.min(turn, Math.PI - turn) < alikeRad
}

/** Whether a tie has some of its length in common with another, on it or hard beside it. */
function liesBeside(tie: WorkTie, other: WorkTie): boolean {
  const { along, across, reachAlong } = tieSeenFrom(tie, other)
  return Math.abs(across) < besideWidths * other.widthMm && Math.abs(along) < other.lengthMm / 2 + reachAlong
}

function joined(tie: WorkTie, other: WorkTie, stepMm: number): WorkTie {
  const { along, reachAlong } = tieSeenFrom(other, tie)
  const [low, high] = [Math.min(-tie.lengthMm / 2, along - reachAlong), Math.max(tie.lengthMm / 2, along + reachAlong)]
  const lengthMm = Math.ceil((high - low) / stepMm - 1e-9) * stepMm
  const middle = (low + high) / 2
  const { centre, axisRad } = tie
  return { ...tie, centre: { x: centre.x + middle * Math.cos(axisRad), y: centre.y + middle * Math.sin(axisRad) }, lengthMm }
}
