import type {
  FairBind,
  FairProblem,
  JoinStop,
  ParallelProblem,
  ParallelRemark,
  TraceProblem,
  TrackOperationProblem,
} from '../../../src/core/alignment/index.ts'
import type { AlignmentProblem } from '../../../src/core/alignment/types.ts'
import type { FairPlanProblem, JoinPlanProblem } from '../../../src/core/pipeline/index.ts'
import type { StretchProblem } from '../../../src/core/stretch/index.ts'
import { at, lineProblem, turnoutProblem } from './kinds.ts'
import type { EachKind } from './kinds.ts'

/* Examples of every kind of trouble that a line may have. */

export const alignments: EachKind<AlignmentProblem> = {
  notFinite: { kind: 'notFinite', where: 'corner 1 radius' },
  radiusNotPositive: { kind: 'radiusNotPositive', corner: 0, radiusMm: -25.4 },
  easementNegative: { kind: 'easementNegative', corner: 1, lengthMm: -1 },
  coincidentPoints: { kind: 'coincidentPoints', side: 1, at },
  reversal: { kind: 'reversal', corner: 0, at },
  easementsTooLong: { kind: 'easementsTooLong', corner: 0, at, excessRad: 0.1, shortByMm: 10, fittingFactor: 0.9 },
  noCurvature: { kind: 'noCurvature', corner: 0 },
  arcsMisfit: [
    { kind: 'arcsMisfit', corner: 0, at, excessRad: -0.2 },
    { kind: 'arcsMisfit', corner: 0, at, excessRad: 0.2 },
  ],
  arcWithoutTurn: { kind: 'arcWithoutTurn', corner: 0, arc: 1 },
  sideTooShort: { kind: 'sideTooShort', side: 2, at, haveMm: 100, needMm: 150, shortByMm: 50 },
  behindLeg: { kind: 'behindLeg', end: 'start', at },
  legUnsolved: { kind: 'legUnsolved', end: 'end', turnout: 'gone' },
  legsNotInLine: { kind: 'legsNotInLine', offsetMm: 3, headingRad: 0.01 },
  tooFewCorners: { kind: 'tooFewCorners', have: 1, need: 3 },
  circular: { kind: 'circular', through: ['bend', 't1'] },
  closedFromLeg: { kind: 'closedFromLeg', turnout: 't1' },
  shiftImpossible: { kind: 'shiftImpossible', corner: 0, shiftMm: 500, maxShiftMm: 90 },
}

export const stretches: EachKind<StretchProblem> = {
  nothing: { kind: 'nothing' },
  tied: { kind: 'tied', track: 'bend', turnout: 'gone' },
  alone: { kind: 'alone', table: 'turnouts', id: 'gone', on: { table: 'tracks', id: 'bend' } },
  notMovable: { kind: 'notMovable', table: 'lineClasses', id: 'main' },
}

export const eases: EachKind<FairProblem | FairPlanProblem> = {
  trackMissing: { kind: 'trackMissing', track: 'gone' },
  trackUnsolved: { kind: 'trackUnsolved', track: 'bend', problems: [] },
  lineUnsolved: { kind: 'lineUnsolved', problems: [] },
  compoundCurve: [
    { kind: 'compoundCurve', corner: 0 },
    { kind: 'compoundCurve', corner: 'c1' },
  ],
  corridorEmpty: { kind: 'corridorEmpty', marginMm: 900 },
  corridorParted: [
    { kind: 'corridorParted', parting: { at, fromMm: 100, toMm: 300, askedMm: 50, mostMm: 30 } },
    { kind: 'corridorParted', parting: { at, fromMm: 100, toMm: 300, askedMm: 50, mostMm: null } },
  ],
  noCurve: { kind: 'noCurve' },
  outside: { kind: 'outside', at, stationMm: 100, byMm: 5, label: 'benchworks' },
  notFinite: { kind: 'notFinite', where: 'chain 3' },
  solverFailed: { kind: 'solverFailed', says: 'Infeasible' },
}

export const binds: EachKind<FairBind> = {
  chain: [
    { kind: 'chain', fromMm: 0, toMm: 1, label: 'benchworks' },
    { kind: 'chain', fromMm: 0, toMm: 1, label: 'tracks:spur' },
    { kind: 'chain', fromMm: 0, toMm: 1, label: 'walls:gone' },
  ],
  side: { kind: 'side', fromMm: 0, toMm: 1 },
  held: { kind: 'held', fromMm: 0, toMm: 1 },
}

