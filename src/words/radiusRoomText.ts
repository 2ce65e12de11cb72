import type { RadiusRoom } from '../core/checks/types.ts'
import type { ByClass, Plan, Track } from '../core/plan/types.ts'
import { lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { cornerName, nameRead } from './names.ts'

/** Which radius does not fit, by how much, and which would; whole: what is told of the curve as a whole. */
export function radiusRoomText(room: RadiusRoom, whole: string, track: Track, plan: Plan, prefs: MeasurePrefs): string {
  const length = (mm: number): string => lengthText(mm, prefs)
  const { radiusMm, leastMm, mostMm, classMm } = room
  const at = cornerName(track, room.corner)
  const farther = 'Move a PI so that the sides are longer, or shorten the easements'
  if (mostMm === null) return `${whole} With its easements as they are no radius fits at ${at}. ${farther}.`
  const isTooSmall = leastMm !== null && radiusMm < leastMm
  const isTooLarge = radiusMm > mostMm
  if (!isTooSmall && !isTooLarge) return whole
  const radius = `Radius ${length(radiusMm)} at ${at} is too ${isTooSmall ? 'small' : 'large'}`
  const most = `${length(mostMm)} at most`
  const who = nameRead(plan.lineClasses[track.lineClass]?.name ?? 'The class')
  if (isTooSmall) {
    // A radius that the class allows is not at fault: the easements are.
    if (radiusMm >= classMm) {
      const would = mostMm < leastMm ? `and the sides have room for ${most}. ${farther}.` : 'or shorter easements.'
      return `${whole} With these easements it takes a radius of at least ${length(leastMm)}, ${would}`
    }
    const eased = easementsText(track, room.corner, prefs)
    const first = `${radius} by ${length(leastMm - radiusMm)}: ${eased} for at least ${length(leastMm)}.`
    if (mostMm < leastMm) return `${first} The sides have room for ${most}. ${farther}.`
    if (mostMm < classMm) return `${first} ${who} asks for ${length(classMm)}, and the sides have room for ${most}.`
    return classMm > leastMm ? `${first} ${who} asks for ${length(classMm)}.` : first
  }
  const first = `${radius} by ${length(radiusMm - mostMm)}: the sides have room for ${most}.`
  const ofClass = mostMm < classMm ? ` ${who} asks for ${length(classMm)}: move a PI so that the sides are longer.` : ''
  return `${first}${ofClass} ${whole}`
}

function easementsText(track: Track, corner: number, prefs: MeasurePrefs): string {
  const of = (easement: ByClass | undefined): string | null => (typeof easement === 'number' ? lengthText(easement, prefs) : null)
  const [into, out] = [of(track.corners[corner]?.easementIn), of(track.corners[corner]?.easementOut)]
  if (into === null && out === null) return 'the easements of its class ask'
  if (into === out) return `easements of ${into ?? ''} ask`
  return `easements ${into === null ? 'by class' : `of ${into}`} and ${out === null ? 'by class' : `of ${out}`} ask`
}
