import type { VehicleFrame } from '../../plan/types.ts'
import type { Sourced } from '../../standards/index.ts'

/** A kind of car or engine at full size, as a type and not as one road's or maker's. Front first. */
export interface VehicleRow extends Sourced {
  readonly key: string
  readonly name: string
  /** Whyte's count of wheels for steam: 2-8-0. null: none. */
  readonly wheels: string | null
  /** Over coupler faces, tender included; over buffers where there are buffers. */
  readonly overCouplersMm: number
  readonly heightMm: number
  readonly weightKg: number
  /** How far a coupler swings to each side. */
  readonly couplerSwingRad: number
  /** mm at full size here. */
  readonly frames: readonly VehicleFrame[]
}
