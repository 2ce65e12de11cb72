import { editApply, patchApply } from '../../core/edit/index.ts'
import { makerExpand } from '../../core/makers/index.ts'
import type { MakerFact, MakerProblem } from '../../core/makers/index.ts'
import { networkCreateDeriver } from '../../core/network/index.ts'
import type { Network, NetworkTrack, NetworkTurnout } from '../../core/network/types.ts'
import type { Maker, Plan } from '../../core/plan/types.ts'
import { useDerived } from '../context.ts'

/** What a maker would make, solved and to be drawn; nothing of it is in the plan. */
export type MakerPreview =
  | {
      readonly ok: true
      readonly facts: readonly MakerFact[]
      readonly tracks: readonly NetworkTrack[]
      readonly turnouts: readonly NetworkTurnout[]
    }
  | { readonly ok: false; readonly problem: MakerProblem }

/** Kept for each maker as long as its plan is the same: panel and canvas look at the same preview. */
const kept = new WeakMap<Maker, { readonly plan: Plan; readonly preview: MakerPreview }>()

export function makerPreview(network: Network, maker: Maker): MakerPreview {
  const { plan } = network
  const before = kept.get(maker)
  if (before?.plan === plan) return before.preview
  const preview = previewOf(plan, network, maker)
  kept.set(maker, { plan, preview })
  return preview
}

function previewOf(plan: Plan, network: Network, maker: Maker): MakerPreview {
  const result = makerExpand(plan, network, maker)
  if (!result.ok) return result
  const { facts, command } = result
  const edited = editApply(plan, command)
  if (!edited.ok) return { ok: true, facts, tracks: [], turnouts: [] }
  const after = networkCreateDeriver()(patchApply(plan, edited.patch))
  return {
    ok: true,
    facts,
    tracks: command.tracks.flatMap(({ id }) => after.tracks.get(id) ?? []),
    turnouts: command.turnouts.flatMap(({ id }) => after.turnouts.get(id) ?? []),
  }
}

/** The preview of a maker on the plan at hand. */
export function useMakerPreview(maker: Maker): MakerPreview {
  const network = useDerived((state) => state.derived.network)
  return makerPreview(network, maker)
}
