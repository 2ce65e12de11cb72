import { pathPoseAt, ringContains } from '../geom/index.ts'
import type { Plan, Portal } from '../plan/types.ts'
import { trackGap } from './between.ts'
import { fixedGap } from './fixed.ts'
import type { FixedGap, FixedShape, Gap, SweptTrack } from './types.ts'

/** The tightest place beside what runs on a track, and what is there. record null: the edge of all benchwork. */
export interface NearestGap extends Gap {
  readonly kind: FixedGap['kind'] | 'tracks' | 'portals'
  readonly record: string | null
}

export interface NearestGaps {
  /** To what runs on another track; null: there is none. */
  readonly track: NearestGap | null
  /** To what stands still; null: there is nothing. */
  readonly fixed: NearestGap | null
}

/**
 * Where what runs on a track comes nearest to what runs on another, and to what stands still.
 *
 * Units:      mm; stations as in Gap.
 * Exactness:  that of trackGap and fixedGap. Sides of a portal: at the stations of the band in it and the next ones beyond.
 * Limits:     a track that meets this one at a turnout or crosses it counts only where it comes nearer than the running clearance away
 *             from there, for at the fouling point it is just that. Lengths of a wall that the track runs through by a portal count for
 *             nothing on it; the portal's sides do.
 */
export function nearestGaps(
  swept: SweptTrack,
  others: Iterable<SweptTrack>,
  shapes: readonly FixedShape[],
  { railway, portals }: Pick<Plan, 'railway' | 'portals'>,
): NearestGaps {
  const limitMm = railway.runningClearanceMm
  let track: NearestGap | null = null
  for (const other of others) {
    if (other.line.track === swept.line.track) continue
    const withinMm = track?.gapMm ?? Infinity
    const { least, meetings } = trackGap(swept, other, { limitMm, gaugeMm: railway.gaugeMm, withinMm })
    if (least === null || least.gapMm >= withinMm || (meetings.length > 0 && least.gapMm >= limitMm - roundingMm)) continue
    const { gapMm, stationMm, x, y } = least
    track = { kind: 'tracks', record: other.line.track, gapMm, stationMm, x, y }
  }
  const through = Object.values(portals).filter((portal) => portal.track === swept.line.track)
  const fixed = [
    ...shapes.flatMap((shape) => fixedGap(swept, wallLeft(swept, shape, through)) ?? []),
    ...through.flatMap((portal) => portalGap(swept, portal) ?? []),
  ].reduce<NearestGap | null>((least, one) => (least === null || one.gapMm < least.gapMm ? one : least), null)
  return { track, fixed }
}

const roundingMm = 1e-3

/** Stations across a portal at which it is asked what it runs through, mm: less than walls are thick. */
const lookMm = 4

/** What is left of a wall without the lengths that the portals of the track lead through. */
function wallLeft({ line }: SweptTrack, shape: FixedShape, portals: readonly Portal[]): FixedShape {
  if (shape.kind !== 'walls' || portals.length === 0) return shape
  const places = portals.flatMap(({ stationMm, lengthMm }) => {
    const looks = Math.max(1, Math.ceil(lengthMm / lookMm))
    return Array.from({ length: looks + 1 }, (_, i) => line.startMm + stationMm + (lengthMm * i) / looks)
      .filter((runMm) => runMm >= 0 && runMm <= line.path.lengthMm)
      .map((runMm) => pathPoseAt(line.path, runMm))
  })
  return { ...shape, rings: shape.rings.filter((ring) => !places.some((place) => ringContains(ring, place))) }
}

function portalGap({ line, band, edges }: SweptTrack, portal: Portal): NearestGap | null {
  const fromMm = line.startMm + portal.stationMm
  const toMm = fromMm + portal.lengthMm
  let best: NearestGap | null = null
  for (const [i, { stationMm, leftMm, rightMm }] of band.reaches.entries()) {
    const [before, after] = [band.reaches[i - 1], band.reaches[i + 1]]
    if ((after !== undefined && after.stationMm <= fromMm) || (before !== undefined && before.stationMm >= toMm)) continue
    if (leftMm + rightMm === 0) continue
    const isLeft = portal.leftMm - leftMm < portal.rightMm - rightMm
    const gapMm = isLeft ? portal.leftMm - leftMm : portal.rightMm - rightMm
    const at = isLeft ? edges.left[i] : edges.right[i]
    if (at === undefined || (best !== null && gapMm >= best.gapMm)) continue
    best = { kind: 'portals', record: portal.id, gapMm, stationMm: stationMm - line.startMm, x: at.x, y: at.y }
  }
  return best
}
