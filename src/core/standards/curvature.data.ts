import type { Sourced } from './source.ts'

/** Limits for a main line and for industrial track. Radii in mm; a frog number; a grade as rise over run. */
export interface CurvatureRow extends Sourced {
  readonly scaleKey: string
  readonly mainRadiusMm: number
  readonly branchRadiusMm: number
  readonly minFrog: number
  readonly maxGrade: number
}

const inches = (v: number): number => Math.round(v * 25.4 * 1e3) / 1e3
const row = (scaleKey: string, mainIn: number, branchIn: number, minFrog: number, maxGrade: number): CurvatureRow => ({
  scaleKey,
  mainRadiusMm: inches(mainIn),
  branchRadiusMm: inches(branchIn),
  minFrog,
  maxGrade,
  source: 'NMRA-MRP-1.0',
  clause: 'table: mainline, industrial',
  status: 'read',
})

/** Minimum radii by scale, as a module recommendation prints them. N is level there; its grade is the one for branches. */
export const curvatureRows: readonly CurvatureRow[] = [
  row('Z', 7.5, 6, 5, 0.04),
  row('N', 24, 17, 6, 0.015),
  row('TT', 28.75, 20, 6, 0.03),
  row('HO', 32, 24, 6, 0.03),
  row('OO-19', 36, 30, 6, 0.03),
  row('S', 43, 34, 6, 0.02),
  row('O', 60, 36, 6, 0.02),
]

/** What a curve of a radius will take: equipment classes, HO radius in mm; other scales in proportion of their ratio. */
export interface ServiceRow extends Sourced {
  readonly equipment: string
  readonly minRadiusHoMm: number
  readonly minFrog: number
}

export const serviceRows: readonly ServiceRow[] = [
  {
    equipment: 'largest steam, any diesel, full-length cars',
    minRadiusHoMm: inches(40),
    minFrog: 7,
    source: 'NMRA-RP-11',
    clause: 'as quoted by an NMRA page',
    status: 'read',
  },
  {
    equipment: '80 ft cars, diesels, steam of 24 ft rigid wheelbase',
    minRadiusHoMm: inches(32),
    minFrog: 6,
    source: 'NMRA-RP-11',
    clause: 'as quoted by an NMRA region',
    status: 'read',
  },
  {
    equipment: '50 ft cars, small steam, four-axle diesels',
    minRadiusHoMm: inches(16.5),
    minFrog: 5,
    source: 'NMRA-RP-11',
    clause: 'as quoted by an NMRA page',
    status: 'read',
  },
]

/** Least radius where side buffers may touch, in multiples of the gauge. */
export interface BufferRow extends Sourced {
  readonly group: string
  readonly radiusOverGauge: number
}

const buffers = (group: string, radiusOverGauge: number): BufferRow => ({
  group,
  radiusOverGauge,
  source: 'NEM-111',
  clause: '3.2',
  status: 'read',
})
export const bufferRows: readonly BufferRow[] = [buffers('A1', 50), buffers('A', 57), buffers('B', 60), buffers('A3', 71)]

/** Above this many gauges of radius an easement may be left out. [NEM-113 cl. 1] */
export const NO_EASEMENT_RADIUS_OVER_GAUGE = 60

/** Largest angle between a fixed axle's wheel and the rail, degrees. [NEM-111 cl. 2.1] */
export const MAX_ATTACK_ANGLE_DEG = 12
