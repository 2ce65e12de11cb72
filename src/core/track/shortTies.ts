import { pathOffsetPoint, pathPoseAt } from '../geom/index.ts'
import type { Path, Point } from '../geom/types.ts'
import type { Stretch } from '../network/index.ts'
import type { NetworkTrack } from '../network/types.ts'
import { tieCutBack, tieHold } from './tieCut.ts'
import { tiesReach } from './tieOverlap.ts'
import type { Tie } from './types.ts'

/** Rails are looked at in steps of this part of a tie's width. */
const stepWidths = 0.1
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
    for (const { fromMm, toMm } of baysUnder(path, offsetMm, stretch, [...ties, ...added], stepWidths * tieWidthMm)) {
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
function baysUnder(path: Path, offsetMm: number, { fromMm, toMm }: Stretch, ties: readonly Tie[], stepMm: number): readonly Stretch[] {
  const bays: Stretch[] = []
  const count = Math.ceil((toMm - fromMm) / stepMm)
  let held: number | null = null
  for (let i = 0; i <= count; i++) {
    const station = Math.min(path.lengthMm, Math.max(0, fromMm + ((toMm - fromMm) * i) / Math.max(1, count)))
    const at = pathOffsetPoint(path, station, offsetMm)
    if (!ties.some((tie) => liesOver(tie, at))) continue
    if (held !== null && station - held > 2 * stepMm) bays.push({ fromMm: held, toMm: station })
    held = station
  }
  return bays
}

function liesOver({ centre, axisRad, lengthMm, widthMm }: Tie, { x, y }: Point): boolean {
  const [dx, dy] = [x - centre.x, y - centre.y]
  const [c, s] = [Math.cos(axisRad), Math.sin(axisRad)]
  return Math.abs(dx * c + dy * s) <= lengthMm / 2 && Math.abs(dy * c - dx * s) <= widthMm / 2
}
