import type { Finding, RuleName } from '../core/checks/types.ts'
import { makerOf } from '../core/plan/index.ts'
import type { Plan } from '../core/plan/types.ts'
import { recordName } from './names.ts'

/** Rules whose cure is another number of the corner or turnout itself. */
const ownCures: readonly RuleName[] = [
  'minimum-radius',
  'car-radius',
  'coupling-radius',
  'short-curve',
  'reverse-curve',
  'easement-fit',
  'easement-short',
  'minimum-frog',
]

/**
 * Of a finding that no change of one number cures safely: why, and what would by hand. Null where what the finding says ends in that
 * already.
 */
export function byHandText({ rule, table, record, otherRecord, corner, problem, source, waitsFor }: Finding, plan: Plan): string | null {
  const isTurnout = table === 'turnouts'
  const maker = table === 'tracks' || isTurnout ? makerOf(plan, table, record) : null
  if (maker !== null && ownCures.includes(rule))
    return `${recordName(plan, 'makers', maker.id)} made this: change its numbers there, or take it apart to mend it by hand.`
  const radius = plan.tracks[record]?.corners.find(({ id }) => id === corner)?.radius
  switch (rule) {
    case 'minimum-radius':
    case 'car-radius':
    case 'coupling-radius':
      if (isTurnout) return 'It follows from the frog number: a larger one has a wider curve, and asks for more length.'
      return `${widerText(radius)} Another class or shorter cars would do as well.`
    case 'short-curve':
      return widerText(radius)
    case 'reverse-curve':
      return isTurnout
        ? 'The curve of the turnout is one of the two. Begin the next curve farther along, where more straight lies between.'
        : 'No wider curve between these sides leaves straight enough. Move a PI so that the two are farther apart, or give the second curve a smaller turn.'
    case 'broken-back':
      return null
    case 'coupler-swing':
      return null
    case 'alignment':
      if (problem?.kind !== 'legUnsolved') return null
      return waitsFor === undefined
        ? 'Mend the turnout first.'
        : `Nothing is to be done here: ${recordName(plan, waitsFor.table, waitsFor.record)} comes first.`
    case 'easement-fit':
      return 'Neither another radius that the class allows nor shorter easements fit between these sides. Move a PI so that they are longer or turn less.'
    case 'easement-short':
      return 'Easements as long as asked do not fit between these sides with this radius. Move a PI so that the sides are longer, or take a sharper curve that the class allows.'
    case 'benchwork-edge':
      return 'Which way a line should give is yours to say: move its PIs inwards, take a sharper curve, or widen the benchwork.'
    case 'roadbed-edge':
    case 'roadbed-overlap':
    case 'fixed-clearance':
    case 'check-dimensions':
    case 'rail-joint':
      return null
    case 'line-joint':
      return 'Choose either end: it offers to bring both into one line.'
    case 'track-clearance':
      if (problem === null && source === 'railway' && (isTurnout || (otherRecord !== null && otherRecord in plan.turnouts)))
        return 'Move the turnout along, or start a track from its leg that bends away; a larger distance between the two would do as well.'
      return problem === null
        ? `Which of the two should give is yours to say: move a PI of one of them${source === 'railway' ? '' : ', or widen their centres'}. A parallel laid anew takes centres that do.`
        : null
    case 'minimum-frog':
      return 'A turnout with that frog number is longer and does not find its place on this track. Move it along to a longer straight, or move what lies beside it.'
    case 'turnout-place':
      return 'There is no free place for it near by. Move it along to a straight that is long enough, lengthen the track, or take a smaller frog number that the class allows.'
    case 'crossing-build':
      return problem?.kind === 'crossingsOverlap' || problem?.kind === 'turnoutOverCrossing'
        ? 'Both hang on where their tracks meet: move a PI of one of the tracks, or the turnout.'
        : null
    case 'throw-room':
      return 'There is no free place for it near by. Move the joist, or work the points from above or beside.'
    case 'benchwork-outline':
      return null
    case 'helix-height':
      return 'Another rise alone does not do: more turns to the climb, or a larger radius at the same grade, leave more height.'
    case 'maker-follow':
      return 'Change its numbers, or take it apart and mend what it made by hand.'
    case 'reach':
      return 'Move the track nearer to the edge, narrow the benchwork, or cut a hatch to stand up in.'
    case 'aisle':
      return 'Move one of the two, or narrow the benchwork there.'
    case 'door-swing':
      return 'Hung otherwise it does not open either: move what it meets, or make its leaf narrower.'
    case 'hatch-size':
      return 'It does not grow where it is without leaving the benchwork or meeting something: draw it larger elsewhere.'
    case 'hatch-place':
      return 'Move it, or the track beside it.'
    case 'bench-overlap':
      return 'Which of the two should give is yours to say: move a point of the benchwork, or what stands there.'
  }
}

function widerText(radius: unknown): string {
  if (radius === 'easement-only') return 'Its radius follows from its easements: make them longer.'
  if (typeof radius === 'object') return 'It has several radii: give each of its arcs one that is wide enough.'
  return 'The sides here have no room for a wider curve: move a PI so that they are longer.'
}
