import type { MakerProblem } from '../../../src/core/makers/index.ts'
import type { PlacementProblem } from '../../../src/core/network/types.ts'
import type { CrossingProblem } from '../../../src/core/turnout/crossing/types.ts'
import type { TurnoutProblem } from '../../../src/core/turnout/types.ts'
import type { SwingProblem } from '../../../src/core/vehicles/index.ts'
import { lineProblem, listOf, turnoutProblem } from './kinds.ts'
import type { EachKind } from './kinds.ts'
import { parallels } from './lineKinds.ts'

/* Examples of every kind of trouble that turnouts, crossings and makers may have. */

export const turnouts: EachKind<TurnoutProblem> = {
  frogOutOfRange: { kind: 'frogOutOfRange', frog: 2, min: 4, max: 20 },
  badValue: [
    { kind: 'badValue', where: 'gaugeMm', value: -1, least: 0, most: null, because: '' },
    { kind: 'badValue', where: 'entryAngleRad', value: 1, least: 0, most: 0.5, because: '' },
    { kind: 'badValue', where: 'ratio', value: 0, least: null, most: 10, because: 'a large scale' },
  ],
  noClosureSpread: [
    { kind: 'noClosureSpread', shortByMm: 1, mostToeMm: 40, mostSpreadMm: 2.3 },
    { kind: 'noClosureSpread', shortByMm: 1, mostToeMm: 40, mostSpreadMm: null },
    { kind: 'noClosureSpread', shortByMm: 1, mostToeMm: null, mostSpreadMm: null },
  ],
  switchAngleTooLarge: { kind: 'switchAngleTooLarge', switchAngleRad: 0.2, frogAngleRad: 0.1, minPointLengthMm: 40 },
  pointsLongerThanLead: { kind: 'pointsLongerThanLead', pointLengthMm: 90, roomMm: 60 },
  hostTooSharp: [
    { kind: 'hostTooSharp', hostRadiusMm: 300, leastRadiusMm: 420, frog: 8, frogThatDoes: 5 },
    { kind: 'hostTooSharp', hostRadiusMm: 30, leastRadiusMm: null, frog: 8, frogThatDoes: null },
  ],
  hostTooShort: { kind: 'hostTooShort', end: 'ahead', shortByMm: 20 },
  hostNotStraight: { kind: 'hostNotStraight', fromMm: -30 },
  shareOutOfRange: { kind: 'shareOutOfRange', share: 0.9, min: 0.2, max: 0.8 },
  noRoomForSecond: [
    { kind: 'noRoomForSecond', what: 'points', secondAfterMm: 10, leastMm: 30, mostMm: null },
    { kind: 'noRoomForSecond', what: 'frogs', secondAfterMm: 10, leastMm: 30, mostMm: 50 },
    { kind: 'noRoomForSecond', what: 'frogs', secondAfterMm: 10, leastMm: null, mostMm: null },
  ],
}

export const placements: EachKind<PlacementProblem> = {
  hostMissing: { kind: 'hostMissing' },
  hostUnsolved: { kind: 'hostUnsolved' },
  runsOff: { kind: 'runsOff', end: 'start', overMm: 12 },
  wyeOffEnd: { kind: 'wyeOffEnd', end: 'end', endMm: 2000, offMm: 40 },
  wyeEndTaken: { kind: 'wyeEndTaken', end: 'start' },
  geometry: { kind: 'geometry', problem: turnoutProblem },
}

export const crossings: EachKind<CrossingProblem> = {
  angleTooSmall: { kind: 'angleTooSmall', angleRad: 0.04, leastRad: 0.05 },
  trackTooShort: { kind: 'trackTooShort', track: 'first', shortByMm: 20 },
  notApart: { kind: 'notApart', overMm: 900 },
  meetAgain: { kind: 'meetAgain', atMm: 300 },
  frogsTooNear: [
    { kind: 'frogsTooNear', what: 'guard', shortByMm: 3 },
    { kind: 'frogsTooNear', what: 'rails', shortByMm: 3 },
  ],
  noSlip: [
    { kind: 'noSlip', side: 'left', why: 'heel', shortByMm: 2 },
    { kind: 'noSlip', side: 'left', why: 'elbow', shortByMm: 2 },
    { kind: 'noSlip', side: 'right', why: 'curve', shortByMm: 0 },
  ],
  slipFoulsElbow: { kind: 'slipFoulsElbow', side: 'right', spreadMm: 1, needMm: 2 },
  badValue: [
    { kind: 'badValue', where: 'gaugeMm', value: -1, least: 0, most: null, because: '' },
    { kind: 'badValue', where: 'flangewayMm', value: 9, least: null, most: 4, because: 'a quarter of the gauge' },
    { kind: 'badValue', where: 'ratio', value: 9e9, least: 1, most: 4, because: '' },
  ],
}

