import { plainKind } from '../plan/index.ts'
import type { TurnoutKind } from '../plan/types.ts'
import { turnoutRequest, turnoutSolve } from '../turnout/index.ts'
import { standardBuild } from './standardBuild.ts'
import type { NetworkTrack } from './types.ts'

/** Laps are given to a tenth of a millimetre, on the side that fits. */
const lapStepMm = 0.1

/**
 * A kind of turnout with the numbers that it usually has: a wye parts evenly, a three-way turnout has one frog number to both sides and
 * its second switch as near behind the first as there is room.
 */
export function kindUsual(
  of: TurnoutKind['kind'],
  { railway, lineClass }: Pick<NetworkTrack, 'railway' | 'lineClass'>,
  frog: number,
): TurnoutKind {
  switch (of) {
    case 'plain':
      return plainKind
    case 'stub':
      return { kind: 'stub' }
    case 'wye':
      return { kind: 'wye', share: 0.5 }
    case 'three-way': {
      const kind: TurnoutKind = { kind: 'three-way', secondFrog: frog, secondAfterMm: 0 }
      const solved = turnoutSolve({ ...turnoutRequest(railway, lineClass, { hand: 'left', frog, build: standardBuild }), kind })
      if (solved.ok || solved.problem.kind !== 'noRoomForSecond' || solved.problem.leastMm === null) return kind
      return { ...kind, secondAfterMm: Number((Math.ceil(solved.problem.leastMm / lapStepMm) * lapStepMm).toFixed(4)) }
    }
  }
}