export const joins: EachKind<JoinPlanProblem> = {
  notFinite: { kind: 'notFinite', where: 'start x' },
  notPositive: { kind: 'notPositive', where: 'minimum radius', value: 0 },
  negative: { kind: 'negative', where: 'shortest curve', value: -1 },
  outsidePath: { kind: 'outsidePath', fromMm: 0, toMm: 9000, lengthMm: 4000 },
  notOpen: { kind: 'notOpen' },
  turnout: { kind: 'turnout', frog: 400, problem: turnoutProblem },
  noPlace: { kind: 'noPlace', track: 'gone' },
  noPlaceThere: {
    kind: 'noPlaceThere',
    noPlace: { track: 'gone', stationMm: 300, frog: 6, why: { kind: 'runsOff', end: 'end', overMm: 40 }, nearestMm: 260 },
  },
}

const family = 'reverse'
export const stops: { readonly [L in JoinStop['limit']]: readonly Extract<JoinStop, { limit: L }>[] } = {
  radius: [
    { limit: 'radius', family, askedMm: 600, nearestMm: 500, isBare: true },
    { limit: 'radius', family, askedMm: 600, nearestMm: 500, isBare: false },
  ],
  easement: [{ limit: 'easement', family, askedMm: 300, nearestMm: 200, factor: 0.66 }],
  tangent: [{ limit: 'tangent', family, askedMm: 300, nearestMm: 200 }],
  curve: [{ limit: 'curve', family, askedMm: 300, nearestMm: 200 }],
  place: [
    { limit: 'place', reason: 'coincident', aheadMm: 0, leftMm: 0, turnRad: 0 },
    { limit: 'place', reason: 'behind', aheadMm: -5, leftMm: 0, turnRad: 0 },
  ],
}

export const traces: EachKind<TraceProblem> = {
  notFinite: { kind: 'notFinite', index: 3 },
  toleranceNotPositive: { kind: 'toleranceNotPositive', toleranceMm: 0 },
  tooFewPoints: [
    { kind: 'tooFewPoints', have: 0, need: 3 },
    { kind: 'tooFewPoints', have: 1, need: 3 },
  ],
  tooManyPoints: { kind: 'tooManyPoints', have: 90_000, most: 5000 },
  unordered: { kind: 'unordered', index: 12 },
  notClosed: { kind: 'notClosed', corners: 2 },
}

export const operations: EachKind<TrackOperationProblem> = {
  notFinite: { kind: 'notFinite', where: 'station' },
  offTrack: { kind: 'offTrack', stationMm: 9000, lengthMm: 4000 },
  atEnd: { kind: 'atEnd', stationMm: 0 },
  inEasement: { kind: 'inEasement', stationMm: 500, beforeMm: 400, behindMm: 600 },
  inTurnout: { kind: 'inTurnout', turnout: 'gone', fromMm: 400, toMm: 600 },
  turnoutsBeyond: [
    { kind: 'turnoutsBeyond', turnouts: ['gone'] },
    { kind: 'turnoutsBeyond', turnouts: ['t1', 'gone'] },
  ],
  carriesMaker: { kind: 'carriesMaker', maker: 'gone' },
  endNotFree: { kind: 'endNotFree', track: 'spur', end: 'start' },
  notPositive: { kind: 'notPositive', where: 'distance', value: 0 },
  notALoop: { kind: 'notALoop', track: 'bend' },
  isALoop: { kind: 'isALoop', track: 'bend' },
  tooFewCorners: { kind: 'tooFewCorners', have: 2, need: 3 },
  apart: { kind: 'apart', distanceMm: 30 },
  kink: { kind: 'kink', turnRad: 0.1 },
  sameTrack: { kind: 'sameTrack', track: 'spur' },
  meetsAlready: { kind: 'meetsAlready', end: 'end', otherTrack: 'spur' },
  noMeeting: [
    { kind: 'noMeeting', end: 'end', isFree: true, otherTrack: 'spur', awayMm: 30, otherStationMm: 4 },
    { kind: 'noMeeting', end: 'end', isFree: false, otherTrack: 'spur', awayMm: 30, otherStationMm: 4 },
  ],
}

export const parallels: EachKind<ParallelProblem> = {
  notFinite: { kind: 'notFinite', where: 'offset' },
  offsets: { kind: 'offsets', offsetMm: 0, curveOffsetMm: 50 },
  stretch: { kind: 'stretch', fromMm: 9, toMm: 8, lengthMm: 4000 },
  radiusCollapses: { kind: 'radiusCollapses', corner: 0, at, radiusMm: -3 },
  wideningTooGreat: { kind: 'wideningTooGreat', corner: 0, at, mostMm: 52 },
  noArcLeft: { kind: 'noArcLeft', corner: 0, at, arc: 1, shortByMm: 4 },
  line: { kind: 'line', problem: lineProblem },
}

export const remarks: EachKind<ParallelRemark> = {
  belowMinimum: { kind: 'belowMinimum', corner: 0, at, radiusMm: 500, limitMm: 600 },
  easementOnly: { kind: 'easementOnly', corner: 0, at },
}
