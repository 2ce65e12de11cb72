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

/**
 * A maker on the side of its host that is free: the one it has, else the other; where neither is, as it was. sound: what is done to its
 * numbers, which may take a second for a yard: it is done to the side that is free as begun, and numbers seldom free one that is not.
 */
export function makerOnFreeSide(network: Network, maker: Maker, sound: (maker: Maker) => Maker): Maker {
  const isOff = (one: Maker): boolean => makerOnTrack(network, one) === null
  const isFree = (one: Maker): boolean => makerPreview(network, one).ok && isOff(one)
  const turned = makerTurned(maker)
  if (turned === null) return sound(maker)
  if (isOff(maker)) {
    const first = sound(maker)
    if (isOff(first)) return first
    const other = sound(turned)
    return isFree(other) ? other : first
  }
  const other = isFree(turned) ? sound(turned) : null
  return other !== null && isFree(other) ? other : sound(maker)
}
