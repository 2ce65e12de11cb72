import { pathCurvatureAt, pathNearest } from '../geom/index.ts'
import { makerExpand } from '../makers/index.ts'
import type { Network } from '../network/types.ts'
import type { Maker, MakerNumbers, Plan } from '../plan/types.ts'
import { numbersCure } from './numbersCure.ts'
import type { Cure, Finding } from './types.ts'

/** Whether wider centres of a maker would part the two tracks of a finding: one it made, the other its host or made as well. */
export function isOfMaker({ record, otherRecord, table }: Finding, { numbers, made }: Maker): boolean {
  if (table !== 'tracks' || otherRecord === null || record === otherRecord) return false
  const isMade = [record, otherRecord].map((id) => made.tracks.includes(id))
  const isHost = [record, otherRecord].map((id) => 'track' in numbers && numbers.track === id)
  return (isMade[0] === true && (isMade[1] === true || isHost[1] === true)) || (isMade[1] === true && isHost[0] === true)
}

/**
 * The maker's centres made wider, by what is missing where nothing else is told; null: it has none, or with those it could not be built.
 */
export function centresCure(finding: Finding, plan: Plan, network: Network, maker: Maker, byMm = missingMm(finding)): Cure | null {
  if (byMm === null) return null
  const numbers = widened(maker.numbers, finding, network, byMm, maker.made.tracks)
  if (numbers === null || !makerExpand(plan, network, { ...maker, numbers }).ok) return null
  return numbersCure(maker, numbers)
}

const missingMm = ({ measured, limit }: Finding): number | null => (measured === null || limit === null ? null : limit - measured)

function widened(numbers: MakerNumbers, finding: Finding, network: Network, byMm: number, made: readonly string[]): MakerNumbers | null {
  // Up to the next tenth: what can be measured, and more than rounding.
  const wider = (centresMm: number): number => Math.ceil((centresMm + byMm) * 10) / 10
  switch (numbers.kind) {
    case 'siding':
      return isOnCurve(finding, network, numbers.track)
        ? { ...numbers, curveCentresMm: wider(numbers.curveCentresMm) }
        : { ...numbers, centresMm: wider(numbers.centresMm), curveCentresMm: Math.max(numbers.curveCentresMm, wider(numbers.centresMm)) }
    case 'spur':
      return numbers.course.kind === 'parallel'
        ? { ...numbers, course: { kind: 'parallel', centresMm: wider(numbers.course.centresMm) } }
        : null
    case 'yard': {
      // Beside a curve straight tracks come no farther away by as much.
      if (isOnCurve(finding, network, numbers.track)) return null
      const areBodies = [finding.record, finding.otherRecord].every((id) => id !== null && made.includes(id))
      return areBodies ? { ...numbers, centresMm: wider(numbers.centresMm) } : { ...numbers, leadCentresMm: wider(numbers.leadCentresMm) }
    }
    case 'crossover':
    case 'wye':
    case 'loop':
    case 'turnback':
    case 'helix':
      return null
  }
}

function isOnCurve({ x, y }: Finding, network: Network, host: string): boolean {
  const alignment = network.tracks.get(host)?.alignment
  if (alignment?.ok !== true) return false
  return pathCurvatureAt(alignment.path, pathNearest(alignment.path, { x, y }).stationMm) !== 0
}
