import type { Sheet } from '../deliver/types.ts'
import type { MakerProblem } from '../makers/types.ts'
import type { CrossingProblem, TurnoutProblem } from '../turnout/index.ts'

/** Every kind of turnout and crossing there is, in the order in which one comes to need them. */
export const galleryKeys = [
  'straight-points',
  'curved-points',
  'same-hand',
  'opposite-hand',
  'easement',
  'wye',
  'wye-unequal',
  'three-way',
  'three-way-lapped',
  'stub',
  'diamond',
  'diamond-30',
  'diamond-square',
  'diamond-bent',
  'single-slip',
  'double-slip',
  'crossover',
  'scissors',
  'ladder',
  'gauntlet',
  'dual-gauge',
] as const

export type GalleryKey = (typeof galleryKeys)[number]

/** A leading number of a piece: lengths in mm on the model, angles in rad, frogs by their numbers. */
export type GalleryFigure =
  | {
      readonly kind:
        | 'lead'
        | 'radius'
        | 'otherRadius'
        | 'slipRadius'
        | 'host'
        | 'easement'
        | 'length'
        | 'unguarded'
        | 'guided'
        | 'narrowGauge'
        | 'centres'
        | 'pointsToPoints'
        | 'pitch'
      readonly mm: number
    }
  | { readonly kind: 'angle'; readonly rad: number }
  | { readonly kind: 'frogs'; readonly numbers: readonly number[] }

export type GalleryProblem =
  | { readonly kind: 'turnout'; readonly problem: TurnoutProblem }
  | { readonly kind: 'crossing'; readonly problem: CrossingProblem }
  | { readonly kind: 'maker'; readonly problem: MakerProblem }

/** A piece drawn at true size with its leading numbers, or why the railway's standards do not give one. */
export type GalleryPiece =
  | { readonly ok: true; readonly picture: Sheet; readonly figures: readonly GalleryFigure[] }
  | { readonly ok: false; readonly problem: GalleryProblem }
