import type { ChecksInput } from '../../src/core/checks/index.ts'
import { sweptTrack, trackGap, trackLine } from '../../src/core/clearance/index.ts'
import { vehicleBodiesOf } from '../../src/core/vehicles/index.ts'

/** Every pair of tracks by both whole bands, with no index and nothing skipped: the gap, and whether it may be compared. */
export function allPairs({ plan, network }: ChecksInput): ReadonlyMap<string, { readonly gapMm: number; readonly isPlain: boolean }> {
  const swept = Object.values(plan.tracks).flatMap((track) => {
    const line = trackLine(network, track.id, 700)
    const cars = (plan.lineClasses[track.lineClass]?.cars ?? []).flatMap((id) => plan.vehicles[id] ?? [])
    return line === null ? [] : [sweptTrack(line, cars.flatMap(vehicleBodiesOf), 10)]
  })
  const { runningClearanceMm, gaugeMm } = plan.railway
  const found = new Map<string, { gapMm: number; isPlain: boolean }>()
  for (const [i, a] of swept.entries()) {
    for (const b of swept.slice(i + 1)) {
      const { least, meetings } = trackGap(a, b, { limitMm: runningClearanceMm, gaugeMm, withinMm: Infinity })
      const isPlain = meetings.every(({ kind }) => kind === 'joined')
      found.set(`${a.line.track} ${b.line.track}`, { gapMm: least?.gapMm ?? Infinity, isPlain })
    }
  }
  return found
}
