import { pathNearest, pathPoseAt } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { NetworkCrossing, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { Id, JointRules } from '../plan/types.ts'
import { jointDistance, jointFeatures } from '../turnout/index.ts'
import type { JointFeature } from '../turnout/index.ts'
import { alongChain } from './chains.ts'
import type { Chain, ChainLink } from './chains.ts'
import { ownerKey } from './runs.ts'
import type { JointRule, JointZone, RailOwner } from './types.ts'

export interface WorkFeatures {
  readonly owner: RailOwner
  readonly gaugeMm: number
  readonly features: readonly JointFeature[]
}

/** Points, frogs, guard rails, gaps and throw bars of a turnout. */
export function turnoutFeatures({ turnout, result }: NetworkTurnout): WorkFeatures | null {
  if (!result.ok) return null
  const { gaugeMm } = result.geometry.request
  return { owner: { kind: 'turnout', turnout: turnout.id }, gaugeMm, features: jointFeatures(result.pose, result.geometry) }
}

/** The same of a crossing. */
export function crossingFeatures({ id, pose, result }: NetworkCrossing): WorkFeatures | null {
  if (!result.ok) return null
  const { gaugeMm } = result.crossing.request
  return { owner: { kind: 'crossing', crossing: id }, gaugeMm, features: jointFeatures(pose, result.crossing) }
}

/** Stations at which curves of a track begin and end. */
export function curveEndsOf({ alignment }: NetworkTrack): readonly number[] {
  return alignment.ok ? alignment.corners.flatMap(({ tsMm, stMm }) => (stMm > tsMm ? [tsMm, stMm] : [])) : []
}

/** Where a chain keeps clear of joints, in its own measure; of a closed one over both laps. */
export function zonesOf(
  chain: Chain,
  works: ReadonlyMap<string, WorkFeatures>,
  curveEnds: ReadonlyMap<Id, readonly number[]>,
  rules: JointRules,
): readonly JointZone[] {
  const zones: JointZone[] = []
  const add = (rule: JointRule, fromMm: number, toMm: number): void => {
    const byMm = rules[jointDistance[rule]]
    for (const lap of chain.isClosed ? [-1, 0, 1] : [0]) {
      const shift = lap * chain.lengthMm
      zones.push({ rule, fromMm: Math.min(fromMm, toMm) - byMm + shift, toMm: Math.max(fromMm, toMm) + byMm + shift })
    }
  }
  const lap = chain.links.filter(({ fromMm }) => !chain.isClosed || fromMm < chain.lengthMm - 1e-9)
  for (const block of blocksOf(lap)) {
    const [first] = block
    if (!first) continue
    if (first.link.owner.kind === 'track') {
      for (const one of block) {
        for (const near of one.link.abreast) {
          for (const station of curveEnds.get(near.track) ?? []) {
            if (station < near.lowMm || station > near.highMm) continue
            const atMm = alongChain(one, near.alongAt(station))
            add('curveEnd', atMm, atMm)
          }
        }
      }
      continue
    }
    const work = works.get(ownerKey(first.link.owner))
    for (const { rule, ends, withinGauges } of work?.features ?? []) {
      const places = ends.flatMap((at) => abreastOn(block, at, withinGauges * (work?.gaugeMm ?? 0)) ?? [])
      if (places.length > 0) add(rule, Math.min(...places), Math.max(...places))
    }
  }
  return zones
}

/** Links in a row that have one owner: a chain may come through the same turnout twice. */
function blocksOf(links: readonly ChainLink[]): readonly (readonly ChainLink[])[] {
  const blocks: ChainLink[][] = []
  for (const one of links) {
    const last = blocks.at(-1)
    const before = last?.at(-1)
    if (last && before && ownerKey(before.link.owner) === ownerKey(one.link.owner)) last.push(one)
    else blocks.push([one])
  }
  return blocks
}

/** Where a chain is abreast of a point beside a block of its links; beyond them straight on. Null: too far aside. */
function abreastOn(block: readonly ChainLink[], at: Point, withinMm: number): number | null {
  let best: { readonly off: number; readonly atMm: number; readonly aside: number } | null = null
  for (const one of block) {
    const { path } = one.link
    const near = pathNearest(path, at)
    const pose = pathPoseAt(path, near.stationMm)
    const beyond = (at.x - pose.x) * Math.cos(pose.headingRad) + (at.y - pose.y) * Math.sin(pose.headingRad)
    const isPast = (near.stationMm <= 1e-9 && beyond < 0) || (near.stationMm >= path.lengthMm - 1e-9 && beyond > 0)
    const atMm = alongChain(one, near.stationMm + (isPast ? beyond : 0))
    if (best === null || near.distanceMm < best.off) best = { off: near.distanceMm, atMm, aside: Math.abs(near.offsetMm) }
  }
  return best !== null && best.aside <= withinMm ? best.atMm : null
}
