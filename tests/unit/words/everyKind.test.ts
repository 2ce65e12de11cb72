import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type {
  ChainProblem,
  FairBind,
  FairProblem,
  JoinStop,
  ParallelProblem,
  ParallelRemark,
  TraceProblem,
  TrackOperationProblem,
} from '../../../src/core/alignment/index.ts'
import type { AlignmentProblem } from '../../../src/core/alignment/types.ts'
import type { Cure, Finding, OutlineProblem, RuleName } from '../../../src/core/checks/types.ts'
import type { CentreReach, SetoutNote, SetoutProblem } from '../../../src/core/deliver/index.ts'
import type { EditProblem } from '../../../src/core/edit/types.ts'
import type { GalleryProblem } from '../../../src/core/gallery/index.ts'
import type { JigLimit, JigProblem } from '../../../src/core/jigs/index.ts'
import type { MakerProblem } from '../../../src/core/makers/index.ts'
import type { PlacementProblem } from '../../../src/core/network/types.ts'
import type { FairPlanProblem, JoinPlanProblem } from '../../../src/core/pipeline/index.ts'
import type { PlanNote, ReferenceProblem } from '../../../src/core/plan/index.ts'
import type { Misclosure, ShelfProblem, TraverseProblem } from '../../../src/core/room/index.ts'
import type { StretchProblem } from '../../../src/core/stretch/index.ts'
import type { CrossingProblem } from '../../../src/core/turnout/crossing/types.ts'
import type { TurnoutProblem } from '../../../src/core/turnout/types.ts'
import type { EntryProblem } from '../../../src/core/units/index.ts'
import type { SwingProblem } from '../../../src/core/vehicles/index.ts'
import type { DrawingProblem } from '../../../src/formats/outline/types.ts'
import type { LineFileProblem } from '../../../src/formats/line/types.ts'
import type { PlanFileProblem } from '../../../src/formats/planjson.ts'
import { cutProblemText } from '../../../src/words/cutText.ts'
import { bindText, easeProblemText } from '../../../src/words/easeText.ts'
import { chainProblemText, drawingProblemText, lineFileProblemText } from '../../../src/words/exchangeText.ts'
import { entryProblemText } from '../../../src/words/entryText.ts'
import { planFileProblemText, planNoteText } from '../../../src/words/fileText.ts'
import { findingPlace, findingText } from '../../../src/words/findingText.ts'
import { jigProblemText } from '../../../src/words/jigText.ts'
import { joinProblemText, joinStopText } from '../../../src/words/joinText.ts'
import { galleryProblemText } from '../../../src/words/galleryText.ts'
import { makerProblemText } from '../../../src/words/makerText.ts'
import type { MeasurePrefs } from '../../../src/words/measure.ts'
import { operationProblemText } from '../../../src/words/operationText.ts'
import { parallelProblemText, parallelRemarkText } from '../../../src/words/parallelText.ts'
import {
  alignmentProblemText,
  crossingProblemText,
  editProblemText,
  placementProblemText,
  turnoutProblemText,
} from '../../../src/words/problemText.ts'
import { railProblemText } from '../../../src/words/railText.ts'
import { roadbedCutProblemText, roadbedProblemText } from '../../../src/words/roadbedText.ts'
import { centreReachText, setoutNoteText, setoutProblemText } from '../../../src/words/setoutText.ts'
import { shelfProblemText, traverseProblemText } from '../../../src/words/roomText.ts'
import { stretchProblemText } from '../../../src/words/stretchText.ts'
import { swingProblemText } from '../../../src/words/swingText.ts'
import { tieProblemText } from '../../../src/words/tieText.ts'
import { traceProblemText } from '../../../src/words/traceText.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'
import { cutProblems, railProblems, roadbedCutProblems, roadbedProblems, tieProblems } from './layingKinds.ts'

/** One example or more of each kind: a kind without words does not compile in the words, one without an example not here. */
type EachKind<P extends { readonly kind: string }> = {
  readonly [K in P['kind']]: ExampleOf<P, K> | readonly ExampleOf<P, K>[]
}
type ExampleOf<P extends { readonly kind: string }, K> = P extends { readonly kind: infer Own } ? (K extends Own ? P : never) : never

const listOf = <P extends { readonly kind: string }>(each: EachKind<P>): readonly P[] =>
  Object.values<P | readonly P[]>(each).flat() as readonly P[]

const plan = planWith({
  tracks: [aTrack({ id: 'bend', name: 'Bend', corners: [aCorner({ id: 'c1' }), aCorner({ id: 'c2' })] }), aTrack({ id: 'spur', name: '' })],
  turnouts: [aTurnout({ id: 't1', name: 'Icehouse', track: 'bend' })],
})
const track = plan.tracks['bend']
const at = { x: 0, y: 0 }
const rule = { units: 'imperial', perInch: 64 } as const
const measures: readonly MeasurePrefs[] = (['imperial', 'metric', 'both'] as const).map((units) => ({ units, fraction: 64 }))

