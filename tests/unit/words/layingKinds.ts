import type { RailPlace, RailProblem } from '../../../src/core/rails/types.ts'
import type { RoadbedCutProblem, RoadbedPlace, RoadbedProblem } from '../../../src/core/roadbed/types.ts'
import type { CutProblem } from '../../../src/core/sticks/index.ts'
import type { TieProblem } from '../../../src/core/ties/types.ts'

// Examples of what can go wrong with what is cut and laid, for everyKind.test.ts.

const place: RailPlace = { track: 'track-1', rail: 'left', stationMm: 700 }
const at: RoadbedPlace = { owner: { kind: 'track', track: 'track-1' }, fromMm: 100, toMm: 900 }

export const railProblems: readonly RailProblem[] = [
  { kind: 'noRailStock', code: 83, lengthMm: 4000, others: [] },
  { kind: 'noRailStock', code: 83, lengthMm: 4000, others: [70, 100] },
  {
    kind: 'jointInZone',
    place,
    rules: ['curveEnd', 'frog', 'points', 'guard', 'gap', 'throwBay'],
    isOwn: null,
    longestMm: 914.4,
    lengthMm: 1009,
  },
  { kind: 'jointInZone', place, rules: ['frog'], isOwn: 'joint-1', longestMm: 914.4, lengthMm: null },
  { kind: 'stagger', place, other: { ...place, rail: 'right' }, haveMm: 100, needMm: 208 },
  { kind: 'pieceTooShort', piece: 'M-L3', place, haveMm: 40, needMm: 75 },
  { kind: 'workTooLong', piece: 'T1-stock', owner: { kind: 'turnout', turnout: 'turnout-1' }, lengthMm: 1000, longestMm: 914.4 },
  { kind: 'jointOffRail', joint: 'joint-1', place, why: 'noRail' },
  { kind: 'jointOffRail', joint: 'joint-1', place, why: 'atBreak' },
]

export const roadbedProblems: readonly RoadbedProblem[] = [
  ...(['thickness', 'topWidth', 'shoulder', 'strips'] as const).map((what) => ({
    kind: 'badRoadbed' as const,
    lineClass: 'main',
    what,
    value: 0,
    wouldDo: 5,
  })),
  { kind: 'noMaterial', lineClass: 'main', material: 'reed', known: ['cork'] },
  { kind: 'badStrain', material: 'cork', value: 0, wouldDo: 0.02 },
  { kind: 'stripsTear', at, radiusMm: 400, strips: 1, widthMm: 45, strain: 0.056, limit: 0.02, stripsThatDo: 3 },
  { kind: 'stripsTear', at, radiusMm: 400, strips: 1, widthMm: 45, strain: null, limit: 0.02, stripsThatDo: null },
  { kind: 'cannotBend', at, radiusMm: 40, narrowestMm: 5, radiusThatDoesMm: 125, strainThatDoes: 0.06 },
  { kind: 'cannotBend', at, radiusMm: 40, narrowestMm: 5, radiusThatDoesMm: 125, strainThatDoes: null },
  { kind: 'noStock', material: 'cork', thicknessMm: 4.8, widthMm: 22, widestMm: null, otherThicknessMm: [] },
  { kind: 'noStock', material: 'cork', thicknessMm: 4.8, widthMm: 22, widestMm: 20, otherThicknessMm: [2.4] },
  { kind: 'noJointPlace', at, strip: 1, longestMm: 900, lengthThatDoesMm: 1200, staggerThatDoesMm: 100 },
  { kind: 'noJointPlace', at, strip: 1, longestMm: 900, lengthThatDoesMm: null, staggerThatDoesMm: null },
  { kind: 'bandsOverlap', turnout: 'turnout-1', track: 'track-2', host: 'track-1', overlapMm: 3 },
  { kind: 'pieceTooLong', piece: 'T1 card', lengthMm: 1000, longestMm: 900 },
  { kind: 'rampTooLong', ramp: 'ramp 1', track: 'track-1', stationMm: 300, neededMm: 476, roomMm: 300, rampThatDoes: 0.016 },
  { kind: 'rampTooLong', ramp: 'ramp 1', track: 'track-1', stationMm: 300, neededMm: 476, roomMm: 0, rampThatDoes: null },
  { kind: 'rampTooLow', ramp: 'ramp 1', track: 'track-1', stationMm: 300, missingMm: 1 },
]

export const cutProblems: readonly CutProblem[] = [
  { kind: 'badKerf', value: -1, wouldDo: 0.5 },
  { kind: 'badLeastOffcut', value: -1, wouldDo: 100 },
  { kind: 'badPiece', piece: 'M-L3', value: 0 },
  { kind: 'badStock', stock: 'stock-1', what: 'length', value: -5 },
  { kind: 'badStock', stock: 'stock-1', what: 'count', value: 1.5 },
  { kind: 'noStock' },
  { kind: 'pieceTooLong', piece: 'M-L3', lengthMm: 1000, longestMm: 914.4 },
  { kind: 'notEnough', missingPieces: ['M-L3'], missingMm: 500, missingSticks: 1, longestMm: 914.4, isProven: true },
  { kind: 'notEnough', missingPieces: ['M-L3', 'M-L4'], missingMm: 900, missingSticks: 2, longestMm: 914.4, isProven: false },
]

export const roadbedCutProblems: readonly RoadbedCutProblem[] = [
  { kind: 'badKerf', value: -1, wouldDo: 0.5 },
  { kind: 'notEnough', stock: 'stock-2', needed: 3, onHand: 1 },
  { kind: 'lengths', material: 'cork', thicknessMm: 4.8, widthMm: 22, problem: { kind: 'noStock' } },
]

export const tieProblems: readonly TieProblem[] = [
  { kind: 'noTieStock', material: 'wood', widthMm: 2.6, thicknessMm: 2, count: 40, longestMm: 60, others: [] },
  {
    kind: 'noTieStock',
    material: 'board',
    widthMm: 2.6,
    thicknessMm: 2,
    count: 40,
    longestMm: 60,
    others: [{ widthMm: 3, thicknessMm: 2 }],
  },
  { kind: 'tieTooLong', material: 'wood', tie: 'T1 tie 40', lengthMm: 700, longestMm: 609.6, count: 2 },
  { kind: 'badJointSpacing', lineClass: 'main', value: 1, leastMm: 3, mostMm: 5.7 },
  { kind: 'badSpacing', lineClass: 'main', value: 1, leastMm: 3 },
]
