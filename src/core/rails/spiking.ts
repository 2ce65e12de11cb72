import { pathCurvatureAt } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import type { Derived } from '../pipeline/types.ts'
import type { Id, SpikingRules } from '../plan/types.ts'
import { alongLink } from './chains.ts'
import { linksBetween } from './marks.ts'
import type { Rough } from './pieces.ts'
import type { SpikePlan, SpikeTie } from './types.ts'

/** Spikes to a rail at one tie: one on either side of its foot. */
const spikesAtTie = 2

const straightPerMm = 1e-7

/**
 * Which ties of a stretch of plain rail are spiked. The ties at its joints are, and from joint to joint every so many of them, by whether the
 * line bends there; of all of them the first pass takes those at joints and every so many ties besides.
 *
 * Domain:  stations of its ties in order along it. A count below one is one.
 */
function spikedTies(
  path: Path,
  stations: readonly number[],
  rail: SpikeTie['rail'],
  jointAt: { readonly start: boolean; readonly end: boolean },
  rules: SpikingRules,
): readonly SpikeTie[] {
  const every = (count: number): number => Math.max(1, Math.round(count))
  const found: SpikeTie[] = []
  let [sinceAny, sinceFirst] = [Infinity, Infinity]
  stations.forEach((stationMm, i) => {
    const isJoint = (i === 0 && jointAt.start) || (i === stations.length - 1 && jointAt.end)
    const isEnd = i === 0 || i === stations.length - 1
    const held = Math.min(Math.max(stationMm, 0), path.lengthMm)
    const isCurved = Math.abs(pathCurvatureAt(path, held)) > straightPerMm
    sinceAny++
    sinceFirst++
    const isFirst = isEnd || sinceFirst >= every(rules.firstEvery)
    if (!isFirst && sinceAny < every(isCurved ? rules.curveEvery : rules.tangentEvery)) return
    sinceAny = 0
    if (isFirst) sinceFirst = 0
    found.push({ stationMm, rail, pass: isFirst ? 1 : 2, why: isJoint ? 'joint' : isCurved ? 'curve' : 'tangent' })
  })
  return found
}

/** Spikes of one piece, by the tracks that it lies in. */
export interface PieceSpikes {
  readonly track: Id
  readonly ties: readonly SpikeTie[]
}

/** Which ties of plain track a piece is spiked at. */
export function pieceSpikes({ network, trackwork }: Derived, one: Rough, rules: SpikingRules): readonly PieceSpikes[] {
  return linksBetween(one.cut, one.fromMm, one.toMm).flatMap((chainLink): readonly PieceSpikes[] => {
    const { link, fromMm, toMm, isForward } = chainLink
    const near = link.abreast[0]
    if (link.owner.kind !== 'track' || !near) return []
    const alignment = network.tracks.get(near.track)?.alignment
    if (alignment?.ok !== true) return []
    const ends = [Math.max(fromMm, one.fromMm), Math.min(toMm, one.toMm)].map((at) => near.stationAt(alongLink(chainLink, at)))
    const [low, high] = [Math.min(...ends), Math.max(...ends)]
    const stations = (trackwork.tracks.get(near.track)?.ties ?? [])
      .map(({ stationMm }) => stationMm)
      .filter((at) => at >= low && at <= high)
      .toSorted((a, b) => a - b)
    const startsHere = one.piece.startsAt === 'joint' && one.fromMm >= fromMm
    const endsHere = one.piece.endsAt === 'joint' && one.toMm <= toMm
    const jointAt = isForward ? { start: startsHere, end: endsHere } : { start: endsHere, end: startsHere }
    return [{ track: near.track, ties: spikedTies(alignment.path, stations, near.side, jointAt, rules) }]
  })
}

/** The whole plan's spikes. works: of special work, as it is built. */
export function spikingOf(pieces: readonly (readonly PieceSpikes[])[], works: SpikePlan['works']): SpikePlan {
  const byTrack = new Map<Id, SpikeTie[]>()
  for (const { track, ties } of pieces.flat()) {
    const list = byTrack.get(track)
    if (list === undefined) byTrack.set(track, [...ties])
    else list.push(...ties)
  }
  const tracks = [...byTrack].map(([track, ties]) => ({
    track,
    ties: ties.toSorted((a, b) => a.stationMm - b.stationMm),
    spikes: ties.length * spikesAtTie,
    firstPass: ties.filter(({ pass }) => pass === 1).length * spikesAtTie,
  }))
  const plainSpikes = tracks.reduce((sum, { spikes }) => sum + spikes, 0)
  const workSpikes = works.reduce((sum, { spikes }) => sum + spikes, 0)
  return { tracks, works, plainSpikes, workSpikes, spikes: plainSpikes + workSpikes }
}
