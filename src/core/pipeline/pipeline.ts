import { networkCreateDeriver } from '../network/index.ts'
import type { Plan } from '../plan/types.ts'
import { trackworkCreateDeriver } from '../track/index.ts'
import type { Derived } from './types.ts'

/** The stages in order, with what they remember of the last plan. */
export interface Pipeline {
  /**
   * Everything computed from a plan.
   *
   * Exactness:  the same as from a fresh pipeline, whatever was derived before (tests/laws/pipeline); what did not change
   *             is the same object as last time.
   * Throws:     never, for a plan that the schema accepts.
   */
  derive(plan: Plan): Derived
}

/** A pipeline with nothing remembered. */
export function pipelineCreate(): Pipeline {
  const networkOf = networkCreateDeriver()
  const trackworkOf = trackworkCreateDeriver()
  let last: Derived | null = null
  return {
    derive(plan) {
      if (last?.plan === plan) return last
      const network = networkOf(plan)
      last = { plan, network, trackwork: trackworkOf(network) }
      return last
    },
  }
}
