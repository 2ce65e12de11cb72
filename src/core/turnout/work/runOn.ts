import { pathNearest, pathSlice, pathStart } from '../../geom/index.ts'
import { checkFlangeway } from './checkFlangeway.ts'
import { railClearParts } from './clear.ts'
import { flareLength } from './flare.ts'
import { frogDistances } from '../frog.ts'
import { meetingFromToe } from './meetings.ts'
import type { Meeting } from './meetings.ts'
import { railOf } from './railOf.ts'
import { steepRad } from './steep.ts'
import type { WorkMeasures, WorkRequest } from './types.ts'
import { coverBehind, guardedFace } from './vee.ts'
import type { WingRunOn } from './vee.ts'

/** Wings that go on as guard rails of other frogs, by the meeting whose line they are; and the meetings that are guarded by them. */
export interface RunsOn {
  readonly wings: ReadonlyMap<Meeting, { readonly runOn: WingRunOn; readonly guards: readonly Meeting[] }>
  readonly guarded: ReadonlySet<Meeting>
}

const roundingMm = 1e-6
/** A rail is led aside by one in so many, a third as steep as it flares. Common practice, no source. */
const leadPerMm = 30

/**
 * Where the guard rail of one work's frog and the wing of another's want to stand beside the same rail, one rail is both: the wing goes on along
 * that rail and opens where the guard rail would. So it is where the frogs of two works stand nearly abreast of each other, as in a scissors.
 *
 * Both come together where the open end of the one would reach into the open end of the other. A guard rail that would reach to the far side of the
 * wing's knuckle has no room there, and stays what it is: cut, and told as such.
 *
 * Outcome:  nothing for a work that stands alone. Never throws. Source: derived.
 */
export function runsOn(meetings: readonly Meeting[], { lines, measures, gaugeMm }: WorkRequest): RunsOn {
  const wings = new Map<Meeting, { readonly runOn: WingRunOn; readonly guards: readonly Meeting[] }>()
  const guarded = new Set<Meeting>()
  const vees = meetings.filter(({ frog }) => frog.kind === 'vee' && frog.angleRad <= steepRad)
  const opensMm = 2 * (flareLength(measures.flangewayMm) + measures.railHeadMm)
  for (const wing of vees) {
    const seen = meetingFromToe(wing)
    const along = seen.other.path
    const { knuckle } = frogDistances(wing.frog.angleRad, measures)
    const endMm = seen.otherStationMm + coverBehind(wing.frog.angleRad, measures)
    for (const guard of vees) {
      if (!isBeside(guard, wing)) continue
      const face = guardedFace(meetingFromToe(guard), measures)
      const stations = [pathStart(face), face.end].map((at) => pathNearest(along, at).stationMm)
      const [fromMm, toMm] = [Math.min(...stations), Math.max(...stations)]
      // The bend at the knuckle has tangents a rail head long.
      if (fromMm < seen.otherStationMm - knuckle + measures.railHeadMm || fromMm - endMm > opensMm) continue
      // As far as the wing reaches there is room by its own frog; behind it no other wheel may run.
      const beyondMm = Math.max(0, Math.min(toMm - Math.max(fromMm, endMm), face.lengthMm))
      const isRising = pathNearest(along, pathStart(face)).stationMm === fromMm
      const beyond = isRising ? pathSlice(face, face.lengthMm - beyondMm, face.lengthMm) : pathSlice(face, 0, beyondMm)
      const rail = railOf(measures, 'guard', guard.line, beyond, meetingFromToe(guard).line.side)
      const clearMm = railClearParts(rail, lines, measures, gaugeMm).reduce((sum, { gaugeLine }) => sum + gaugeLine.lengthMm, 0)
      if (beyondMm > 0 && clearMm < beyondMm - roundingMm) continue
      const before = wings.get(wing)
      wings.set(wing, {
        runOn: { ...standsOff(fromMm, endMm, measures, gaugeMm), toMm: Math.max(toMm, before?.runOn.toMm ?? 0) },
        guards: [...(before?.guards ?? []), guard],
      })
      guarded.add(guard)
    }
  }
  return { wings, guarded }
}

/**
 * A wing stands one flangeway off and a guard rail what the check gauge leaves. With room between the two frogs the rail is led from the one to the
 * other; without, it stands at both as checkFlangeway has it, by which it guards as well as the one and leaves the span of the other.
 */
function standsOff(fromMm: number, endMm: number, measures: WorkMeasures, gaugeMm: number): Pick<WingRunOn, 'offMm' | 'leads'> {
  const guardMm = gaugeMm - measures.checkGaugeMm
  const needMm = leadPerMm * Math.abs(measures.flangewayMm - guardMm)
  if (needMm < roundingMm) return { offMm: guardMm, leads: null }
  if (fromMm - endMm < needMm) return { offMm: checkFlangeway(measures, gaugeMm), leads: null }
  return { offMm: measures.flangewayMm, leads: { fromMm: endMm, toMm: fromMm, offMm: guardMm } }
}

/** Whether one's guard rail stands beside the rail along which the other's wing runs, and the frogs are of different works. */
function isBeside(guard: Meeting, wing: Meeting): boolean {
  const { line } = guard
  const { other } = wing
  if (line.route !== other.route || line.of !== other.of || line.side === other.side) return false
  return worksOf(guard) !== worksOf(wing)
}

function worksOf({ line, other }: Meeting): number {
  return Math.max(line.of ?? 0, other.of ?? 0)
}
