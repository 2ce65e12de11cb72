import { turnoutSet } from '../network/index.ts'
import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import { poseToPlan } from '../geom/index.ts'
import type { Cure, Finding } from './types.ts'
import { turnoutWork, workFinding } from './workFinding.ts'

/**
 * A frog under the minimum number of the host's class. The cure sets the minimum, where the longer turnout still finds its
 * place on the host.
 */
export function minimumFrog({ turnout, lineClass, result }: NetworkTurnout, host: NetworkTrack | null): readonly Finding[] {
  if (lineClass === null || !(turnout.frog < lineClass.minFrog)) return []
  const at = result.pose === null ? null : result.geometry === null ? result.pose : poseToPlan(result.pose, result.geometry.frogPoint)
  return [
    workFinding(turnoutWork(turnout), at ?? { x: 0, y: 0 }, {
      id: `minimum-frog:${turnout.id}`,
      rule: 'minimum-frog',
      measured: turnout.frog,
      limit: lineClass.minFrog,
      unit: 'number',
      source: `class:${lineClass.id}`,
      cure: host === null ? null : frogCure(turnout, host),
    }),
  ]
}

function frogCure(turnout: NetworkTurnout['turnout'], host: NetworkTrack): Cure | null {
  const { minFrog } = host.lineClass
  if (!turnoutSet({ ...turnout, frog: minFrog }, host).ok) return null
  return { kind: 'setFrog', turnout: turnout.id, frog: minFrog }
}
