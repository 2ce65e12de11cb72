import type { Point } from '../geom/types.ts'
import type { Breach } from './breaches.ts'
import type { Run } from './run.ts'
import type { Finding } from './types.ts'

type Told = Pick<Finding, 'id' | 'rule' | 'severity'> & Partial<Finding>

/** A limit of the railway that a run breaks over a stretch, at its worst place: in mm and without a cure, unless told otherwise. */
export function breachFinding(run: Run, { fromMm, toMm }: Breach, { x, y }: Point, told: Told): Finding {
  return {
    stage: run.table === 'tracks' ? 'line' : 'turnouts',
    table: run.table,
    record: run.record,
    otherRecord: null,
    corner: null,
    stationFromMm: run.stationAt(fromMm),
    stationToMm: run.stationAt(toMm),
    x,
    y,
    measured: null,
    limit: null,
    unit: 'mm',
    source: 'railway',
    problem: null,
    cure: null,
    ...told,
  }
}