export const makers: EachKind<MakerProblem> = {
  hostMissing: { kind: 'hostMissing', track: 'gone' },
  hostUnsolved: { kind: 'hostUnsolved', track: 'spur' },
  classMissing: { kind: 'classMissing', lineClass: 'gone' },
  sameTrack: { kind: 'sameTrack', track: 'bend' },
  badNumber: { kind: 'badNumber', where: 'centresMm', value: -1, expected: 'more than nothing' },
  turnout: { kind: 'turnout', frog: 6, problem: turnoutProblem },
  station: [
    { kind: 'station', where: 'stationMm', track: 'spur', stationMm: 5, nearestMm: [], needMm: 300, haveMm: 200 },
    { kind: 'station', where: 'fromMm', track: 'spur', stationMm: 5, nearestMm: [90, 400], needMm: 300, haveMm: 400 },
    { kind: 'station', where: 'toMm', track: 'spur', stationMm: 900, nearestMm: [400], needMm: 0, haveMm: 400 },
  ],
  notParallel: [
    { kind: 'notParallel', track: 'bend', otherTrack: 'spur', angleRad: 0.2, mostRad: 0.165 },
    { kind: 'notParallel', track: 'bend', otherTrack: 'spur', angleRad: 0.1, mostRad: 0 },
  ],
  crossoverTooSharp: { kind: 'crossoverTooSharp', angleRad: 0.14, radiusMm: 720, leastRadiusMm: 810, mostAngleRad: 0.12 },
  centresTooSmall: { kind: 'centresTooSmall', where: 'measured', centresMm: 40, leastMm: 48 },
  beside: listOf(parallels).map((problem) => ({ kind: 'beside', track: 'bend', problem })),
  ladderTooTight: { kind: 'ladderTooTight', pitchMm: 300, leastPitchMm: 340, centresMm: 50, leastCentresMm: 56 },
  tooShort: [
    { kind: 'tooShort', what: 'siding', haveMm: 300, needMm: 900 },
    { kind: 'tooShort', what: 'siding', haveMm: -300, needMm: 900 },
    { kind: 'tooShort', what: 'turnback', haveMm: 300, needMm: 900 },
  ],
  baseTooShort: [
    { kind: 'baseTooShort', haveMm: 300, needMm: 900, mostRadiusMm: null },
    { kind: 'baseTooShort', haveMm: 300, needMm: 900, mostRadiusMm: 400 },
  ],
  endNotFree: { kind: 'endNotFree', track: 'spur', end: 'start' },
  endsApart: { kind: 'endsApart', angleRad: 0.4 },
  noLoop: { kind: 'noLoop', radiusMm: 500 },
  acrossTooSmall: { kind: 'acrossTooSmall', acrossMm: 300, leastMm: 1700 },
  riseTooLow: { kind: 'riseTooLow', riseMm: 15, leastMm: 99 },
  climbTooLow: { kind: 'climbTooLow', climbMm: 40, leastMm: 99 },
  tooManyTurns: { kind: 'tooManyTurns', turns: 41.2, mostTurns: 30, mostClimbMm: 3000 },
  easementsTooLong: { kind: 'easementsTooLong', radiusMm: 500, shortByMm: 30 },
  line: { kind: 'line', part: 'tail', problem: lineProblem },
  place: { kind: 'place', part: '', problem: { kind: 'hostMissing' } },
}

export const swings: EachKind<SwingProblem> = {
  notFinite: { kind: 'notFinite', where: 'swing' },
  notPositive: { kind: 'notPositive', where: 'radiusMm', value: 0 },
  negative: { kind: 'negative', where: 'clearanceMm', value: -1 },
  pivotsBeyondBody: { kind: 'pivotsBeyondBody', truckCentresMm: 150, bodyLengthMm: 120 },
  radiusTooSmall: { kind: 'radiusTooSmall', radiusMm: 30, leastMm: 60 },
}
