import type { Network } from '../network/types.ts'
import type { Plan } from '../plan/types.ts'
import type { Trackwork } from '../track/types.ts'

/** Everything computed from a plan, by stage. */
export interface Derived {
  readonly plan: Plan
  readonly network: Network
  readonly trackwork: Trackwork
}
