import { nextName } from '../shared/names.ts'
import { outlineTool } from './machine.ts'

/** Lays a guide through two places: a line to draw by that stays. */
export const guideTool = outlineTool({
  name: 'guide',
  wish: { legs: true, tracks: true, benchwork: true, walls: true },
  fitsRoom: false,
  canStayOpen: true,
  endsAt: 2,
  refuses: () => null,
  finish: ([from, to], _isClosed, { plan }) => {
    if (from === undefined || to === undefined)
      return { ok: false, hint: { kind: 'needPoints', have: from === undefined ? 0 : 1, need: 2 } }
    const name = nextName('Guide', Object.values(plan.guides))
    const angleRad = Math.atan2(to.y - from.y, to.x - from.x)
    return { ok: true, command: { kind: 'guide.add', record: { name, at: from, angleRad } }, selectAdded: true }
  },
})
