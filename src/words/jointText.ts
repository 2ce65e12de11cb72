import type { JointRule, RailJoint, RailPlace } from '../core/rails/types.ts'
import { fineText, lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'

const ruleWord: Readonly<Record<JointRule, string>> = {
  curveEnd: 'the end of a curve',
  points: 'points',
  frog: 'a frog',
  guard: 'a guard rail',
  gap: 'a gap',
  throwBay: 'a throw bar',
}

/** What keeps joints away, in a word. */
export function jointRuleText(rule: JointRule): string {
  return ruleWord[rule]
}

/** A joint in a few words, for its mark on the plan. */
export function jointText({ kind, gapMm, pieces, isOwn }: RailJoint, prefs: MeasurePrefs): string {
  const made = kind === 'solder' ? 'solder before bending' : `slip joint, leave ${fineText(gapMm, prefs)}`
  return `${isOwn === null ? '' : 'your own · '}${pieces.join(' | ')} · ${made}`
}

/** What the rules say to a joint that is being moved. */
interface JointAt {
  readonly place: RailPlace
  readonly rules: readonly JointRule[]
  readonly tooNear: { readonly haveMm: number; readonly needMm: number } | null
}

/** Where a joint would stand, and what is against it. */
export function jointTrialText({ place, rules, tooNear }: JointAt, name: (track: string) => string, prefs: MeasurePrefs): string {
  const at = `${name(place.track)}, ${place.rail} rail, ${lengthText(place.stationMm, prefs, 'room')}`
  const against = [
    ...(rules.length === 0 ? [] : [`too near to ${rules.map(jointRuleText).join(' and ')}`]),
    ...(tooNear === null
      ? []
      : [`${lengthText(tooNear.haveMm, prefs)} from your joint across, ${lengthText(tooNear.needMm, prefs)} asked for`]),
  ]
  return against.length === 0 ? at : `${at}: ${against.join('; ')}`
}

/** A typed station where the rail in hand has no place for a joint. */
export function jointBeyondText(
  stationMm: number,
  track: string,
  reach: { readonly fromMm: number; readonly toMm: number } | null,
  prefs: MeasurePrefs,
): string {
  const station = (mm: number): string => lengthText(mm, prefs, 'room')
  const stays = reach === null ? 'It stays on its own rail.' : `It can stand from ${station(reach.fromMm)} to ${station(reach.toMm)}.`
  return `This rail has no place for a joint at station ${station(stationMm)} of ${track}. ${stays}`
}
