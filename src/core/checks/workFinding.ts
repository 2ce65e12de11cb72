import type { Point } from '../geom/types.ts'
import type { Finding } from './types.ts'

/** A turnout or crossing of the plan, and where it stands on its track. */
export interface FoundWork {
  readonly table: 'turnouts' | 'crossings'
  readonly record: string
  readonly stationMm: number
}

export const turnoutWork = ({ id, stationMm }: { readonly id: string; readonly stationMm: number }): FoundWork => ({
  table: 'turnouts',
  record: id,
  stationMm,
})

export const crossingWork = ({ id, stationMm }: { readonly id: string; readonly stationMm: number }): FoundWork => ({
  table: 'crossings',
  record: id,
  stationMm,
})

type Told = Pick<Finding, 'id' | 'rule'> & Partial<Finding>

/** What is the matter with special work: an error in mm by geometry alone and without a cure, unless told otherwise. */
export function workFinding({ table, record, stationMm }: FoundWork, { x, y }: Point, told: Told): Finding {
  return {
    severity: 'error',
    stage: 'turnouts',
    table,
    record,
    otherRecord: null,
    corner: null,
    stationFromMm: stationMm,
    stationToMm: stationMm,
    x,
    y,
    measured: null,
    limit: null,
    unit: 'mm',
    source: 'geometry',
    problem: null,
    cure: null,
    ...told,
  }
}
