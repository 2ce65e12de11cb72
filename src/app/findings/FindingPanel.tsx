import type { ReactNode } from 'react'
import type { Cure, Finding } from '../../core/checks/types.ts'
import type { LineClass } from '../../core/plan/types.ts'
import { CureTrial } from './CureTrial.tsx'
import { RuleLevel } from './RuleLevel.tsx'
import { SilenceForm } from './SilenceForm.tsx'

export type FindingPanelKind = 'cure' | 'silence' | 'rule'

/** What is done about a finding, below it. It comes when it is first asked for. */
export default function FindingPanel(props: {
  readonly kind: FindingPanelKind
  readonly cure: Cure | null
  readonly finding: Finding
  readonly lineClass: LineClass | null
  readonly onShut: () => void
}): ReactNode {
  const { kind, cure, finding, lineClass, onShut } = props
  switch (kind) {
    case 'cure':
      return cure === null ? null : <CureTrial finding={finding} cure={cure} onShut={onShut} />
    case 'silence':
      return <SilenceForm finding={finding} onShut={onShut} />
    case 'rule':
      return lineClass === null ? null : <RuleLevel finding={finding} lineClass={lineClass} />
  }
}
