import type { GalleryFigure, GalleryKey, GalleryProblem } from '../core/gallery/index.ts'
import type { Plan } from '../core/plan/types.ts'
import { frogNumberFormat } from '../core/units/index.ts'
import { makerProblemText } from './makerText.ts'
import { angleText, fineText, lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { crossingProblemText, turnoutProblemText } from './problemText.ts'

export interface GalleryWords {
  readonly name: string
  readonly about: string
}

export const galleryWords: { readonly [K in GalleryKey]: GalleryWords } = {
  'straight-points': {
    name: 'Straight points',
    about: 'The plain turnout: straight points, which are easiest to file, a curved closure and a straight frog.',
  },
  'curved-points': {
    name: 'Curved points',
    about: 'The same with points that begin tangent to the stock rail: a gentler way in, and longer points.',
  },
  'same-hand': {
    name: 'On a curve, to the inside',
    about: 'Both routes bend the same way. The frog keeps its number; the diverging route is the sharper one.',
  },
  'opposite-hand': {
    name: 'On a curve, to the outside',
    about: 'The diverging route leaves against the bend of its host, and may come out nearly straight.',
  },
  easement: {
    name: 'On an easement',
    about: 'Points on the tangent, frog where the curve has already begun. Every rail follows the easement.',
  },
  wye: { name: 'Wye, equal', about: 'Both routes turn by half of the frog angle: twice the radius of a plain turnout.' },
  'wye-unequal': { name: 'Wye, unequal', about: 'One route turns by three tenths of the frog angle, the other by the rest.' },
  'three-way': {
    name: 'Three-way',
    about: 'Two switches at one place, a route to each side of the through one, and a third frog where these two cross.',
  },
  'three-way-lapped': {
    name: 'Three-way, lapped',
    about: 'The second switch lies behind the points of the first, before its frog: the blades need no pairing.',
  },
  stub: {
    name: 'Stub',
    about: 'No points: the rails ahead are bent from one route to the other, ends against ends. Early and light railways.',
  },
  diamond: {
    name: 'Diamond by frog number',
    about: 'Two tracks cross on a level: two end frogs, two obtuse ones, and guard rails for all four.',
  },
  'diamond-30': { name: 'Diamond of 30°', about: 'Steep enough that the obtuse frogs guide every wheel.' },
  'diamond-square': { name: 'Square crossing', about: 'Four frogs alike, and ties that stand askew to both tracks.' },
  'diamond-bent': {
    name: 'Diamond with a bent track',
    about: 'One track keeps its curve all the way through, so that no two frogs are the same.',
  },
  'single-slip': { name: 'Single slip', about: 'A diamond in which one curve leads from one track to the other, points at both its ends.' },
  'double-slip': { name: 'Double slip', about: 'A curve on both sides: four ways through, in the room of one diamond.' },
  crossover: { name: 'Crossover', about: 'From one parallel track to the other: two turnouts of one hand, leg to leg.' },
  scissors: { name: 'Scissors', about: 'Crossovers of both hands on one stretch, with a diamond in the middle.' },
  ladder: { name: 'Ladder', about: 'Turnouts in a row on a slanting lead, a body track from each.' },
  gauntlet: { name: 'Gauntlet', about: 'Two tracks laid over each other part without points: only a frog, nothing that moves.' },
  'dual-gauge': { name: 'Dual gauge', about: 'A smaller gauge shares one rail, and both leave together.' },
}

/** The gallery in its parts. */
export const galleryParts: readonly { readonly name: string; readonly keys: readonly GalleryKey[]; readonly isLong?: true }[] = [
  { name: 'Turnouts', keys: ['straight-points', 'curved-points', 'stub'] },
  { name: 'On bent track', keys: ['same-hand', 'opposite-hand', 'easement'] },
  { name: 'More ways than one', keys: ['wye', 'wye-unequal', 'three-way', 'three-way-lapped'] },
  { name: 'Crossings and slips', keys: ['diamond', 'diamond-30', 'diamond-square', 'diamond-bent', 'single-slip', 'double-slip'] },
  { name: 'Between tracks', keys: ['crossover', 'scissors', 'ladder'], isLong: true },
  { name: 'Shared rails', keys: ['gauntlet', 'dual-gauge'] },
]

const figureWords: { readonly [K in Exclude<GalleryFigure['kind'], 'frogs'>]: string } = {
  angle: 'Angle',
  lead: 'Lead',
  radius: 'Tightest radius',
  otherRadius: 'Other route',
  slipRadius: 'Slip radius',
  host: 'Curve of the track',
  easement: 'Easement',
  length: 'Length over ties',
  unguarded: 'Unguarded',
  guided: 'Wheel guided over',
  narrowGauge: 'Smaller gauge',
  centres: 'Track centres',
  pointsToPoints: 'Points to points',
  pitch: 'Pitch of the ladder',
}

/** A leading number of a piece and what it is. */
export function galleryFigureText(figure: GalleryFigure, prefs: MeasurePrefs): { readonly what: string; readonly value: string } {
  switch (figure.kind) {
    case 'frogs': {
      const numbers = figure.numbers.map((number) => frogNumberFormat(Math.round(number * 10) / 10))
      const isAlike = numbers.every((number) => number === numbers[0])
      const times = isAlike && numbers.length > 1 ? `${numbers.length} of ` : ''
      return { what: numbers.length > 1 ? 'Frogs' : 'Frog', value: `${times}No. ${(isAlike ? numbers.slice(0, 1) : numbers).join(', ')}` }
    }
    case 'angle':
      return { what: figureWords.angle, value: angleText(figure.rad) }
    case 'unguarded':
    case 'guided':
    case 'narrowGauge':
      return { what: figureWords[figure.kind], value: fineText(figure.mm, prefs) }
    default:
      return { what: figureWords[figure.kind], value: lengthText(figure.mm, prefs) }
  }
}

/** What a builder has to know about a piece as its numbers come out; null: nothing. */
export function galleryWarning(figures: readonly GalleryFigure[]): string | null {
  const [unguarded, guided] = (['unguarded', 'guided'] as const).map((kind) => figures.find((figure) => figure.kind === kind))
  if (unguarded?.kind !== 'unguarded' || guided?.kind !== 'guided' || unguarded.mm <= guided.mm) return null
  return 'So flat, fixed obtuse frogs guide no wheel any more: they need points that move.'
}

/** Why there is no such piece by the standards of this railway. */
export function galleryProblemText(problem: GalleryProblem, plan: Plan, prefs: MeasurePrefs): string {
  switch (problem.kind) {
    case 'turnout':
      return turnoutProblemText(problem.problem, prefs)
    case 'crossing':
      return crossingProblemText(problem.problem, prefs)
    case 'maker':
      return makerProblemText(problem.problem, plan, prefs)
  }
}
