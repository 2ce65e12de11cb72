import { useMemo, type ReactNode } from 'react'
import type { Railway } from '../../core/plan/types.ts'
import { checkDimensions, checkStandard } from '../../core/turnout/index.ts'
import type { CheckDimension, CheckDimensionKind, CheckedWork } from '../../core/turnout/index.ts'
import { checkDimensionName } from '../../words/checkDimensionText.ts'
import { sourceText } from '../../words/findingParts.ts'
import { fineText } from '../../words/measure.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { upperFirst } from '../../words/names.ts'
import { usePlan, usePrefs } from '../context.ts'
import { FactRow } from '../fields/ValueField.tsx'
import { Fields } from './parts.tsx'

const kinds = [
  'gauge',
  'check-gauge',
  'span',
  'guard-flangeway',
  'wing-flangeway',
  'throat-flangeway',
  'points-spread',
  'open-point',
  'elbow-flangeway',
  'elbow-open',
] as const satisfies readonly CheckDimensionKind[]

/** What guides the wheels, measured on the rails as they come out: a row a dimension, with what the standard of the scale allows. */
export function CheckDimensions({ work, railway }: { readonly work: CheckedWork; readonly railway: Railway }): ReactNode {
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const standard = useMemo(() => checkStandard(railway), [railway])
  const rows = useMemo(() => checkDimensions(work, standard), [work, standard])
  return (
    <Fields title={`Check dimensions, ${sourceText(standard.source, plan)}`}>
      {kinds.map((kind) => {
        const own = rows.filter((row) => row.kind === kind)
        const [first] = own
        if (first === undefined) return null
        return (
          <FactRow
            key={kind}
            label={upperFirst(checkDimensionName(kind))}
            value={valuesText(own, prefs)}
            origin={limitText(first, prefs)}
            isOver={own.some(({ isWithin }) => !isWithin)}
          />
        )
      })}
    </Fields>
  )
}

/** One value where all routes have the same, else each once. */
function valuesText(rows: readonly CheckDimension[], prefs: MeasurePrefs): string {
  const values = rows.map(({ valueMm }) => (valueMm === null ? 'no rail' : fineText(valueMm, prefs)))
  return [...new Set(values)].join(', ')
}

function limitText({ leastMm, mostMm }: CheckDimension, prefs: MeasurePrefs): string {
  const least = leastMm === null ? null : fineText(leastMm, prefs)
  const most = mostMm === null ? null : fineText(mostMm, prefs)
  if (least !== null && most !== null) return least === most ? least : `${least} to ${most}`
  return least !== null ? `≥ ${least}` : most !== null ? `≤ ${most}` : ''
}
