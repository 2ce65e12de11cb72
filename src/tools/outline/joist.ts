import { joistUsual } from '../room/usual.ts'
import { outlineTool } from './machine.ts'

/** Draws a joist or riser under the deck, from end to end. */
export const joistTool = outlineTool({
  name: 'joist',
  wish: { legs: false, tracks: false, benchwork: true, walls: true },
  fitsRoom: true,
  canStayOpen: true,
  endsAt: 2,
  refuses: () => null,
  finish: ([from, to], _isClosed, { plan, units }) =>
    from === undefined || to === undefined
      ? { ok: false, hint: { kind: 'needPoints', have: from === undefined ? 0 : 1, need: 2 } }
      : { ok: true, command: { kind: 'joist.add', record: joistUsual(plan, units, from, to) }, selectAdded: true },
})
