import { radiusTighter } from '../geom/index.ts'
import type { Bend } from '../geom/index.ts'
import type { Stretch } from '../network/index.ts'
import { bandStrain, stripsThatBend, widestStrip } from './bend.ts'
import type { StripStretch } from './types.ts'

/** Stations nearer than this are one: rounding of sums of lengths, mm. */
const grainMm = 1e-6

/** What stretches are laid out from. */
export interface StretchRequest {
  readonly bends: readonly Bend[]
  readonly footWidthMm: number
  readonly strainLimit: number
  readonly strips: number | 'fit'
  readonly narrowestMm: number
  /** No stretch of fewer strips is shorter: it is laid like the one beside it. */
  readonly leastMm: number
  /** Where a strip must not end. */
  readonly forbidden: readonly Stretch[]
}

/**
 * Stretches of one count of strips, and the bends that no strip goes round; there the narrowest strips are taken.
 *
 * fit: as few strips as bend to each curve, as far as the curve reaches with its easements; a short stretch between is laid with the
 * greater count of its neighbours, and where a count changes in a throw bay the greater count goes on to its end.
 */
export function stripStretches(request: StretchRequest): {
  readonly stretches: readonly StripStretch[]
  readonly tooTight: readonly Bend[]
} {
  const { bends, footWidthMm, strainLimit, strips, narrowestMm } = request
  const tooTight: Bend[] = []
  const most = Math.max(1, Math.floor(footWidthMm / narrowestMm + 1e-9))
  const counted = bends.map((bend) => {
    if (strips !== 'fit') return { ...bend, strips }
    const fit = stripsThatBend(footWidthMm, bend.radiusMm, strainLimit, narrowestMm)
    if (fit === null) tooTight.push(bend)
    return { ...bend, strips: fit ?? most }
  })
  const stretches = seamsMoved(shortTaken(merged(counted), request.leastMm), request.forbidden).map((stretch) => {
    const radiusMm = bends.reduce<number | null>(
      (least, bend) =>
        bend.toMm > stretch.fromMm + grainMm && bend.fromMm < stretch.toMm - grainMm ? radiusTighter(least, bend.radiusMm) : least,
      null,
    )
    return {
      ...stretch,
      radiusMm,
      stripWidthMm: footWidthMm / stretch.strips,
      widestMm: widestStrip(footWidthMm, radiusMm, strainLimit),
      strain: bandStrain(footWidthMm, stretch.strips, radiusMm),
    }
  })
  return { stretches, tooTight }
}

interface Counted extends Stretch {
  readonly strips: number
}

function merged(all: readonly Counted[]): readonly Counted[] {
  const out: Counted[] = []
  for (const { fromMm, toMm, strips } of all) {
    const last = out.at(-1)
    if (last?.strips === strips) out[out.length - 1] = { ...last, toMm }
    else if (toMm > fromMm) out.push({ fromMm, toMm, strips })
  }
  return out
}

/** Short stretches laid with the least greater count beside them, the shortest first. */
function shortTaken(all: readonly Counted[], leastMm: number): readonly Counted[] {
  let now = all
  for (;;) {
    let short: { readonly at: number; readonly strips: number; readonly lengthMm: number } | null = null
    for (const [at, { fromMm, toMm, strips }] of now.entries()) {
      const greater = [now[at - 1], now[at + 1]].flatMap((one) => (one !== undefined && one.strips > strips ? one.strips : []))
      const lengthMm = toMm - fromMm
      if (greater.length > 0 && lengthMm < leastMm && (short === null || lengthMm < short.lengthMm)) {
        short = { at, strips: Math.min(...greater), lengthMm }
      }
    }
    if (short === null) return now
    const { at, strips } = short
    now = merged(now.map((one, i) => (i === at ? { ...one, strips } : one)))
  }
}

/** Seams out of the places where no strip may end: the greater count goes on over them, as far as its neighbour reaches. */
function seamsMoved(all: readonly Counted[], forbidden: readonly Stretch[]): readonly Counted[] {
  const zones = zonesJoined(forbidden)
  const out = [...all]
  for (let i = 1; i < out.length; i++) {
    const [before, after] = [out[i - 1], out[i]]
    const zone = after && zones.find(({ fromMm, toMm }) => fromMm < after.fromMm && after.fromMm < toMm)
    if (!before || !after || !zone) continue
    const seamMm = before.strips > after.strips ? Math.min(zone.toMm, after.toMm) : Math.max(zone.fromMm, before.fromMm)
    out[i - 1] = { ...before, toMm: seamMm }
    out[i] = { ...after, fromMm: seamMm }
  }
  return merged(out.filter(({ fromMm, toMm }) => toMm > fromMm))
}

/** Zones in order, those that overlap as one. */
export function zonesJoined(zones: readonly Stretch[]): readonly Stretch[] {
  const out: Stretch[] = []
  for (const zone of zones.toSorted((a, b) => a.fromMm - b.fromMm)) {
    const last = out.at(-1)
    if (last && zone.fromMm <= last.toMm) out[out.length - 1] = { fromMm: last.fromMm, toMm: Math.max(last.toMm, zone.toMm) }
    else out.push(zone)
  }
  return out
}
