import { pathNearest, pathPoseAt, pathStart } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import type { Derived } from '../pipeline/types.ts'
import type { Tie } from '../track/types.ts'
import type { RailStick } from '../turnout/types.ts'
import { alongChain } from './chains.ts'
import type { ChainLink } from './chains.ts'
import type { Cut } from './runs.ts'
import { ownerKey } from './runs.ts'
import type { MarkKind, RailMark } from './types.ts'

const newtonSteps = 6
const ownRailMm = 1e-6

/** Links of a cut between two places of its chain. */
export function linksBetween({ chain }: Cut, fromMm: number, toMm: number): readonly ChainLink[] {
  return chain.links.filter((one) => one.toMm > fromMm + ownRailMm && one.fromMm < toMm - ownRailMm)
}

/** Marks of the stretch between two places: its middle, the ends of curves and easements, the bends of special work. */
export function marksBetween(
  { network }: Derived,
  cut: Cut,
  fromMm: number,
  toMm: number,
  sticksOf: (key: string) => readonly RailStick[],
): readonly RailMark[] {
  const marks: RailMark[] = [{ kind: 'middle', atMm: (toMm - fromMm) / 2 }]
  const add = (kind: MarkKind, atMm: number, turnRad?: number): void => {
    if (atMm < fromMm || atMm > toMm) return
    marks.push({ kind, atMm: atMm - fromMm, ...(turnRad === undefined ? {} : { turnRad }) })
  }
  for (const one of linksBetween(cut, fromMm, toMm)) {
    const { link } = one
    if (link.owner.kind !== 'track') {
      const stick = sticksOf(ownerKey(link.owner)).find(({ rail }) => rail === link.index)
      for (const { atMm, turnRad } of stick?.bends ?? []) add('bend', alongChain(one, atMm), one.isForward ? turnRad : -turnRad)
      continue
    }
    const alignment = network.tracks.get(link.owner.track)?.alignment
    const near = link.abreast[0]
    if (!near || alignment?.ok !== true) continue
    const at = (kind: MarkKind, stationMm: number): void => {
      if (stationMm >= near.lowMm && stationMm <= near.highMm) add(kind, alongChain(one, near.alongAt(stationMm)))
    }
    for (const { tsMm, scMm, csMm, stMm, joins } of alignment.corners) {
      if (stMm <= tsMm) continue
      at('TS', tsMm)
      if (scMm > tsMm) at('SC', scMm)
      for (const join of joins) {
        at('CC', join.fromMm)
        if (join.toMm > join.fromMm) at('CC', join.toMm)
      }
      if (stMm > csMm) at('CS', csMm)
      at('ST', stMm)
    }
  }
  return marks.toSorted((a, b) => a.atMm - b.atMm)
}

/** Where the stretch between two places crosses the middles of ties, from its start. */
export function tiesBetween({ trackwork }: Derived, cut: Cut, fromMm: number, toMm: number): readonly number[] {
  const found = linksBetween(cut, fromMm, toMm).flatMap((one) =>
    tiesCrossed(trackwork, cut, one).flatMap((atMm) => (atMm >= fromMm && atMm <= toMm ? [atMm - fromMm] : [])),
  )
  return found.toSorted((a, b) => a - b).filter((at, i, all) => i === 0 || at - (all[i - 1] ?? 0) > 1e-3)
}

/** For every piece of a link the same ties are looked at. */
const crossed = new WeakMap<Derived['trackwork'], WeakMap<ChainLink, readonly number[]>>()

/** Where a link crosses ties, in the measure of its chain. */
function tiesCrossed(trackwork: Derived['trackwork'], cut: Cut, one: ChainLink): readonly number[] {
  const known = crossed.get(trackwork) ?? new WeakMap<ChainLink, readonly number[]>()
  crossed.set(trackwork, known)
  const before = known.get(one)
  if (before !== undefined) return before
  const { link } = one
  const found = tiesUnder(trackwork, cut, one).flatMap((tie) => {
    const along = link.owner.kind === 'track' && tie.isPlain ? plainAlong(one, tie.tie) : crossedAt(link.path, tie.tie)
    return along === null ? [] : [alongChain(one, along)]
  })
  known.set(one, found)
  return found
}

interface TieUnder {
  readonly tie: Tie
  readonly isPlain: boolean
}

/** Ties of a link's own track or work, and those of works beside it in the chain, whose long ties reach on below it. */
function tiesUnder(trackwork: Derived['trackwork'], { chain }: Cut, one: ChainLink): readonly TieUnder[] {
  const at = chain.links.indexOf(one)
  const near = [chain.links[at - 1], one, chain.links[at + 1]].flatMap((link) => (link ? [link.link.owner] : []))
  const owners = new Map(near.map((owner) => [ownerKey(owner), owner]))
  return [...owners.values()].flatMap((owner): TieUnder[] => {
    if (owner.kind === 'track')
      return (trackwork.tracks.get(owner.track)?.ties ?? []).map((tie) => ({ tie, isPlain: owner === one.link.owner }))
    const work = owner.kind === 'turnout' ? trackwork.turnouts.get(owner.turnout) : trackwork.crossings.get(owner.crossing)
    return (work?.ties ?? []).map((tie) => ({ tie, isPlain: false }))
  })
}

function plainAlong({ link }: ChainLink, { stationMm }: Tie): number | null {
  const near = link.abreast[0]
  if (!near) return null
  if (stationMm < near.lowMm || stationMm > near.highMm) return null
  return near.alongAt(stationMm)
}

/** Where a rail crosses a tie's middle line on the tie; null: not. */
function crossedAt(path: Path, { centre, axisRad, lengthMm }: Tie): number | null {
  const normal = { x: -Math.sin(axisRad), y: Math.cos(axisRad) }
  const start = pathStart(path)
  if (Math.hypot(centre.x - start.x, centre.y - start.y) > path.lengthMm + lengthMm) return null
  const near = pathNearest(path, centre)
  if (near.distanceMm > lengthMm) return null
  let along = near.stationMm
  for (let i = 0; i < newtonSteps; i++) {
    const at = pathPoseAt(path, along)
    const off = (at.x - centre.x) * normal.x + (at.y - centre.y) * normal.y
    const rate = Math.cos(at.headingRad) * normal.x + Math.sin(at.headingRad) * normal.y
    if (Math.abs(rate) < 0.1) return null
    const next = along - off / rate
    if (next < 0 || next > path.lengthMm) return null
    along = next
  }
  const at = pathPoseAt(path, along)
  return Math.hypot(at.x - centre.x, at.y - centre.y) <= lengthMm / 2 ? along : null
}
