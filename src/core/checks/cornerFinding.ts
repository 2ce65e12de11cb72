import type { CornerPlace } from '../alignment/types.ts'
import type { Point } from '../geom/types.ts'
import type { NetworkTrack } from '../network/types.ts'
import type { Finding } from './types.ts'

/** A limit of its class that the curve at a corner of a track breaks, mm; told from TS to ST. */
export function cornerFinding(
  { track, lineClass }: NetworkTrack,
  { cornerId, tsMm, stMm }: CornerPlace,
  { x, y }: Point,
  told: Pick<Finding, 'rule' | 'severity' | 'measured' | 'limit' | 'cure'>,
): Finding {
  return {
    id: `${told.rule}:${track.id}:${cornerId}`,
    rule: told.rule,
    severity: told.severity,
    stage: 'line',
    table: 'tracks',
    record: track.id,
    otherRecord: null,
    corner: cornerId,
    stationFromMm: tsMm,
    stationToMm: stMm,
    x,
    y,
    measured: told.measured,
    limit: told.limit,
    unit: 'mm',
    source: `class:${lineClass.id}`,
    problem: null,
    cure: told.cure,
  }
}
