import type { ReactNode } from 'react'
import { trackLevels } from '../../core/levels/index.ts'
import { makerOf } from '../../core/plan/index.ts'
import type { Id } from '../../core/plan/types.ts'
import { gradeText } from '../../words/measure.ts'
import { useDerived, usePlan } from '../context.ts'
import { FactRow } from '../fields/ValueField.tsx'

/** How steep a track is. Whoever looks for a grade looks here: it says what there is so far. */
export function GradeRow({ id }: { readonly id: Id }): ReactNode {
  const grade = useDerived(({ derived }) => trackLevels(derived.network).of(id)?.grade ?? 0)
  const isHelix = usePlan(({ plan }) => makerOf(plan, 'tracks', id)?.numbers.kind === 'helix')
  if (isHelix) return <FactRow label="Grade" value={grade === 0 ? 'not known yet' : gradeText(grade)} origin="of its helix" />
  return <FactRow label="Grade" value="level" origin="only a helix climbs" />
}
