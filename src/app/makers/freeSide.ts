import { trackThere } from '../../core/network/index.ts'
import type { Network } from '../../core/network/types.ts'
import { makerHosts } from '../../core/plan/index.ts'
import type { Id, Maker } from '../../core/plan/types.ts'
import { makerPreview } from './makerPreview.ts'

/** The track on which what a maker would make lies, nearer than half the track centres; null: none. */
export function makerOnTrack(network: Network, maker: Maker): Id | null {
  const preview = makerPreview(network, maker)
  const centresMm = network.plan.lineClasses[maker.lineClass]?.trackCentresMm ?? 0
  if (!preview.ok) return null
  for (const { alignment } of preview.tracks) {
    const there = alignment.ok
      ? trackThere(network.tracks.values(), alignment.path, centresMm / 2, [...makerHosts(maker.numbers), ...maker.made.tracks])
      : null
    if (there !== null) return there
  }
  return null
}

/** The same on the other side of its host; null: it has no side. */
export function makerTurned(maker: Maker): Maker | null {
  const { numbers } = maker
  switch (numbers.kind) {
    case 'siding':
    case 'spur':
    case 'yard':
      return { ...maker, numbers: { ...numbers, side: numbers.side === 'left' ? 'right' : 'left' } }
    default:
      return null
  }
}

/** A maker on the side of its host that is free: the one it has, else the other; where neither is, as it was. sound: what is done to its numbers. */
export function makerOnFreeSide(network: Network, maker: Maker, sound: (maker: Maker) => Maker): Maker {
  const first = sound(maker)
  if (makerOnTrack(network, first) === null) return first
  const turned = makerTurned(maker)
  const other = turned === null ? null : sound(turned)
  return other !== null && makerPreview(network, other).ok && makerOnTrack(network, other) === null ? other : first
}
