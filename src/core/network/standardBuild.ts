import type { TurnoutBuild } from '../plan/types.ts'

/** A turnout that is built as standard practice has it. */
export const standardBuild: TurnoutBuild = {
  points: 'straight',
  pointLengthMm: 'standard',
  pointThicknessMm: 'standard',
  heelSpreadMm: 'standard',
  toeLengthMm: 'standard',
  heelLengthMm: 'standard',
}