const alignments: EachKind<AlignmentProblem> = {
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
const lineProblem: AlignmentProblem = { kind: 'noCurvature', corner: 0 }

const turnouts: EachKind<TurnoutProblem> = {
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
const turnoutProblem: TurnoutProblem = { kind: 'noClosureSpread', shortByMm: 1, mostToeMm: 40, mostSpreadMm: 2.3 }

const placements: EachKind<PlacementProblem> = {
  hostMissing: { kind: 'hostMissing' },
  hostUnsolved: { kind: 'hostUnsolved' },
  runsOff: { kind: 'runsOff', end: 'start', overMm: 12 },
  wyeOffEnd: { kind: 'wyeOffEnd', end: 'end', endMm: 2000, offMm: 40 },
  wyeEndTaken: { kind: 'wyeEndTaken', end: 'start' },
  geometry: { kind: 'geometry', problem: turnoutProblem },
}

const crossings: EachKind<CrossingProblem> = {
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
const crossingProblem: CrossingProblem = { kind: 'meetAgain', atMm: 300 }

const outlines: EachKind<OutlineProblem> = {
  outlineTooFewPoints: { kind: 'outlineTooFewPoints', ring: -1, have: 2, need: 3 },
  outlineNoArea: { kind: 'outlineNoArea', ring: 0 },
  outlineCrosses: { kind: 'outlineCrosses', ring: -1, edgeA: 0, edgeB: 2 },
  holeOutside: { kind: 'holeOutside', ring: 0 },
}

const edits: EachKind<EditProblem> = {
  notFound: { kind: 'notFound', table: 'tracks', id: 'gone' },
  idTaken: { kind: 'idTaken', table: 'tracks', id: 'bend' },
  badValue: { kind: 'badValue', where: 'x', value: Number.NaN, expected: 'a number' },
  inUse: { kind: 'inUse', table: 'tracks', id: 'spur', by: 'Bend' },
  madeBy: { kind: 'madeBy', table: 'tracks', id: 'bend', maker: 'gone' },
  locked: { kind: 'locked', table: 'tracks', id: 'bend' },
}

const misclosure: Misclosure = { angleRad: 0.1, dxMm: 300, dyMm: 400, distanceMm: 500, perimeterMm: 4000 }
const traverses: EachKind<TraverseProblem> = {
  fewSides: { kind: 'fewSides', have: 2 },
  badLength: { kind: 'badLength', side: 0, lengthMm: 0 },
  badAngle: { kind: 'badAngle', side: 1, angleRad: 7 },
  badDiagonal: { kind: 'badDiagonal', side: 1, lengthMm: 9000, aboveMm: 1000, belowMm: 5000 },
  anglesMissing: { kind: 'anglesMissing', sides: [0, 2] },
  tooFarOff: { kind: 'tooFarOff', misclosure },
}
const shelves: EachKind<ShelfProblem> = {
  badDepth: { kind: 'badDepth', depthMm: 0 },
  noSides: { kind: 'noSides' },
  tooDeep: { kind: 'tooDeep', side: 0, takenMm: 1300, lengthMm: 1200, mostMm: 600 },
  cornerTooLarge: { kind: 'cornerTooLarge', side: 1, mostMm: 300 },
  badCorner: { kind: 'badCorner', sizeMm: 0 },
}

const stretches: EachKind<StretchProblem> = {
  nothing: { kind: 'nothing' },
  tied: { kind: 'tied', track: 'bend', turnout: 'gone' },
  alone: { kind: 'alone', table: 'turnouts', id: 'gone', on: { table: 'tracks', id: 'bend' } },
  notMovable: { kind: 'notMovable', table: 'lineClasses', id: 'main' },
}

const references: EachKind<ReferenceProblem> = {
  idMismatch: { kind: 'idMismatch', where: 'tracks.a.id', id: 'b', expected: 'a' },
  missingRecord: { kind: 'missingRecord', where: 'tracks.a.lineClass', table: 'lineClasses', id: 'express' },
  cornerTwice: { kind: 'cornerTwice', where: 'tracks.a.corners.1.id', id: 'c1' },
  legTaken: { kind: 'legTaken', where: 'tracks.b.start', turnout: 't1', by: 'a' },
  loopStart: { kind: 'loopStart', where: 'tracks.a.start' },
  madeTwice: { kind: 'madeTwice', where: 'makers.m2.made', table: 'tracks', id: 'a', by: 'm1' },
  makerOnOwn: { kind: 'makerOnOwn', where: 'makers.m1.numbers', id: 'a' },
}

const files: EachKind<PlanFileProblem> = {
  tooLarge: { kind: 'tooLarge', size: 5e8, limit: 32 * 1024 * 1024 },
  empty: { kind: 'empty' },
  truncated: { kind: 'truncated', offset: 4, line: 1, column: 5, found: null, expected: 'a value' },
  damaged: { kind: 'damaged', offset: 4, line: 1, column: 5, found: ',', expected: 'a value' },
  unreadable: { kind: 'unreadable', reason: 'The file went away.' },
  notAPlan: [
    { kind: 'notAPlan', found: undefined },
    { kind: 'notAPlan', found: { some: 'thing that is long enough to be cut off somewhere' } },
  ],
  newerVersion: { kind: 'newerVersion', version: 9, newest: 2 },
  tooDeep: { kind: 'tooDeep', where: 'tracks.a', limit: 64 },
  badValue: [
    { kind: 'badValue', where: '', value: undefined, expected: 'a plan' },
    { kind: 'badValue', where: 'tracks.a.corners.0.x', value: 'east', expected: 'a number' },
  ],
  broken: listOf(references).map((reference) => ({ kind: 'broken', reference })),
}

const notes: EachKind<PlanNote> = {
  migrated: { kind: 'migrated', from: 1, to: 2 },
  unknownKeys: { kind: 'unknownKeys', where: ['a', 'b', 'c', 'd'] },
}

const eases: EachKind<FairProblem | FairPlanProblem> = {
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

const binds: EachKind<FairBind> = {
  chain: [
    { kind: 'chain', fromMm: 0, toMm: 1, label: 'benchworks' },
    { kind: 'chain', fromMm: 0, toMm: 1, label: 'tracks:spur' },
    { kind: 'chain', fromMm: 0, toMm: 1, label: 'walls:gone' },
  ],
  side: { kind: 'side', fromMm: 0, toMm: 1 },
  held: { kind: 'held', fromMm: 0, toMm: 1 },
}

const joins: EachKind<JoinPlanProblem> = {
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
const stops: { readonly [L in JoinStop['limit']]: readonly Extract<JoinStop, { limit: L }>[] } = {
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

const traces: EachKind<TraceProblem> = {
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

const operations: EachKind<TrackOperationProblem> = {
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

const parallels: EachKind<ParallelProblem> = {
  notFinite: { kind: 'notFinite', where: 'offset' },
  offsets: { kind: 'offsets', offsetMm: 0, curveOffsetMm: 50 },
  stretch: { kind: 'stretch', fromMm: 9, toMm: 8, lengthMm: 4000 },
  radiusCollapses: { kind: 'radiusCollapses', corner: 0, at, radiusMm: -3 },
  wideningTooGreat: { kind: 'wideningTooGreat', corner: 0, at, mostMm: 52 },
  noArcLeft: { kind: 'noArcLeft', corner: 0, at, arc: 1, shortByMm: 4 },
  line: { kind: 'line', problem: lineProblem },
}

const remarks: EachKind<ParallelRemark> = {
  belowMinimum: { kind: 'belowMinimum', corner: 0, at, radiusMm: 500, limitMm: 600 },
  easementOnly: { kind: 'easementOnly', corner: 0, at },
}

const makers: EachKind<MakerProblem> = {
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

const setouts: EachKind<SetoutProblem> = {
  notFinite: { kind: 'notFinite', where: 'step' },
  stretchOutside: { kind: 'stretchOutside', atMm: 9000, lengthMm: 4000 },
  stretchEmpty: { kind: 'stretchEmpty', fromMm: 9, toMm: 8 },
  notPositive: { kind: 'notPositive', what: 'step', value: 0 },
  tooManyRows: { kind: 'tooManyRows', rows: 1e6, most: 1000 },
  noCorner: { kind: 'noCorner' },
  noCurve: { kind: 'noCurve' },
  noArc: { kind: 'noArc' },
  noEasement: { kind: 'noEasement' },
  chordWithoutLength: { kind: 'chordWithoutLength' },
  chordFolds: { kind: 'chordFolds', stationMm: 40 },
  noEdges: { kind: 'noEdges' },
  edgeMissing: { kind: 'edgeMissing' },
  edgeNotFacing: [
    { kind: 'edgeNotFacing', name: null },
    { kind: 'edgeNotFacing', name: 'Table, side 1' },
  ],
  stepTooLong: { kind: 'stepTooLong', stepMm: 900, stationMm: 10 },
  sightTooFlat: { kind: 'sightTooFlat', stationMm: 40 },
  tooFewFixedPoints: { kind: 'tooFewFixedPoints', have: 1 },
  noCrossing: { kind: 'noCrossing' },
  stickLongerThanLine: { kind: 'stickLongerThanLine', chordMm: 900, lengthMm: 300 },
  stickRunsOff: { kind: 'stickRunsOff', chordMm: 300 },
  stickTooLong: { kind: 'stickTooLong', chordMm: 900, mostMm: 500, radiusMm: 300 },
}

const setoutNotes: EachKind<SetoutNote> = {
  sightBlocked: { kind: 'sightBlocked', stationMm: 4, by: 'Chimney', rows: 1 },
  shortTangent: { kind: 'shortTangent', stationMm: 4, haveMm: 100, wantMm: 150 },
  shortArc: { kind: 'shortArc', stationMm: 4, haveMm: 100, wantMm: 150 },
  noCrossing: { kind: 'noCrossing', stationMm: 4, rows: 3 },
  noPins: { kind: 'noPins', stationMm: 4 },
  stickRunsOff: { kind: 'stickRunsOff', rows: 2 },
}

const reaches: EachKind<CentreReach> = {
  benchwork: { kind: 'benchwork', name: 'Table' },
  floor: { kind: 'floor' },
  obstacle: { kind: 'obstacle', name: 'Chimney' },
  wall: { kind: 'wall', name: 'North wall' },
  outside: { kind: 'outside', name: 'North wall' },
}

const swings: EachKind<SwingProblem> = {
  notFinite: { kind: 'notFinite', where: 'swing' },
  notPositive: { kind: 'notPositive', where: 'radiusMm', value: 0 },
  negative: { kind: 'negative', where: 'clearanceMm', value: -1 },
  pivotsBeyondBody: { kind: 'pivotsBeyondBody', truckCentresMm: 150, bodyLengthMm: 120 },
  radiusTooSmall: { kind: 'radiusTooSmall', radiusMm: 30, leastMm: 60 },
}

const entries: { readonly [K in EntryProblem['kind']]: EntryProblem } = {
  empty: { kind: 'empty', text: '', at: 0, expected: '40 in' },
  noNumber: { kind: 'noNumber', text: 'abc', at: 0, expected: '40 in' },
  unexpected: { kind: 'unexpected', text: '/', at: 2, expected: '40 in' },
  powerOfTen: { kind: 'powerOfTen', text: '1e3', at: 0, expected: '1000' },
  unknownUnit: { kind: 'unknownUnit', text: 'ells', at: 2, expected: '40 in' },
  unitMissing: { kind: 'unitMissing', text: '40', at: 0, expected: '40 in' },
  unitOrder: { kind: 'unitOrder', text: 'ft', at: 5, expected: '40 in' },
  zeroDenominator: { kind: 'zeroDenominator', text: '0', at: 2, expected: '40 in' },
  ambiguousComma: { kind: 'ambiguousComma', text: '1,028', at: 0, expected: '1028 or 1.028' },
  inchesBeyond: { kind: 'inchesBeyond', text: '14', at: 2, expected: '3′ 4 1/2″' },
  outOfRange: { kind: 'outOfRange', text: '75', at: 3, expected: 'less than 60 here' },
  tooLarge: { kind: 'tooLarge', text: '99999999 mm', at: 0, expected: '40 in' },
}

const plainFinding: Finding = {
  id: 'x',
  rule: 'minimum-radius',
  severity: 'error',
  stage: 'line',
  table: 'tracks',
  record: 'bend',
  otherRecord: null,
  corner: 'c1',
  stationFromMm: 0,
  stationToMm: 10,
  x: 0,
  y: 0,
  measured: 300,
  limit: 600,
  unit: 'mm',
  source: 'class:main',
  problem: null,
  cure: null,
}
const rules: { readonly [R in RuleName]: Partial<Finding> } = {
  'minimum-radius': {},
  'car-radius': { source: 'car:car-50ft-box', problem: { kind: 'carLengths', lengths: 3, lengthMm: 200 } },
  'coupling-radius': { source: 'car:car-50ft-box', limit: 1000, problem: { kind: 'carLengths', lengths: 5, lengthMm: 200 } },
  'coupler-swing': {
    measured: 0.4,
    limit: 0.35,
    unit: 'rad',
    source: 'car:car-50ft-box',
    problem: { kind: 'couplersSwing', other: 'gone', lateralMm: 8 },
  },
  'reverse-curve': { problem: { kind: 'curvesInARow', hands: [1, -1], straightMm: 40, easementsMm: [0, 0], turnout: null } },
  'broken-back': { problem: { kind: 'curvesInARow', hands: [1, 1], straightMm: 40, easementsMm: [0, 0], turnout: null } },
  alignment: { problem: lineProblem, measured: null, limit: null },
  'easement-fit': { problem: { kind: 'easementsTooLong', corner: 0, at, excessRad: 0.1, shortByMm: 10, fittingFactor: 0.9 } },
  'benchwork-edge': { measured: -4 },
  'roadbed-edge': { measured: 12, limit: 22, source: 'class:main' },
  'roadbed-overlap': { otherRecord: 'spur', measured: -3, limit: 0, problem: { kind: 'roadbedsMeet', isOneSheet: true } },
  'track-clearance': { otherRecord: 'spur', measured: -2, limit: 6.4, source: 'railway' },
  'fixed-clearance': { otherRecord: 'gone', measured: 3, limit: 6.4, source: 'railway', problem: { kind: 'nearFixed', table: 'walls' } },
  'check-dimensions': {
    table: 'turnouts',
    record: 't1',
    corner: null,
    measured: 14.9,
    limit: 15.4,
    source: 'NMRA-S-3.2-2010',
    problem: { kind: 'checkDimension', dimension: 'check-gauge', route: 'straight', gaugeMm: null },
  },
  'easement-short': { measured: 0, limit: 250 },
  'short-curve': { measured: 60, limit: 100 },
  'minimum-frog': { table: 'turnouts', record: 't1', corner: null, measured: 4, limit: 6, unit: 'number' },
  'crossing-build': {
    table: 'crossings',
    record: 'bend:spur:1',
    corner: null,
    problem: { kind: 'crossingUnbuilt', problem: crossingProblem },
  },
  'throw-room': {
    table: 'turnouts',
    record: 't1',
    corner: null,
    measured: null,
    limit: null,
    problem: { kind: 'joistUnderThrow', joist: 'gone' },
  },
  'turnout-place': { table: 'turnouts', record: 't1', corner: null, problem: { kind: 'hostMissing' } },
  'helix-height': { table: 'makers', record: 'm1', corner: null, measured: 58, limit: 77, source: 'NMRA-S-7' },
  'maker-follow': {
    table: 'makers',
    record: 'm1',
    corner: null,
    problem: { kind: 'makerStays', problem: { kind: 'noLoop', radiusMm: 500 } },
  },
  'line-joint': {
    otherRecord: 'spur',
    measured: 0.056,
    limit: 0.01,
    unit: 'rad',
    problem: { kind: 'jointOff', gapMm: 0, kinkRad: -0.056 },
  },
  'rail-joint': {
    table: 'railJoints',
    record: 'gone',
    corner: null,
    measured: 40,
    limit: 152.4,
    source: 'railway',
    problem: { kind: 'jointNear', what: ['curveEnd'] },
  },
  reach: { corner: null, measured: 800, limit: 762, source: 'railway' },
  aisle: { table: 'benchworks', record: 'gone', corner: null, measured: 500, limit: 610, problem: { kind: 'aislePinch', across: null } },
  'door-swing': {
    table: 'openings',
    record: 'gone',
    corner: null,
    measured: 1,
    limit: 1.5,
    unit: 'rad',
    problem: { kind: 'doorMeets', by: { table: 'benchworks', record: 'gone' } },
  },
  'hatch-size': { table: 'hatches', record: 'gone', corner: null, measured: 400, limit: 508, source: 'railway' },
  'hatch-place': { table: 'hatches', record: 'gone', corner: null, problem: { kind: 'hatchOffBench' } },
  'bench-overlap': {
    table: 'benchworks',
    record: 'gone',
    corner: null,
    measured: 30,
    limit: 0,
    problem: { kind: 'benchRunsInto', by: { table: 'walls', record: 'gone' } },
  },
  'benchwork-outline': { table: 'benchworks', record: 'gone', corner: null, problem: { kind: 'outlineNoArea', ring: -1 } },
}
const findingProblems: EachKind<NonNullable<Finding['problem']>> = {
  ...alignments,
  ...placements,
  ...outlines,
  turnoutsOverlap: { kind: 'turnoutsOverlap', overlapMm: 40 },
  turnoutOverCrossing: { kind: 'turnoutOverCrossing', crossing: 'bend:spur:1', overlapMm: 40 },
  easementEndUnder: [
    { kind: 'easementEndUnder', what: 'easement', stationMm: 400 },
    { kind: 'easementEndUnder', what: 'curve', stationMm: 400 },
    { kind: 'easementEndUnder', what: 'join', stationMm: 400 },
  ],
  turnoutTiesMeet: [
    { kind: 'turnoutTiesMeet', ties: 1 },
    { kind: 'turnoutTiesMeet', ties: 3 },
  ],
  nearFixed: [
    { kind: 'nearFixed', table: 'walls' },
    { kind: 'nearFixed', table: 'portals' },
  ],
  overEdge: { kind: 'overEdge' },
  roadbedsMeet: [
    { kind: 'roadbedsMeet', isOneSheet: true },
    { kind: 'roadbedsMeet', isOneSheet: false },
  ],
  jointNear: { kind: 'jointNear', what: ['frog', 'gap'] },
  jointsAcross: { kind: 'jointsAcross' },
  jointOff: { kind: 'jointOff', gapMm: 3, kinkRad: 0.056 },
  joistUnderThrow: { kind: 'joistUnderThrow', joist: 'gone' },
  tiesOverEdge: [
    { kind: 'tiesOverEdge', ties: 1 },
    { kind: 'tiesOverEdge', ties: 3 },
  ],
  crossingUnbuilt: { kind: 'crossingUnbuilt', problem: crossingProblem },
  elbowUnguarded: { kind: 'elbowUnguarded', number: 8 },
  crossingsOverlap: { kind: 'crossingsOverlap', overlapMm: 4 },
  checkDimension: [
    { kind: 'checkDimension', dimension: 'check-gauge', route: 'curved', gaugeMm: null },
    { kind: 'checkDimension', dimension: 'open-point', route: 'slip-left', gaugeMm: null },
    { kind: 'checkDimension', dimension: 'check-gauge', route: 'other', gaugeMm: 6.6 },
  ],
  carLengths: { kind: 'carLengths', lengths: 3, lengthMm: 200 },
  couplersSwing: { kind: 'couplersSwing', other: 'gone', lateralMm: 8 },
  curvesInARow: [
    { kind: 'curvesInARow', hands: [1, -1], straightMm: 40, easementsMm: [0, 0], turnout: null },
    { kind: 'curvesInARow', hands: [1, -1], straightMm: 0, easementsMm: [100, 0], turnout: 't1' },
    { kind: 'curvesInARow', hands: [1, 1], straightMm: 0, easementsMm: [100, 90], turnout: null },
  ],
  levelCrossing: { kind: 'levelCrossing', angleRad: 0.4 },
  lowOverpass: { kind: 'lowOverpass' },
  aislePinch: [
    { kind: 'aislePinch', across: null },
    { kind: 'aislePinch', across: { table: 'walls', record: 'gone' } },
  ],
  floorCutOff: { kind: 'floorCutOff' },
  doorMeets: { kind: 'doorMeets', by: { table: 'obstacles', record: 'gone' } },
  hatchOffBench: { kind: 'hatchOffBench' },
  hatchUnderTrack: { kind: 'hatchUnderTrack', by: { table: 'tracks', record: 'spur' } },
  benchRunsInto: { kind: 'benchRunsInto', by: { table: 'obstacles', record: 'gone' } },
  makerStays: listOf(makers).map((problem) => ({ kind: 'makerStays', problem })),
}
const cures: EachKind<Cure> = {
  setRadius: { kind: 'setRadius', track: 'bend', corner: 'c1', radiusMm: 700 },
  scaleEasements: [
    { kind: 'scaleEasements', track: 'bend', corner: 'c1', easementInMm: 70, easementOutMm: 70 },
    { kind: 'scaleEasements', track: 'bend', corner: 'c1', easementInMm: 70, easementOutMm: 80 },
  ],
  easementsMeet: { kind: 'easementsMeet', track: 'bend', corner: 'c1' },
  setFrog: { kind: 'setFrog', turnout: 't1', frog: 8 },
  moveTurnout: { kind: 'moveTurnout', turnout: 't1', stationMm: 400 },
  hangDoor: [
    { kind: 'hangDoor', opening: 'door', was: { hinge: 'from', side: 'left' }, leaf: { hinge: 'to', side: 'left' } },
    { kind: 'hangDoor', opening: 'door', was: { hinge: 'from', side: 'left' }, leaf: { hinge: 'from', side: 'right' } },
    { kind: 'hangDoor', opening: 'door', was: { hinge: 'from', side: 'left' }, leaf: { hinge: 'to', side: 'right' } },
  ],
  growHatch: { kind: 'growHatch', hatch: 'hatch', times: 1.27, outline: [] },
  setNumbers: {
    kind: 'setNumbers',
    maker: 'm1',
    numbers: { kind: 'turnback', track: 'bend', end: 'end', otherTrack: 'spur', otherEnd: 'start' },
    name: 'stationMm',
    lengthMm: 400,
  },
}

const lineFiles: EachKind<LineFileProblem> = {
  foreign: { kind: 'foreign', expected: 'LandXML' },
  damaged: { kind: 'damaged', line: 3, column: 9, says: 'unclosed tag: Line' },
  noLines: { kind: 'noLines' },
  unit: { kind: 'unit', says: null },
  badElement: { kind: 'badElement', line: 'Quay', element: 2, what: 'Center' },
  otherSpiral: { kind: 'otherSpiral', line: 'Quay', element: 2, type: 'bloss' },
}
const jigLimits: { readonly [L in JigLimit]: true } = {
  size: true,
  wall: true,
  middle: true,
  turn: true,
  height: true,
  edge: true,
  easement: true,
  chord: true,
  angle: true,
}
const jigs: EachKind<JigProblem> = {
  badValue: [
    ...Object.keys(jigLimits).map((because, i): JigProblem & { kind: 'badValue' } => ({
      kind: 'badValue',
      where: 'radiusMm',
      value: 1,
      least: 3,
      most: i % 2 === 0 ? null : 9,
      because: because as JigLimit,
    })),
    { kind: 'badValue', where: 'pointAngleRad', value: 1, least: 0.01, most: 0.5, because: 'angle' },
    { kind: 'badValue', where: 'frog', value: NaN, least: 2, most: 30, because: 'angle' },
  ],
  bedTooSmall: { kind: 'bedTooSmall', bedXMm: 100, bedYMm: 100, needXMm: 150, needYMm: 40 },
}
const drawings: EachKind<DrawingProblem> = {
  notDrawing: (['DXF', 'SVG', 'points'] as const).map((expected) => ({
    kind: 'notDrawing',
    expected,
    says: 'it does not begin with a section',
  })),
  noOutlines: (['DXF', 'SVG', 'points'] as const).map((expected) => ({ kind: 'noOutlines', expected })),
  mixedUnits: { kind: 'mixedUnits' },
}
const chains: EachKind<ChainProblem> = {
  empty: { kind: 'empty' },
  notFinite: { kind: 'notFinite', element: 0 },
  broken: { kind: 'broken', element: 1, gapMm: 3, turnRad: 0.2 },
  spiralWithoutArc: { kind: 'spiralWithoutArc', element: 1 },
}

/** A sentence: begins large, ends with a stop, and has nothing of the machine in it: no key, no code, no half-made value. */
function isSentence(text: string): void {
  expect(text).toMatch(/^[A-Z“‘\d].*[.”]$/s)
  expect(text).not.toMatch(/undefined|NaN|null|\[object|[{}!]|\b[a-z]+(?:Mm|Rad)\b/)
  expect(text).not.toMatch(/ {2}|\.\./)
}

/** Everything that src/core and src/formats can answer in place of a result, by the name of its union. */
const told: { readonly [union: string]: readonly (readonly [kind: string, text: (prefs: MeasurePrefs) => string])[] } = {
  AlignmentProblem: listOf<AlignmentProblem>(alignments).map((p) => [p.kind, (prefs) => alignmentProblemText(p, track, plan, prefs)]),
  TurnoutProblem: listOf<TurnoutProblem>(turnouts).map((p) => [p.kind, (prefs) => turnoutProblemText(p, prefs)]),
  PlacementProblem: listOf<PlacementProblem>(placements).map((p) => [p.kind, (prefs) => placementProblemText(p, prefs)]),
  CrossingProblem: listOf<CrossingProblem>(crossings).map((p) => [p.kind, (prefs) => crossingProblemText(p, prefs)]),
  EditProblem: listOf<EditProblem>(edits).map((p) => [p.kind, () => editProblemText(p, plan)]),
  TraverseProblem: listOf<TraverseProblem>(traverses).map((p) => [p.kind, (prefs) => traverseProblemText(p, prefs)]),
  ShelfProblem: listOf<ShelfProblem>(shelves).map((p) => [p.kind, (prefs) => shelfProblemText(p, prefs)]),
  StretchProblem: listOf<StretchProblem>(stretches).map((p) => [p.kind, () => stretchProblemText(p, plan)]),
  PlanFileProblem: listOf<PlanFileProblem>(files).map((p) => [p.kind, () => planFileProblemText(p)]),
  PlanNote: listOf<PlanNote>(notes).map((p) => [p.kind, () => planNoteText(p)]),
  FairProblem: listOf<FairProblem | FairPlanProblem>(eases).map((p) => [p.kind, (prefs) => easeProblemText(p, plan, prefs)]),
  JoinProblem: listOf<JoinPlanProblem>(joins).map((p) => [p.kind, (prefs) => joinProblemText(p, plan, prefs)]),
  JoinStop: Object.values<readonly JoinStop[]>(stops).flatMap((list) =>
    list.map((p) => [p.limit, (prefs: MeasurePrefs) => joinStopText(p, prefs)] as const),
  ),
  TraceProblem: listOf<TraceProblem>(traces).map((p) => [p.kind, (prefs) => traceProblemText(p, prefs)]),
  TrackOperationProblem: listOf<TrackOperationProblem>(operations).map((p) => [p.kind, (prefs) => operationProblemText(p, plan, prefs)]),
  ParallelProblem: listOf<ParallelProblem>(parallels).map((p) => [p.kind, (prefs) => parallelProblemText(p, prefs)]),
  ParallelRemark: listOf<ParallelRemark>(remarks).map((p) => [p.kind, (prefs) => parallelRemarkText(p, prefs)]),
  MakerProblem: listOf<MakerProblem>(makers).map((p) => [p.kind, (prefs) => makerProblemText(p, plan, prefs)]),
  GalleryProblem: [
    ...listOf<TurnoutProblem>(turnouts).map((problem): GalleryProblem => ({ kind: 'turnout', problem })),
    ...listOf<CrossingProblem>(crossings).map((problem): GalleryProblem => ({ kind: 'crossing', problem })),
    ...listOf<MakerProblem>(makers).map((problem): GalleryProblem => ({ kind: 'maker', problem })),
  ].map((p) => [`${p.kind} ${p.problem.kind}`, (prefs) => galleryProblemText(p, plan, prefs)]),
  SetoutProblem: listOf<SetoutProblem>(setouts).map((p) => [p.kind, () => setoutProblemText(p, rule)]),
  SetoutNote: listOf<SetoutNote>(setoutNotes).map((p) => [p.kind, () => setoutNoteText(p, rule)]),
  CentreReach: listOf<CentreReach>(reaches).flatMap((p) => [
    [p.kind, () => centreReachText(p, null)],
    [p.kind, () => centreReachText(p, 'Chimney')],
  ]),
  LineFileProblem: listOf<LineFileProblem>(lineFiles).map((p) => [p.kind, () => lineFileProblemText(p)]),
  JigProblem: listOf<JigProblem>(jigs).map((p) => [p.kind, (prefs) => jigProblemText(p, prefs)]),
  DrawingProblem: listOf<DrawingProblem>(drawings).map((p) => [p.kind, () => drawingProblemText(p)]),
  ChainProblem: listOf<ChainProblem>(chains).map((p) => [p.kind, (prefs) => chainProblemText(p, prefs)]),
  RailProblem: railProblems.map((p) => [p.kind, (prefs) => railProblemText(p, (id) => plan.tracks[id]?.name ?? id, prefs)]),
  RoadbedProblem: roadbedProblems.map((p) => [p.kind, (prefs) => roadbedProblemText(p, plan, prefs)]),
  RoadbedCutProblem: roadbedCutProblems.map((p) => [
    p.kind,
    (prefs) => roadbedCutProblemText(p, plan, prefs, (lengths) => cutProblemText(lengths, prefs)),
  ]),
  TieProblem: tieProblems.map((p) => [p.kind, (prefs) => tieProblemText(p, plan, prefs)]),
  CutProblem: cutProblems.map((p) => [p.kind, (prefs) => cutProblemText(p, prefs)]),
  SwingProblem: listOf<SwingProblem>(swings).map((p) => [p.kind, (prefs) => swingProblemText(p, prefs)]),
  EntryProblem: Object.values(entries).map((p) => [p.kind, () => entryProblemText(p)]),
  Finding: [
    ...Object.entries(rules).map(([name, change]) => ({ ...plainFinding, ...change, rule: name as RuleName })),
    ...listOf<NonNullable<Finding['problem']>>(findingProblems).map((problem) => ({ ...plainFinding, problem })),
    { ...plainFinding, measured: null, limit: null },
  ].map((finding) => [`${finding.rule} ${finding.problem?.kind ?? ''}`, (prefs) => findingText(finding, plan, prefs).body]),
}

/** Unions that are told as a part of another one. */
const within: Readonly<Record<string, string>> = {
  PlanProblem: 'PlanFileProblem',
  ReferenceProblem: 'PlanFileProblem',
  FairPlanProblem: 'FairProblem',
  JoinPlanProblem: 'JoinProblem',
  OutlineProblem: 'Finding',
  // Never leaves the turnout stage.
  LinesProblem: 'TurnoutProblem',
}

describe('every kind of trouble has a sentence', () => {
  for (const [union, list] of Object.entries(told)) {
    describe(union, () => {
      it.each(list)('%s', (_, text) => measures.forEach((prefs) => isSentence(text(prefs))))
    })
  }

  it('no union of problems is forgotten here', () => {
    const root = join(import.meta.dirname, '../../../src')
    const named = ['core', 'formats', 'engine', 'store'].flatMap((layer) =>
      readdirSync(join(root, layer), { recursive: true, encoding: 'utf8' })
        .filter((file) => file.endsWith('.ts'))
        .flatMap((file) =>
          [...readFileSync(join(root, layer, file), 'utf8').matchAll(/^export (?:type|interface) (\w*Problem)\b/gm)].map(
            ([, name = '']) => name,
          ),
        ),
    )
    expect(named).toContain('AlignmentProblem')
    expect(named.filter((name) => told[within[name] ?? name] === undefined)).toEqual([])
  })
})

describe('findings', () => {
  it('have a short title, and words for each cure', () => {
    for (const prefs of measures) {
      for (const [name, change] of Object.entries(rules)) {
        const { title } = findingText({ ...plainFinding, ...change, rule: name as RuleName }, plan, prefs)
        expect(title).toMatch(/^[A-Z][^.]{4,40}$/)
      }
      for (const cure of listOf<Cure>(cures)) {
        expect(findingText({ ...plainFinding, cure }, plan, prefs).cures.join()).toMatch(
          /^[A-Z].*(\d| in| mm|″|′|\)|other jamb|other side|as large|meet)$/,
        )
      }
    }
  })

  it('are placed by track and PI', () => {
    expect(findingPlace(plainFinding, plan)).toBe('Bend, PI 1')
    expect(findingPlace({ ...plainFinding, corner: null }, plan)).toBe('Bend')
  })
})

describe('what holds an eased line', () => {
  it.each(listOf<FairBind>(binds).map((bind) => [bind.kind, bindText(bind, plan)]))('%s: %s', (_, text) => {
    expect(text).toMatch(/^[a-zA-Z][\w ]{4,}$/)
    expect(text).not.toContain(':')
  })
})

describe('measures', () => {
  it('read in both systems where nobody has a preference', () => {
    expect(setoutProblemText({ kind: 'chordFolds', stationMm: 25.4 }, rule)).toContain('1 in')
    expect(swingProblemText({ kind: 'radiusTooSmall', radiusMm: 25.4, leastMm: 60 }, { units: 'both', fraction: 64 })).toContain(
      '25.40 mm (1 in)',
    )
  })
  it('tell bounds on the safe side: what is named will do', () => {
    const problem = { kind: 'badValue', where: 'gaugeMm', value: 0.5, least: 1.0001, most: 2.0099, because: '' } as const
    expect(turnoutProblemText(problem, { units: 'metric', fraction: 64 })).toBe(
      'The gauge is 0.50 mm; it should be between 1.01 mm and 2.00 mm.',
    )
  })
})
