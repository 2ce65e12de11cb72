import { pathNearest, pathOffsetPoint, pathPoseAt } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import type { Stretch } from '../network/index.ts'
import type { NetworkTrack } from '../network/types.ts'
import { tieCutBack, tieHold } from './tieCut.ts'
import { tiesReach } from './tieOverlap.ts'
import type { Tie } from './types.ts'

/** Where a rail crosses a tie's middle line is found in so many steps of Newton's, the rail never more along the tie than this sine. */
const rounds = 3
const leastSine = 0.1
/** A bay under a rail that is longer than this part of a spacing, clear, gets a short tie. Common practice, no source. */
const openSpacings = 1.1

/** Places on either side of the wanted one at which a short tie is tried. */
const tries = 6

/** What short ties are laid for: a track between two stations, with all ties that lie there already. */
export interface ShortRequest {
  readonly path: Path
  readonly railway: NetworkTrack['railway']
  readonly spacingMm: number
  readonly stretch: Stretch
  readonly ties: readonly Tie[]
}

/**
 * Short ties where slanting ties end under one rail of a track before they do under the other: each holds the rail that the bay lies under, and reaches as
 * far to both sides as there is room, at most as far as a tie of the track.
 *
 * Outcome:  the ties to add, which lie on none of those given; none where no bay is long. Never throws.
 * Source:   common practice, none printed.
 */
export function shortTies({ path, railway, spacingMm, stretch, ties }: ShortRequest): readonly Tie[] {
  const { gaugeMm, railHeadMm, tieLengthMm, tieWidthMm } = railway
  const added: Tie[] = []
  for (const side of [1, -1]) {
    const offsetMm = (side * (gaugeMm + railHeadMm)) / 2
    for (const { fromMm, toMm } of baysUnder(path, offsetMm, stretch, [...ties, ...added])) {
      const count = Math.round((toMm - fromMm + tieWidthMm) / spacingMm) - 1
      if (toMm - fromMm < openSpacings * spacingMm) continue
      for (let i = 1; i <= count; i++) {
        const wantedMm = fromMm - tieWidthMm / 2 + ((toMm - fromMm + tieWidthMm) * i) / (count + 1)
        const cut = nearestFree(wantedMm, spacingMm / 2, (stationMm) => {
          const { x, y, headingRad } = pathPoseAt(path, stationMm)
          const whole = { centre: { x, y }, axisRad: headingRad + Math.PI / 2, lengthMm: tieLengthMm, widthMm: tieWidthMm, stationMm }
          return tieCutBack(
            whole,
            [...ties, ...added].filter((tie) => tiesReach(whole, tie)),
            { holdMm: tieHold(railway) - gaugeMm / 2, middleMm: offsetMm },
          )
        })
        if (cut !== null) added.push(cut)
      }
    }
  }
  return added
}

/** What fits nearest to a station, within so much of it. */
function nearestFree(stationMm: number, withinMm: number, fit: (stationMm: number) => Tie | null): Tie | null {
  for (let step = 0; step <= tries; step++) {
    for (const way of step === 0 ? [0] : [1, -1]) {
      const found = fit(stationMm + (way * step * withinMm) / tries)
      if (found !== null) return found
    }
  }
  return null
}

/** Stretches of a rail under which no tie lies, between two ties. */
function baysUnder(path: Path, offsetMm: number, { fromMm, toMm }: Stretch, ties: readonly Tie[]): readonly Stretch[] {
  const held = ties
    .flatMap((tie) => heldBy(tie, path, offsetMm) ?? [])
    .filter((stretch) => stretch.toMm > fromMm && stretch.fromMm < toMm)
    .toSorted((a, b) => a.fromMm - b.fromMm)
  const bays: Stretch[] = []
  let behind: number | null = null
  for (const stretch of held) {
    if (behind !== null && stretch.fromMm > behind) bays.push({ fromMm: behind, toMm: stretch.fromMm })
    behind = Math.max(behind ?? -Infinity, stretch.toMm)
  }
  return bays
}

/** Stations of a rail that lie on a tie, the rail straight as far as the tie is wide; null: none. */
function heldBy({ centre, axisRad, lengthMm, widthMm }: Tie, path: Path, offsetMm: number): Stretch | null {
  const [c, s] = [Math.cos(axisRad), Math.sin(axisRad)]
  let stationMm = pathNearest(path, centre).stationMm
  let along = 0
  let turn = 0
  for (let round = 0; round < rounds; round++) {
    const { headingRad } = pathPoseAt(path, stationMm)
    const { x, y } = pathOffsetPoint(path, stationMm, offsetMm)
    turn = headingRad - axisRad
    along = (x - centre.x) * c + (y - centre.y) * s
    const across = (y - centre.y) * c - (x - centre.x) * s
    if (Math.abs(Math.sin(turn)) < leastSine) return null
    stationMm = Math.min(path.lengthMm, Math.max(0, stationMm - across / Math.sin(turn)))
  }
  const halfMm = widthMm / 2 / Math.abs(Math.sin(turn))
  // Past its end a slanting tie holds only as much of the rail as lies beside its corner.
  const lean = Math.cos(turn)
  const ends =
    Math.abs(lean) < 1e-9 ? [-halfMm, halfMm] : [(-lengthMm / 2 - along) / lean, (lengthMm / 2 - along) / lean].toSorted((a, b) => a - b)
  if (Math.abs(lean) < 1e-9 && Math.abs(along) > lengthMm / 2) return null
  const [low, high] = [Math.max(-halfMm, ends[0] ?? 0), Math.min(halfMm, ends[1] ?? 0)]
  return low < high ? { fromMm: stationMm + low, toMm: stationMm + high } : null
}
