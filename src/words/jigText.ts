import type { Jig, JigDimension, JigFact, JigFactName, JigKind, JigLimit, JigProblem, JigValueName } from '../core/jigs/index.ts'
import { angleText, fineGrainMm, fineText, lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'

export const jigNames: { readonly [K in JigKind]: string } = {
  tieSpacing: 'Tie jig',
  curve: 'Curve template',
  trackSpacing: 'Track-spacing gauge',
  filing: 'Filing fixture',
  roadbed: 'Roadbed cutting guide',
  riser: 'Riser block',
  midOrdinate: 'Radius stick',
}

/** What each is for and how it is used. Common practice, no source. */
export const jigUses: { readonly [K in JigKind]: string } = {
  tieSpacing:
    'Ties are laid in the grooves face down and pushed against the stop, taped across, and lifted as one strip. With a radius the grooves fan out, square to the curve.',
  curve:
    'A band between the rails of a curve: lay rail against its edges, or draw along them. Notches mark where the curve and its arc begin, holes take an awl every 50 mm. Turned over it serves the other hand. Cut from sheet it has no room for rail feet under its edges.',
  trackSpacing: 'Set over two tracks: four notches on the rail heads hold both gauges and the spacing. The V-marks show both centrelines.',
  filing:
    'The rail stands upright in a slot, pushed in from an end until it stands out of the long face, and is filed flush with it. In front the rails of the frog, behind the points; both hands.',
  roadbed: 'The fence runs along the edge of the sheet, the knife along the other edge, which leans as the shoulder does.',
  riser:
    'A block as high as a riser is to be; it lies on its side on the bed so that its height is exact. Set it under the roadbed and clamp.',
  midOrdinate:
    'Held against the inner face of the outer rail: all three noses touch when the radius is right. The middle one free: the curve is too sharp. It rocks: too broad.',
}

/** The usual cautions; common practice, no source. */
const printCaution =
  'Melted plastic gives off fumes: print where air moves. Nozzle and bed burn the skin; let them cool before you reach in. Do not leave a printer at work alone.'
const kindCautions: { readonly [K in JigKind]: string } = {
  tieSpacing: '',
  curve: '',
  trackSpacing: '',
  filing:
    'Filing: eye protection, a firm vise, brush the dust of metal away and do not blow. Plastic wears under the file: make a new one when the face is hollow.',
  roadbed:
    'Knife: cut away from the hand, in several light strokes, fingers behind the fence. A mask for dust of cork and fibreboard. Plastic gives way to a blade: keep it flat to the edge.',
  riser: 'A block of plastic carries no person and no benchwork: it is a measure.',
  midOrdinate: '',
}
const lastCaution = 'Labels and local rules come first.'

export function jigCautionText(kind: JigKind, isFlat: boolean): string {
  const cut = isFlat
    ? 'Cut from sheet: outlines are the true edges, what the cut itself takes is set at the cutter; eye protection with a laser, never vinyl in it; blades away from the hand.'
    : ''
  return [printCaution, kindCautions[kind], cut, lastCaution].filter((text) => text !== '').join(' ')
}

export const jigValueNames: { readonly [N in JigValueName]: string } = {
  tieLengthMm: 'Tie length',
  tieWidthMm: 'Tie width',
  tieThicknessMm: 'Tie thickness',
  spacingMm: 'Tie spacing',
  radiusMm: 'Radius',
  gaugeMm: 'Gauge',
  easementMm: 'Easement',
  arcMm: 'Arc',
  runOutMm: 'Straight run-out',
  thicknessMm: 'Thickness',
  footReachMm: 'Room under its edges',
  footHeightMm: 'Height of that room',
  centresMm: 'Track spacing',
  railHeadMm: 'Rail head',
  railHeightMm: 'Rail height',
  frog: 'Frog number',
  definition: 'Frog angle',
  pointAngleRad: 'Point angle',
  railFootMm: 'Rail foot',
  widthMm: 'Width',
  sheetMm: 'Sheet thickness',
  shoulderRun: 'Shoulder, out for 1 down',
  lengthMm: 'Length',
  heightMm: 'Height',
  chordMm: 'Chord',
  bedXMm: 'Bed, width',
  bedYMm: 'Bed, depth',
  bedZMm: 'Printing height',
  slotAllowanceMm: 'Slots wider by',
  jointAllowanceMm: 'Room in joints',
}

const limitWords: { readonly [L in JigLimit]: string } = {
  size: 'less or more is not made',
  wall: 'or no wall would stand between two of its slots',
  middle: 'or its inner edge would reach the middle of the curve',
  turn: 'or it would come round to itself',
  height: 'so that it fits in the height',
  edge: 'so that enough of the plate is left beside its leaning edge',
  easement: 'or 0 for none',
  chord: 'so that the chord lies well within the curve',
  angle: 'or a slot would not come out of the block at a length that can be made',
}

const hundredthDegreeRad = Math.PI / 18000
/** What rounding of the bound itself may leave. */
const slack = 1e-6

/** A value, or a bound rounded to the side on which it would do. */
function boundText(where: JigValueName, value: number, prefs: MeasurePrefs, towards: 'up' | 'down' | null): string {
  const grain = where === 'pointAngleRad' ? hundredthDegreeRad : where === 'frog' || where === 'shoulderRun' ? 0.001 : fineGrainMm(prefs)
  const marks = value / grain
  const rounded = towards === null ? value : grain * (towards === 'up' ? Math.ceil(marks - slack) : Math.floor(marks + slack))
  if (where === 'pointAngleRad') return angleText(rounded)
  if (where === 'frog' || where === 'shoulderRun') return numberText(rounded, 3)
  return fineText(rounded, prefs)
}

/** What will not do about a jig, and what would. */
export function jigProblemText(problem: JigProblem, prefs: MeasurePrefs): string {
  switch (problem.kind) {
    case 'badValue': {
      const { where, value, least, most, because } = problem
      const leastText = boundText(where, least, prefs, 'up')
      const range = most === null ? `${leastText} or more` : `${leastText} to ${boundText(where, most, prefs, 'down')}`
      const given = Number.isFinite(value) ? `is ${boundText(where, value, prefs, null)}` : 'is no number'
      return `${jigValueNames[where]} ${given}; ${range} would do, ${limitWords[because]}.`
    }
    case 'bedTooSmall': {
      const { bedXMm, bedYMm, needXMm, needYMm } = problem
      const size = (x: number, y: number): string => `${fineText(x, prefs)} by ${fineText(y, prefs)}`
      return `The bed is ${size(bedXMm, bedYMm)}; however the jig is cut into pieces, one of them takes ${size(needXMm, needYMm)}. A bed of that size would do.`
    }
  }
}

const factNames: { readonly [N in JigFactName]: string } = {
  ties: 'Grooves',
  grooveWidth: 'Groove width',
  grooveDepth: 'Groove depth',
  width: 'Width of the band',
  wholeTurn: 'Turns through',
  holeDistance: 'Holes every',
  slotWidth: 'Slot width',
  slotDepth: 'Slot depth',
  fenceDepth: 'Fence takes in',
  frogAngle: 'Frog angle',
  frogFiling: 'Rails of the frog filed at',
  pointFiling: 'Points planed at',
  shoulderAngle: 'Shoulder from upright',
  railRadius: 'Radius of the rail’s face',
  midOrdinate: 'Middle nose stands out',
  pieces: 'Pieces',
}

/** What follows from the numbers: a name and a value in words. */
export function jigFactText({ name, kind, value }: JigFact, prefs: MeasurePrefs): readonly [string, string] {
  const text = kind === 'length' ? fineText(value, prefs) : kind === 'angle' ? angleText(value) : String(value)
  return [factNames[name], text]
}

/** A measure in the drawing. */
export function jigDimensionText({ kind, value }: JigDimension, prefs: MeasurePrefs): string {
  if (kind === 'angle') return angleText(value)
  return kind === 'radius' ? `R ${lengthText(value, prefs)}` : fineText(value, prefs)
}

/** What a jig as a whole takes of plastic and bed. */
export function jigSizeText({ box, heightMm }: Pick<Jig, 'box' | 'heightMm'>, prefs: MeasurePrefs): string {
  return `${[box.maxX - box.minX, box.maxY - box.minY, heightMm].map((mm) => fineText(mm, prefs)).join(' × ')}`
}
