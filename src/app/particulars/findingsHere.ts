import type { Finding } from '../../core/checks/types.ts'
import type { Network } from '../../core/network/types.ts'
import type { Id, Plan } from '../../core/plan/types.ts'
import type { RecordAt } from './recordParts.tsx'

/**
 * The findings that a record at hand has to do with: its own first, then those of its parts (turnouts on a track, what a maker made)
 * and those of others that it is named in. Of a corner: what lies on its curve, and all that keeps its track from being a line.
 */
export function findingsHere(findings: readonly Finding[], plan: Plan, network: Network, at: RecordAt): readonly Finding[] {
  if (findings.length === 0) return findings
  const isOwn = at.corner === undefined ? (finding: Finding) => isOf(finding, at) : ofCorner(network, at.id, at.corner)
  const isPart = at.corner === undefined ? ofParts(plan, at) : () => false
  const own = findings.filter(isOwn)
  return [...own, ...findings.filter((finding) => !own.includes(finding) && isPart(finding))]
}

const isOf = ({ table, record }: Finding, at: RecordAt): boolean => table === at.table && record === at.id

function ofCorner(network: Network, track: Id, corner: Id): (finding: Finding) => boolean {
  const alignment = network.tracks.get(track)?.alignment
  const place = alignment?.ok === true ? alignment.corners.find(({ cornerId }) => cornerId === corner) : undefined
  return (finding) => {
    if (finding.table !== 'tracks' || finding.record !== track) return false
    // Without a line there are no stations: what hinders the track is told at each of its corners.
    if (place === undefined && finding.rule === 'easement-fit') return true
    if (finding.corner !== null) return finding.corner === corner
    if (place === undefined) return true
    const { stationFromMm, stationToMm } = finding
    return stationFromMm !== null && stationToMm !== null && stationFromMm <= place.stMm && stationToMm >= place.tsMm
  }
}

function ofParts(plan: Plan, { table, id }: RecordAt): (finding: Finding) => boolean {
  const made = table === 'makers' ? plan.makers[id]?.made : undefined
  const parts = new Set(made === undefined ? [] : [...made.tracks, ...made.turnouts])
  return (finding) =>
    finding.otherRecord === id ||
    parts.has(finding.record) ||
    (table === 'tracks' && finding.table === 'turnouts' && plan.turnouts[finding.record]?.track === id)
}
