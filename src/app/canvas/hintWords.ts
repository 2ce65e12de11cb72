import type { Plan } from '../../core/plan/types.ts'
import type { CornerRoom, EntryRefusal, Hint, SnapKind } from '../../tools/index.ts'
import { angleText, lengthText, numberText, typedSideExample, type MeasurePrefs } from '../../words/measure.ts'
import { editProblemText, placementProblemText } from '../../words/problemText.ts'
import { stretchProblemText } from '../../words/stretchText.ts'
import { entryProblemText } from '../../words/entryText.ts'

/** Why the pointer is drawn to a place. */
export function snapWords(kind: SnapKind): string {
  switch (kind) {
    case 'firstPoint':
      return 'closes here'
    case 'leg':
      return 'turnout leg'
    case 'trackEnd':
      return 'end of a track'
    case 'pi':
      return 'corner of a track, its PI'
    case 'benchworkCorner':
      return 'corner'
    case 'wallCorner':
      return 'corner of the room'
    case 'angleAndLine':
      return 'square and in line'
    case 'legTangent':
      return 'in line with the leg'
    case 'tangent':
      return 'keeps this tangent'
    case 'angle':
      return 'in steps of 45°'
    case 'lineUpAcross':
    case 'lineUpAlong':
      return 'in line'
    case 'guide':
      return 'on a guide'
    case 'guidesCross':
      return 'where guides cross'
    case 'parallel':
      return 'parallel, at the centres of the class'
    case 'parallelsCross':
      return 'parallel round the corner'
    case 'joist':
      return 'over a joist'
    case 'benchworkEdge':
      return 'on the edge'
    case 'wallEdge':
      return 'on the wall'
    case 'edgeMet':
      return 'in line, up to the edge'
    case 'wallMet':
      return 'in line, up to the wall'
    case 'alongEdge':
      return 'along the edge'
    case 'alongWall':
      return 'along the wall'
    case 'touches':
      return 'touches its neighbour'
    case 'curveEnd':
      return 'where a curve begins or ends'
    case 'evenTies':
      return 'ties come out even'
    case 'offJoist':
      return 'clear of the joist'
    case 'whole':
      return 'on whole measures'
  }
}

/** What a tool has to say, beside the pointer. */
export function hintText(hint: Hint, plan: Plan, prefs: MeasurePrefs): string {
  switch (hint.kind) {
    case 'edit':
      return editProblemText(hint.problem, plan)
    case 'entry':
      return refusalText(hint.refusal, prefs)
    case 'needPoints':
      return `${hint.have} of at least ${hint.need} points so far.`
    case 'outsideBenchwork':
      return 'A hole is cut in benchwork; begin on one.'
    case 'noTrackHere':
      return 'A turnout lies on a track; point at one.'
    case 'noTrackForPortal':
      return 'A portal stands over a track; point at one.'
    case 'noWallHere':
      return 'A door is made in a wall; point at one.'
    case 'noLineClass':
      return 'A track needs a line class; the plan has none left.'
    case 'turnoutDoesNotFit':
      return hint.turnout.result.ok ? '' : placementProblemText(hint.turnout.result.problem, prefs)
    case 'trackTied':
      return 'This track hangs on a turnout and goes where that goes. Drag its end to set it free.'
    case 'measure':
      return measureNeeds[hint.needs]
    case 'beyondTrack':
      return `The track ends at ${lengthText(hint.lengthMm, prefs, 'room')}; a station from 0 to there belongs here.`
    case 'beyondSide':
      return `The side of the wall does not hold it there; the nearest place begins at ${lengthText(hint.nearestMm, prefs, 'room')} along the wall.`
    case 'stretch':
      return stretchProblemText(hint.problem, plan)
    case 'outOfRange':
      return `Frog numbers here go from ${numberText(hint.min, 2)} to ${numberText(hint.max, 2)}.`
    case 'cornerRoom':
      return cornerRoomText(hint.room, hint.isLonger, prefs) ?? ''
    case 'startUnsolved':
      return 'Its curves do not fit yet, and what stands on this track is counted from its start. Set the points farther apart first.'
    case 'lastPoints':
      return 'Nothing would be left of it. Take out the whole instead.'
  }
}

/** What was done for a new corner beyond the corner itself; null: nothing. */
export function cornerRoomText({ turnRad, longer, isShort }: CornerRoom, isLonger: boolean, prefs: MeasurePrefs): string | null {
  const turn = `a turn of ${angleText(turnRad)} with the curve of its class`
  if (longer !== null && isLonger)
    return `The track was made ${lengthText(longer.byMm, prefs)} longer at its ${longer.end}: the new corner has room for ${turn}.`
  return longer !== null || isShort
    ? `This side is too short for ${turn}: give the new corner a smaller radius, or move its neighbours.`
    : null
}

const measureNeeds = {
  track: 'This is measured on a track; point at one.',
  sameTrack: 'Both places lie on one track; point at the same one again.',
  otherTrack: 'Point at another track, to measure to it.',
} as const

function refusalText(refusal: EntryRefusal, prefs: MeasurePrefs): string {
  switch (refusal.kind) {
    case 'length':
    case 'angle':
    case 'number':
      return entryProblemText(refusal.problem)
    case 'notPositive':
      return `A side is longer than nothing; ${refusal.text} is not.`
    case 'nothingToMeasureFrom':
      return `There is no point yet to measure from. Click one, or type two measures: ${prefs.units === 'metric' ? '300; 200' : '12in; 8in'}.`
    case 'noCorner':
      return `A radius belongs to a corner of the line (PI). Set one first, or type it behind its place: ${typedSideExample(prefs)} r${prefs.units === 'metric' ? '900' : '36in'}.`
    case 'noDirection':
      return `Point where it should go, or add an angle: ${typedSideExample(prefs)}.`
  }
}
