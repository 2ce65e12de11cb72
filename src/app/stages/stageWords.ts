import type { Finding } from '../../core/checks/types.ts'
import type { StageName } from '../../store/types.ts'

/** The stages that work now, in the order in which a railway is made. */
export const stageOrder: readonly { readonly name: StageName; readonly word: string }[] = [
  { name: 'room', word: 'Room' },
  { name: 'line', word: 'Line' },
  { name: 'turnouts', word: 'Turnouts' },
  { name: 'roadbed', word: 'Roadbed' },
  { name: 'track', word: 'Track' },
  { name: 'checks', word: 'Checks' },
  { name: 'sheets', word: 'Sheets' },
]

/** Stages that cut and lay; with nothing selected they show by which rules. */
export function isLayingStage(stage: StageName): stage is 'roadbed' | 'track' {
  return stage === 'roadbed' || stage === 'track'
}

/** Findings that are to be cured in a stage; Checks holds them all, Sheets none. */
export function findingsOfStage(findings: readonly Finding[], stage: StageName): readonly Finding[] {
  if (stage === 'checks') return findings
  return findings.filter((finding) => finding.stage === stage)
}
