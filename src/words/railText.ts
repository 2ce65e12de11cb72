import { assertNever } from '../core/geom/index.ts'
import type { BreakKind, MarkKind, RailPlace, RailProblem } from '../core/rails/types.ts'
import { jointRuleText } from './jointText.ts'
import { fineText, lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'

const breakWord: Readonly<Record<'joint' | BreakKind, string>> = {
  joint: 'joint',
  end: 'end of track',
  gap: 'isolating gap',
  heel: 'heel of a point',
  work: 'end of a frog',
  open: 'free end',
  section: 'change of rail',
}

/** What is at the end of a piece. */
export function railEndText(kind: 'joint' | BreakKind): string {
  return breakWord[kind]
}

const markWord: Readonly<Record<MarkKind, string>> = {
  middle: 'middle',
  TS: 'TS',
  SC: 'SC',
  CS: 'CS',
  ST: 'ST',
  CC: 'CC',
  bend: 'bend',
  tie: 'tie',
}

export function markText(kind: MarkKind): string {
  return markWord[kind]
}

/** A place on a rail: left rail of Main at 4 ft. name: of a track by its id. */
export function railPlaceText({ track, rail, stationMm }: RailPlace, name: (track: string) => string, prefs: MeasurePrefs): string {
  return `the ${rail} rail of ${name(track)} at ${lengthText(stationMm, prefs, 'room')}`
}

/** A problem of the rails: what, where, and what would be right. name: of a track by its id. */
export function railProblemText(problem: RailProblem, name: (track: string) => string, prefs: MeasurePrefs): string {
  const at = (place: RailPlace): string => railPlaceText(place, name, prefs)
  const long = (mm: number): string => lengthText(mm, prefs, 'room')
  switch (problem.kind) {
    case 'noRailStock': {
      const { code, lengthMm, others } = problem
      const have = others.length === 0 ? 'none of any code' : `only code ${others.join(', ')}`
      return `There is no rail of code ${code} to cut ${long(lengthMm)} from, ${have}. Add a stick of code ${code} to the stock.`
    }
    case 'jointInZone': {
      const { place, rules, isOwn, longestMm, lengthMm } = problem
      const near = rules.map(jointRuleText).join(' and ')
      if (isOwn !== null) return `Your joint in ${at(place)} stands too near to ${near}. Move it, or let the joint plan choose.`
      const cure =
        lengthMm === null
          ? 'Move joints of your own away, or lessen the distances in the rules for joints.'
          : `A stick of ${long(lengthMm)} would do.`
      return `A joint in ${at(place)} stands too near to ${near}: the longest stick is ${long(longestMm)}. ${cure}`
    }
    case 'stagger': {
      const { place, other, haveMm, needMm } = problem
      return `Joints in ${at(place)} and in ${at(other)} are ${lengthText(haveMm, prefs)} apart; the rules ask for ${lengthText(needMm, prefs)}.`
    }
    case 'pieceTooShort': {
      const { piece, place, haveMm, needMm } = problem
      return `Piece ${piece}, in ${at(place)}, is ${lengthText(haveMm, prefs)} long; the rules ask for ${lengthText(needMm, prefs)}.`
    }
    case 'workTooLong': {
      const { piece, lengthMm, longestMm } = problem
      return `Piece ${piece} is one rail of ${long(lengthMm)}, and the longest stick of its code is ${long(longestMm)}. A stick of ${long(lengthMm)} would do.`
    }
    case 'jointOffRail':
      return problem.why === 'atBreak'
        ? `Your joint in ${at(problem.place)} stands where the rail ends anyway. Remove it.`
        : `Your joint in ${at(problem.place)} is on no rail that can be joined there. Move it onto the rail, or remove it.`
    default:
      return assertNever(problem)
  }
}

/** How a joint is made. */
export function jointKindText(kind: 'solder' | 'slip', gapMm: number, prefs: MeasurePrefs): string {
  return kind === 'solder'
    ? 'solder before bending'
    : `slip joint, leave ${fineText(gapMm, prefs)} on the day of laying; note its date, temperature and humidity`
}
