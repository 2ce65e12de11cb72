import type { MakerNumbers } from '../plan/types.ts'
import type { MakerProblem } from './types.ts'

/** Cures are given to a tenth of a millimetre, on the side that will do. */
const roundUp = (mm: number): number => Math.ceil(mm * 10 - 1e-6) / 10

/**
 * The numbers with that one changed which a problem names a value for; null where it names none, or where nothing of the maker's own
 * could be changed (centres of a crossover are those of its tracks).
 *
 * Exactness: the value is on the side that will do; other numbers may then have problems of their own.
 */
export function makerCure(numbers: MakerNumbers, problem: MakerProblem): MakerNumbers | null {
  switch (problem.kind) {
    case 'station': {
      const [nearest] = problem.nearestMm
      return nearest !== undefined && problem.where in numbers ? { ...numbers, [problem.where]: nearest } : null
    }
    case 'centresTooSmall': {
      const leastMm = roundUp(problem.leastMm)
      if (problem.where === 'measured') return null
      if (numbers.kind === 'spur') {
        return numbers.course.kind === 'parallel' ? { ...numbers, course: { ...numbers.course, centresMm: leastMm } } : null
      }
      if (numbers.kind === 'siding') {
        return { ...numbers, centresMm: leastMm, curveCentresMm: Math.max(leastMm, numbers.curveCentresMm) }
      }
      return problem.where in numbers ? { ...numbers, [problem.where]: leastMm } : null
    }
    case 'ladderTooTight':
      return numbers.kind === 'yard' ? { ...numbers, centresMm: roundUp(problem.leastCentresMm) } : null
    case 'baseTooShort':
      return numbers.kind === 'wye' && problem.mostRadiusMm !== null ? { ...numbers, radius: problem.mostRadiusMm } : null
    case 'tooShort':
      return numbers.kind === 'siding' ? { ...numbers, toMm: roundUp(numbers.fromMm + problem.needMm) } : null
    case 'acrossTooSmall':
      return numbers.kind === 'helix' ? { ...numbers, size: { kind: 'across', acrossMm: roundUp(problem.leastMm) } } : null
    case 'riseTooLow':
      return numbers.kind === 'helix' ? { ...numbers, rise: { kind: 'perTurn', riseMm: roundUp(problem.leastMm) } } : null
    case 'climbTooLow':
      return numbers.kind === 'helix' ? { ...numbers, climbMm: roundUp(problem.leastMm) } : null
    case 'tooManyTurns':
      return numbers.kind === 'helix' ? { ...numbers, climbMm: Math.floor(problem.mostClimbMm * 10) / 10 } : null
    case 'beside':
      return numbers.kind === 'siding' && problem.problem.kind === 'wideningTooGreat'
        ? { ...numbers, curveCentresMm: Math.floor(Math.abs(problem.problem.mostMm) * 10 + 1e-6) / 10 }
        : null
    default:
      return null
  }
}
