import type { Derived } from '../pipeline/types.ts'
import type { TurnoutConstruction } from '../turnout/index.ts'
import { alongLink, chainLinkAt, chainPlaceNear, chainPlaces } from './chains.ts'
import { linksBetween, marksBetween, tiesBetween } from './marks.ts'
import { isCurvedAt } from './plan.ts'
import type { Planned } from './plan.ts'
import type { Cut } from './runs.ts'
import type { RailJoint, RailPiece, RailPlace, RailRun, RailSide } from './types.ts'

/** What a piece is before it has its name and its turn. */
export interface Rough {
  readonly cut: Cut
  readonly run: string
  readonly fromMm: number
  readonly toMm: number
  readonly piece: Omit<RailPiece, 'id' | 'order'>
}

/** A joint between what it joins. */
export interface Met {
  readonly joint: Omit<RailJoint, 'pieces'>
  readonly before: Rough
  readonly behind: Rough
}

/** A run, its pieces not named yet. */
export function runOf(id: string, cut: Cut): Omit<RailRun, 'pieces'> {
  const { chain, fromMm, toMm, kind, code, isClosed, start, end } = cut
  const stretches = linksBetween(cut, fromMm, toMm).map((one) => {
    const [from, to] = [Math.max(fromMm, one.fromMm), Math.min(toMm, one.toMm)]
    return {
      fromMm: from - fromMm,
      toMm: to - fromMm,
      owner: one.link.owner,
      from: chainPlaces(chain, from)[0] ?? null,
      to: chainPlaces(chain, to - 1e-7)[0] ?? null,
    }
  })
  return { id, kind, code, lengthMm: toMm - fromMm, isClosed, start, end, stretches }
}

/** Pieces of a run between its joints and breaks, each shorter by its share of the gaps at its ends. */
export function piecesOf(
  { cut, joints }: Planned,
  run: string,
  derived: Derived,
  allowanceMm: number,
  closesPart: number,
  sticksOf: (key: string) => TurnoutConstruction['sticks'],
): { readonly pieces: readonly Rough[]; readonly joints: readonly Met[] } {
  const isRing = cut.isClosed && joints.length > 0
  const slips = joints.map(({ atMm }) => !isCurvedAt(cut, atMm))
  const gapAt = slipGaps(
    cut,
    joints.map(({ atMm }) => atMm),
    slips,
    closesPart,
  )
  const ends = [
    ...(isRing ? [] : [{ atMm: cut.fromMm, gapMm: cut.start.gapMm, kind: cut.start.kind as RailPiece['startsAt'] }]),
    ...joints.map(({ atMm }, i) => ({ atMm, gapMm: gapAt[i] ?? 0, kind: 'joint' as RailPiece['startsAt'] })),
    ...(isRing ? [] : [{ atMm: cut.toMm, gapMm: cut.end.gapMm, kind: cut.end.kind as RailPiece['startsAt'] }]),
  ]
  const first = ends[0]
  if (isRing && first) ends.push({ ...first, atMm: first.atMm + cut.toMm - cut.fromMm })
  const pieces = ends.slice(1).flatMap((to, i): Rough[] => {
    const from = ends[i]
    if (!from) return []
    const [fromMm, toMm] = [from.atMm + from.gapMm / 2, to.atMm - to.gapMm / 2]
    const jointEnds = [from, to].filter(({ kind }) => kind === 'joint').length
    return [
      {
        cut,
        run,
        fromMm,
        toMm,
        piece: roughPiece(cut, run, fromMm, toMm, from.kind, to.kind, (jointEnds * allowanceMm) / 2, derived, sticksOf),
      },
    ]
  })
  const shift = isRing ? 0 : 1
  const metAt = joints.flatMap(({ atMm, isOwn }, i): Met[] => {
    const before = pieces[i - 1 + shift] ?? pieces.at(-1)
    const behind = pieces[i + shift] ?? pieces[0]
    const place = chainPlaceNear(cut.chain, atMm)
    if (!before || !behind || !place) return []
    const joint = {
      run,
      atMm: atMm - cut.fromMm,
      place,
      kind: slips[i] === true ? ('slip' as const) : ('solder' as const),
      gapMm: gapAt[i] ?? 0,
      isOwn,
    }
    return [{ joint, before, behind }]
  })
  return { pieces, joints: metAt }
}

/** Clear width that each slip joint needs: half of what the soldered rail on either side of it grows by. Solder leaves none. */
function slipGaps(cut: Cut, at: readonly number[], slips: readonly boolean[], closesPart: number): readonly number[] {
  const lengthMm = cut.toMm - cut.fromMm
  const open = at.filter((_, i) => slips[i] === true)
  const ring = cut.isClosed && open.length > 0
  return at.map((atMm, i) => {
    if (slips[i] !== true) return 0
    const n = open.indexOf(atMm)
    const before = open[n - 1] ?? (ring ? (open.at(-1) ?? 0) - lengthMm : cut.fromMm)
    const behind = open[n + 1] ?? (ring ? (open[0] ?? 0) + lengthMm : cut.toMm)
    return (closesPart * (behind - before)) / 2
  })
}

function roughPiece(
  cut: Cut,
  run: string,
  fromMm: number,
  toMm: number,
  startsAt: RailPiece['startsAt'],
  endsAt: RailPiece['endsAt'],
  allowanceMm: number,
  derived: Derived,
  sticksOf: (key: string) => TurnoutConstruction['sticks'],
): Rough['piece'] {
  const lap = cut.chain.lengthMm
  const held = (at: number): number => (cut.chain.isClosed && at >= 2 * lap ? at - lap : at)
  const middle = held((fromMm + toMm) / 2)
  const at = cut.kind === 'plain' ? chainLinkAt(cut.chain, middle) : cut.main
  const owner = at?.link.owner ?? cut.main.link.owner
  const place = chainPlaceNear(cut.chain, middle)
  const links = linksBetween(cut, fromMm, toMm)
  const isCurved = links.some((one) => {
    const from = Math.max(fromMm, one.fromMm)
    const to = Math.min(toMm, one.toMm)
    const [a, b] = [alongLink(one, from), alongLink(one, to)].toSorted((p, q) => p - q)
    return one.link.path.elements.some(
      ({ k0, k1, startStationMm, lengthMm }) =>
        Math.max(Math.abs(k0), Math.abs(k1)) > 1e-7 && startStationMm < (b ?? 0) && startStationMm + lengthMm > (a ?? 0),
    )
  })
  return {
    run,
    kind: cut.kind,
    code: cut.code,
    owner,
    rail: sideOfPiece(cut, place),
    lengthMm: toMm - fromMm + allowanceMm,
    laidMm: toMm - fromMm,
    fromMm: fromMm - cut.fromMm,
    toMm: toMm - cut.fromMm,
    from: chainPlaces(cut.chain, held(fromMm))[0] ?? null,
    to: chainPlaces(cut.chain, held(toMm) - 1e-7)[0] ?? null,
    startsAt,
    endsAt,
    isCurved,
    marks: marksBetween(derived, cut, fromMm, toMm, sticksOf),
    ties: tiesBetween(derived, cut, fromMm, toMm),
  }
}

function sideOfPiece(cut: Cut, place: RailPlace | null): RailSide {
  if (place) return place.rail
  return cut.main.link.headSide === 1 ? 'left' : 'right'
}
