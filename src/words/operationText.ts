import type { TrackMeeting, TrackOperationProblem } from '../core/alignment/index.ts'
import type { Plan } from '../core/plan/types.ts'
import type { MeasurePrefs } from './measure.ts'
import { angleText, lengthText } from './measure.ts'
import { recordName, upperFirst } from './names.ts'

export function operationProblemText(problem: TrackOperationProblem, plan: Plan, prefs: MeasurePrefs): string {
  const station = (mm: number): string => lengthText(mm, prefs, 'room')
  switch (problem.kind) {
    case 'notFinite':
      return `The ${problem.where} is no number that can be worked with.`
    case 'notPositive':
      return `The ${problem.where} must be more than nothing.`
    case 'offTrack':
      return `Station ${station(problem.stationMm)} is not on the track, which is ${station(problem.lengthMm)} long.`
    case 'atEnd':
      return 'Nothing would be left of one part. Choose a station between the ends.'
    case 'inEasement':
      return `That lies in a curve that cannot be cut there; ${station(problem.beforeMm)} or ${station(problem.behindMm)} would work.`
    case 'inTurnout':
      return `${upperFirst(recordName(plan, 'turnouts', problem.turnout))} stands there, from ${station(problem.fromMm)} to ${station(problem.toMm)}.`
    case 'turnoutsBeyond':
      return `${upperFirst(problem.turnouts.map((id) => recordName(plan, 'turnouts', id)).join(', '))} would go with the part cut off; take ${problem.turnouts.length === 1 ? 'it' : 'them'} out first.`
    case 'carriesMaker':
      return `${upperFirst(recordName(plan, 'makers', problem.maker))} counts along this track; take it apart first.`
    case 'endNotFree':
      return `The ${problem.end} of ${recordName(plan, 'tracks', problem.track)} is not free. Choose an end that hangs on no turnout and closes no loop.`
    case 'notALoop':
      return 'Only a loop can begin elsewhere.'
    case 'isALoop':
      return 'A loop has no ends.'
    case 'tooFewCorners':
      return `The loop has ${problem.have} PIs; it needs ${problem.need}.`
    case 'apart':
      return `The ends lie ${lengthText(problem.distanceMm, prefs)} apart; join them first.`
    case 'kink':
      return `The ends meet at an angle of ${angleText(problem.turnRad)}; join them first.`
    case 'sameTrack':
      return `${upperFirst(recordName(plan, 'tracks', problem.track))} cannot be brought to itself; choose another track.`
    case 'meetsAlready':
      return `The ${problem.end} lies on ${recordName(plan, 'tracks', problem.otherTrack)} already.`
    case 'noMeeting':
      return noMeetingText(problem, plan, prefs)
  }
}

function noMeetingText(problem: Extract<TrackOperationProblem, { readonly kind: 'noMeeting' }>, plan: Plan, prefs: MeasurePrefs): string {
  const other = recordName(plan, 'tracks', problem.otherTrack)
  const away = `${other} lies ${lengthText(problem.awayMm, prefs)} away from its ${problem.end}`
  return problem.isFree
    ? `The two do not meet: ${away}, and straight on the line runs past it. Turn the last tangent, or join the end to it.`
    : `The two do not cross: ${away}, which holds a leg and cannot be lengthened.`
}

/** A place where an end can be brought to another track, told from others: what the end gains or loses, and at what angle it would meet. */
export function meetingText({ byMm, angleRad }: TrackMeeting, prefs: MeasurePrefs): string {
  return `${lengthText(Math.abs(byMm), prefs, 'room')} ${byMm > 0 ? 'longer' : 'shorter'}, at ${angleText(angleRad)}`
}
