import type { Maker } from '../plan/types.ts'
import type { Cure, Finding } from './types.ts'

/**
 * A finding without the cures that would change by hand what a maker made: the plan would refuse them. What is asked of its numbers is
 * a cure of another kind and stays.
 */
export function withoutMadeCures(finding: Finding, makers: readonly Maker[]): Finding {
  const cures = [finding.cure, ...(finding.others ?? [])].filter((cure) => cure !== null)
  const free = cures.filter((cure) => !makers.some((maker) => isMade(cure, maker)))
  if (free.length === cures.length) return finding
  const { others: _, ...told } = finding
  const [cure = null, ...others] = free
  return { ...told, cure, ...(others.length === 0 ? {} : { others }) }
}

function isMade(cure: Cure, { made }: Maker): boolean {
  if ('corner' in cure) return made.tracks.includes(cure.track)
  return 'turnout' in cure && made.turnouts.includes(cure.turnout)
}
