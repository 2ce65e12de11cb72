import { pathCurvatureAt } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import type { SpikingRules } from '../plan/types.ts'
import type { SpikeTie } from './types.ts'

/** Spikes to a rail at one tie: one on either side of its foot. */
export const spikesAtTie = 2

const straightPerMm = 1e-7

/**
 * Which ties of a stretch of plain rail are spiked. The ties at its joints are, and from joint to joint every so many of them, by whether the
 * line bends there; of all of them the first pass takes those at joints and every so many ties besides.
 *
 * Domain:  stations of its ties in order along it. A count below one is one.
 */
export function spikedTies(
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
