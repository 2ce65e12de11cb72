import type { ChainProblem } from '../../../src/core/alignment/index.ts'
import type { CentreReach, SetoutNote, SetoutProblem } from '../../../src/core/deliver/index.ts'
import type { EditProblem } from '../../../src/core/edit/types.ts'
import type { JigLimit, JigProblem } from '../../../src/core/jigs/index.ts'
import type { PlanNote, ReferenceProblem } from '../../../src/core/plan/index.ts'
import type { Misclosure, ShelfProblem, TraverseProblem } from '../../../src/core/room/index.ts'
import type { EntryProblem } from '../../../src/core/units/index.ts'
import type { DrawingProblem } from '../../../src/formats/outline/types.ts'
import type { LineFileProblem } from '../../../src/formats/line/types.ts'
import type { PlanFileProblem } from '../../../src/formats/planjson.ts'
import { listOf } from './kinds.ts'
import type { EachKind } from './kinds.ts'

/* Examples of every kind of trouble with plans, files, rooms, setting out and what is typed. */

export const edits: EachKind<EditProblem> = {
  notFound: { kind: 'notFound', table: 'tracks', id: 'gone' },
  idTaken: { kind: 'idTaken', table: 'tracks', id: 'bend' },
  badValue: { kind: 'badValue', where: 'x', value: Number.NaN, expected: 'a number' },
  inUse: { kind: 'inUse', table: 'tracks', id: 'spur', by: 'Bend' },
  madeBy: { kind: 'madeBy', table: 'tracks', id: 'bend', maker: 'gone' },
  locked: { kind: 'locked', table: 'tracks', id: 'bend' },
}

const misclosure: Misclosure = { angleRad: 0.1, dxMm: 300, dyMm: 400, distanceMm: 500, perimeterMm: 4000 }
export const traverses: EachKind<TraverseProblem> = {
  fewSides: { kind: 'fewSides', have: 2 },
  badLength: { kind: 'badLength', side: 0, lengthMm: 0 },
  badAngle: { kind: 'badAngle', side: 1, angleRad: 7 },
  badDiagonal: { kind: 'badDiagonal', side: 1, lengthMm: 9000, aboveMm: 1000, belowMm: 5000 },
  anglesMissing: { kind: 'anglesMissing', sides: [0, 2] },
  tooFarOff: { kind: 'tooFarOff', misclosure },
}
export const shelves: EachKind<ShelfProblem> = {
  badDepth: { kind: 'badDepth', depthMm: 0 },
  noSides: { kind: 'noSides' },
  tooDeep: { kind: 'tooDeep', side: 0, takenMm: 1300, lengthMm: 1200, mostMm: 600 },
  cornerTooLarge: { kind: 'cornerTooLarge', side: 1, mostMm: 300 },
  badCorner: { kind: 'badCorner', sizeMm: 0 },
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

export const files: EachKind<PlanFileProblem> = {
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

export const notes: EachKind<PlanNote> = {
  migrated: { kind: 'migrated', from: 1, to: 2 },
  unknownKeys: { kind: 'unknownKeys', where: ['a', 'b', 'c', 'd'] },
}

export const setouts: EachKind<SetoutProblem> = {
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

export const setoutNotes: EachKind<SetoutNote> = {
  sightBlocked: { kind: 'sightBlocked', stationMm: 4, by: 'Chimney', rows: 1 },
  shortTangent: { kind: 'shortTangent', stationMm: 4, haveMm: 100, wantMm: 150 },
  shortArc: { kind: 'shortArc', stationMm: 4, haveMm: 100, wantMm: 150 },
  noCrossing: { kind: 'noCrossing', stationMm: 4, rows: 3 },
  noPins: { kind: 'noPins', stationMm: 4 },
  stickRunsOff: { kind: 'stickRunsOff', rows: 2 },
}

export const reaches: EachKind<CentreReach> = {
  benchwork: { kind: 'benchwork', name: 'Table' },
  floor: { kind: 'floor' },
  obstacle: { kind: 'obstacle', name: 'Chimney' },
  wall: { kind: 'wall', name: 'North wall' },
  outside: { kind: 'outside', name: 'North wall' },
}

export const entries: { readonly [K in EntryProblem['kind']]: EntryProblem } = {
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

export const lineFiles: EachKind<LineFileProblem> = {
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
export const jigs: EachKind<JigProblem> = {
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
export const drawings: EachKind<DrawingProblem> = {
  notDrawing: (['DXF', 'SVG', 'points'] as const).map((expected) => ({
    kind: 'notDrawing',
    expected,
    says: 'it does not begin with a section',
  })),
  noOutlines: (['DXF', 'SVG', 'points'] as const).map((expected) => ({ kind: 'noOutlines', expected })),
  mixedUnits: { kind: 'mixedUnits' },
}
export const chains: EachKind<ChainProblem> = {
  empty: { kind: 'empty' },
  notFinite: { kind: 'notFinite', element: 0 },
  broken: { kind: 'broken', element: 1, gapMm: 3, turnRad: 0.2 },
  spiralWithoutArc: { kind: 'spiralWithoutArc', element: 1 },
}
