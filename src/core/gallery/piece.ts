import { assertNever } from '../geom/index.ts'
import { railwayOfClass } from '../plan/index.ts'
import type { Plan } from '../plan/types.ts'
import { crossingPiece, galleryCrossings } from './crossings.ts'
import { madePiece } from './made.ts'
import { galleryTurnouts, lappedPiece, turnoutPiece } from './turnouts.ts'
import type { GalleryKey, GalleryPiece } from './types.ts'

/** Class that special work is usually found on; where the plan has it not, the first that it has. */
const usualClass = 'main'

/**
 * One of each turnout and crossing, by the railway's own scale and standards.
 *
 * Units:   mm on the model; the picture is of true size.
 * Domain:  any plan that the schema accepts; only its railway, line classes and cars are looked at.
 * Outcome: the picture with its leading numbers, or why these standards do not give one. Null: a plan without line classes.
 * Throws:  never.
 */
export function galleryPiece(plan: Plan, key: GalleryKey): GalleryPiece | null {
  const { lineClasses } = plan
  const lineClass = lineClasses[usualClass] ?? Object.values(lineClasses)[0]
  if (lineClass === undefined) return null
  const railway = railwayOfClass(plan.railway, lineClass)
  switch (key) {
    case 'straight-points':
    case 'curved-points':
    case 'same-hand':
    case 'opposite-hand':
    case 'easement':
    case 'wye':
    case 'wye-unequal':
    case 'three-way':
    case 'stub':
    case 'gauntlet':
    case 'dual-gauge':
      return turnoutPiece(key, galleryTurnouts[key], railway, lineClass)
    case 'three-way-lapped':
      return lappedPiece(key, railway, lineClass)
    case 'diamond':
    case 'diamond-30':
    case 'diamond-square':
    case 'diamond-bent':
    case 'single-slip':
    case 'double-slip':
      return crossingPiece(key, galleryCrossings[key], railway, lineClass)
    case 'crossover':
    case 'scissors':
    case 'ladder':
      return madePiece(key, plan, lineClass)
    default:
      return assertNever(key)
  }
}
