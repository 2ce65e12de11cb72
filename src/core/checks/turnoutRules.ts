import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { LineClass } from '../plan/types.ts'
import { anyFoundOrNull } from './found.ts'
import { minimumFrog } from './minimumFrog.ts'
import { minimumRadiusOfTurnout } from './minimumRadius.ts'
import { turnoutFault, turnoutOverEasementEnd } from './turnoutFaults.ts'

/** What the rules find that look at a turnout and at nothing but its host and the classes of what leaves on its legs; null: nothing. */
export function turnoutRules(turnout: NetworkTurnout, host: NetworkTrack | null, diverging: LineClass | null, other: LineClass | null) {
  return anyFoundOrNull({
    minimumRadius: [
      ...(diverging === null ? [] : minimumRadiusOfTurnout(turnout, 'diverging', diverging, host)),
      ...(other === null ? [] : minimumRadiusOfTurnout(turnout, 'other', other, host)),
    ],
    minimumFrog: minimumFrog(turnout, host),
    turnoutFault: turnoutFault(turnout, host),
    overEasementEnd: turnoutOverEasementEnd(turnout, host),
  })
}
