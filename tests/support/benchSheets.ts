import { sheetsForSubject } from '../../src/core/deliver/index.ts'
import type { BenchSheetName, DrawItem, SheetOptions, SheetSet } from '../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import type { Derived } from '../../src/core/pipeline/index.ts'
import type { Plan } from '../../src/core/plan/index.ts'
import { layingLists } from '../../src/core/shopping/index.ts'
import type { LayingLists } from '../../src/core/shopping/index.ts'
import { cutWhole } from './cutting.ts'
import { aPaper } from './paper.ts'

export const metricA4: SheetOptions = {
  paper: aPaper('a4'),
  marginMm: 8,
  overlapMm: 10,
  calibrationX: 1,
  calibrationY: 1,
  units: 'metric',
  date: '2026-11-26',
}

export const derivedOf = (plan: Plan): Derived => pipelineCreate().derive(plan)

export async function listsOf(derived: Derived): Promise<LayingLists> {
  return layingLists(derived, (request) => Promise.resolve(cutWhole(request, 0.2)))
}

/** Bench sheets of a plan; a test fails when there are none. */
export function benchSet(
  derived: Derived,
  sheet: BenchSheetName,
  options: SheetOptions = metricA4,
  lists: LayingLists | null = null,
): SheetSet {
  const set = sheetsForSubject(derived, { kind: 'bench', sheet }, options, lists)
  if (set.problems.length > 0 || set.sheets.length === 0) throw new Error(`no sheets: ${set.problems.join(' ')}`)
  return set
}

export const itemsOf = ({ sheets }: SheetSet): readonly DrawItem[] => sheets.flatMap(({ items }) => items)

export const textsOf = (set: SheetSet): readonly string[] => itemsOf(set).flatMap((item) => (item.kind === 'text' ? [item.text] : []))

export type Stroke = Extract<DrawItem, { kind: 'stroke' }>

export const strokesOf = (set: SheetSet): readonly Stroke[] => itemsOf(set).flatMap((item) => (item.kind === 'stroke' ? [item] : []))
