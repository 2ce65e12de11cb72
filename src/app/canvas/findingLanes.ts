import type { ScreenPoint } from './viewport.ts'

/** A finding's mark stands this far above its place, on a leader, px. */
export const leaderPx = 20

/** Half the width and height of the diamond, px. */
export const diamondPx = 10

/** From one lane to the next, px: a diamond and a little air. */
const lanePx = 2 * diamondPx + 2

/** The ruler along the upper edge takes so much, px. */
export const rulerPx = 22

/**
 * How far above its place each mark stands, px, in the order given: where it would cover an earlier one it goes up a lane, so that
 * every number can be read and pointed at. Less than none: it hangs below, where above it the ruler would run through it. What has to
 * go past an earlier mark has its leader drawn from that one's upper tip (leaderStarts).
 */
export function findingLeaders(places: readonly ScreenPoint[]): readonly number[] {
  const taken: ScreenPoint[] = []
  return places.map(({ left, top }) => {
    const isCovered = (px: number): boolean =>
      taken.some((other) => Math.abs(other.left - left) + Math.abs(other.top - (top - px)) < 2 * diamondPx)
    let leader = leaderPx
    while (isCovered(leader)) leader += lanePx
    if (top >= 0 && top - leader - diamondPx < rulerPx) {
      leader = -Math.max(leaderPx, rulerPx + diamondPx - top)
      while (isCovered(leader)) leader -= lanePx
    }
    taken.push({ left, top: top - leader })
    return leader
  })
}

/**
 * From where each leader is drawn, px above its place: from the place itself, or from the outer tip of the last mark that stands between
 * it and its own mark, so that no leader runs through another one's number.
 */
export function leaderStarts(places: readonly ScreenPoint[], leaders: readonly number[]): readonly number[] {
  return places.map(({ left, top }, i) => {
    const leader = leaders[i] ?? leaderPx
    const way = Math.sign(leader)
    const past = places.flatMap((other, j) => {
      const offPx = Math.abs(other.left - left)
      if (j === i || offPx >= diamondPx) return []
      // The far tip of the other diamond on this leader's line, counted along the leader.
      const tipPx = way * (top - (other.top - (leaders[j] ?? leaderPx))) + diamondPx - offPx
      return tipPx > 0 && tipPx < Math.abs(leader) ? [tipPx] : []
    })
    return way * Math.min(Math.abs(leader) - diamondPx, Math.max(0, ...past))
  })
}
