import { roomUsual } from '../../core/room/index.ts'
import { nextName } from '../shared/names.ts'
import { outlineTool } from './machine.ts'

/** Draws the outline of a piece of benchwork. */
export const benchworkTool = outlineTool({
  name: 'benchwork',
  wish: { legs: false, tracks: false, benchwork: true, walls: true },
  fitsRoom: true,
  canStayOpen: false,
  endsAt: null,
  refuses: () => null,
  finish: (outline, _isClosed, { plan, units }) => {
    const boards = Object.values(plan.benchworks)
    const heightMm = boards.at(-1)?.heightMm ?? roomUsual(units).topMm
    const name = nextName('Benchwork', boards)
    return { ok: true, command: { kind: 'benchwork.add', record: { name, outline, holes: [], heightMm } }, selectAdded: true }
  },
})
