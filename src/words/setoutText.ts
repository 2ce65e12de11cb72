import { setoutLengthText } from '../core/deliver/index.ts'
import type { CentreReach, RuleMarks, SetoutNote, SetoutProblem } from '../core/deliver/index.ts'
import { nameRead } from './names.ts'

/** A problem in words: what is wrong, where, and what would be right. */
export function setoutProblemText(problem: SetoutProblem, marks: RuleMarks): string {
  const length = (mm: number): string => setoutLengthText(mm, marks)
  switch (problem.kind) {
    case 'notFinite':
      return `The ${problem.where} is not a number.`
    case 'stretchOutside':
      return `Station ${length(problem.atMm)} lies outside the line, which runs from 0 to ${length(problem.lengthMm)}.`
    case 'stretchEmpty':
      return `The stretch from ${length(problem.fromMm)} to ${length(problem.toMm)} has no length; its second station must lie beyond the first.`
    case 'notPositive':
      return `The ${{ step: 'step', chord: 'length of the stick', pinned: 'length pinned', angleStep: 'finest angle' }[problem.what]} must be more than nothing.`
    case 'tooManyRows':
      return `That would be ${problem.rows} rows, at most ${problem.most} are made. Take a longer step or a shorter stretch.`
    case 'noCorner':
      return 'No corner turns within this stretch, so nothing stands off a tangent. Take a stretch with a curve in it.'
    case 'noCurve':
      return 'This stretch is straight: no deflection to turn off. Take a stretch with a curve in it.'
    case 'noArc':
      return 'There is no arc in this stretch, so nothing to swing with a trammel. Take a stretch with an arc in it.'
    case 'noEasement':
      return 'There is no easement from a tangent in this stretch. Take a stretch with TS or ST in it.'
    case 'chordWithoutLength':
      return 'Both ends of the stretch are one place: a chord between them has no direction. Take a shorter stretch.'
    case 'chordFolds':
      return `The line turns back over this chord at station ${length(problem.stationMm)}. Take a stretch that ends before it.`
    case 'noEdges':
      return 'The plan has neither wall nor benchwork to measure from. Draw one in the Room stage.'
    case 'edgeMissing':
      return 'The room has no such edge.'
    case 'edgeNotFacing':
      return problem.name === null
        ? 'No part of this stretch lies square to any of these sides. Take another stretch, or tie it in from two corners.'
        : `No part of this stretch lies square to ${nameRead(problem.name)}. Choose another edge or another stretch.`
    case 'stepTooLong':
      return `No chord of ${length(problem.stepMm)} fits the curve at station ${length(problem.stationMm)}: it turns back before. Take a shorter step.`
    case 'sightTooFlat':
      return `From station ${length(problem.stationMm)} on, the sight crosses the chords at less than 30°. End the stretch there and set up again, or set up on each curve.`
    case 'tooFewFixedPoints':
      return `Two tapes need two corners of walls or benchwork; the plan has ${problem.have === 0 ? 'none' : 'one'}.`
    case 'noCrossing':
      return 'From no place of this stretch are two corners seen at between 30° and 150°. Draw more of the room, or measure from an edge.'
    case 'stickLongerThanLine':
      return `A stick of ${length(problem.chordMm)} does not fit on ${length(problem.lengthMm)} of line. Take a shorter one.`
    case 'stickRunsOff':
      return `At no step of this stretch does a stick of ${length(problem.chordMm)} lie with both ends on the line. Take a shorter stick or a finer step.`
    case 'stickTooLong':
      return `A stick of ${length(problem.chordMm)} is too long for a radius of ${length(problem.radiusMm)}; at most ${length(problem.mostMm)} can be read.`
  }
}

/** Something to know before one starts, in words. */
export function setoutNoteText(note: SetoutNote, marks: RuleMarks): string {
  const length = (mm: number): string => setoutLengthText(mm, marks)
  const places = (count: number): string => (count === 1 ? 'one place' : `${count} places`)
  switch (note.kind) {
    case 'sightBlocked':
      return `${note.by} stands between edge and line at ${places(note.rows)}, first at station ${length(note.stationMm)}.`
    case 'shortTangent':
      return `Only ${length(note.haveMm)} of tangent at station ${length(note.stationMm)}, ${length(note.wantMm)} wanted for the pins.`
    case 'shortArc':
      return `Only ${length(note.haveMm)} of arc at station ${length(note.stationMm)}, ${length(note.wantMm)} wanted for the pins.`
    case 'noCrossing':
      return `No two corners cross well over ${places(note.rows)}, first at station ${length(note.stationMm)}; left out.`
    case 'noPins':
      return `No two corners cross well over the centre of the arc at station ${length(note.stationMm)}: find it by its x and y.`
    case 'stickRunsOff':
      return `Left out at ${places(note.rows)} where an end of the stick would lie beyond the line.`
  }
}

/** Where a trammel's centre stands, in words. */
export function centreReachText(reach: CentreReach, barBlockedBy: string | null): string {
  switch (reach.kind) {
    case 'benchwork':
    case 'floor': {
      const stands = reach.kind === 'benchwork' ? `on ${nameRead(reach.name)}` : 'off the benchwork: it needs a stand'
      return `The centre is ${stands}${barBlockedBy === null ? '.' : `, but the bar strikes ${barBlockedBy} on its way.`}`
    }
    case 'obstacle':
      return `The centre is inside ${nameRead(reach.name)}: out of reach, set the arc out by offsets.`
    case 'wall':
      return `The centre is in the wall (${nameRead(reach.name)}): out of reach, set the arc out by offsets.`
    case 'outside':
      return `The centre is beyond ${nameRead(reach.name)}: out of reach, set the arc out by offsets.`
  }
}
