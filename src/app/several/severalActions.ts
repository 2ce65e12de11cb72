import type { Point } from '../../core/geom/types.ts'
import { motionMirror, motionTurn, type Motion } from '../../core/stretch/index.ts'
import { selectionMembers } from '../../store/selection.ts'
import type { Action } from '../commands/action.ts'
import type { Stores } from '../context.ts'
import { areLocked, connectedSelect, selectedCopyBeside, selectedLock, selectedMiddle, selectedMove, stageSelect } from './severalActs.ts'

/** What is done to several things at once, or to one as to several. */
export function severalActions(stores: Stores): readonly Action[] {
  const session = stores.session.getState()
  const { selection } = session
  const members = selectionMembers(selection)
  const isAny = members.length > 0
  const first = 'select something first'
  const about = (motionOf: (middle: Point) => Motion, verb: 'Turn' | 'Mirror'): void => {
    const middle = selectedMiddle(stores)
    if (middle !== null) selectedMove(stores, motionOf(middle), verb)
  }
  const act = (id: string, words: string, also: string, run: () => void): Action => ({
    id,
    group: 'Do',
    words,
    also,
    needs: first,
    isPossible: isAny,
    run,
  })
  return [
    {
      id: 'choose-stage',
      group: 'Do',
      words: session.stage === 'room' ? 'Choose everything of the room' : 'Choose all tracks',
      also: 'select all',
      isPossible: true,
      run: () => stageSelect(stores),
    },
    act('choose-connected', 'Choose all that hangs together', 'select connected stretch', () => connectedSelect(stores)),
    act('several-numbers', 'Move, turn or mirror by numbers', 'rotate flip distance angle', () =>
      session.select({ kind: 'several', members }),
    ),
    act('turn-quarter', 'Turn the selection by a quarter', 'rotate 90', () => about((at) => motionTurn(at, Math.PI / 2), 'Turn')),
    act('mirror-across', 'Mirror the selection left to right', 'flip', () => about((at) => motionMirror(at, Math.PI / 2), 'Mirror')),
    act('mirror-up', 'Mirror the selection top to bottom', 'flip', () => about((at) => motionMirror(at, 0), 'Mirror')),
    act('copy', 'Lay a second one of the selection', 'duplicate copy', () => selectedCopyBeside(stores)),
    act('lock', areLocked(stores.plan.getState().plan, members) ? 'Unlock the selection' : 'Lock the selection', 'fix hold', () =>
      selectedLock(stores),
    ),
  ]
}
