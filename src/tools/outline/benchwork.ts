import { nextName } from '../shared/names.ts'
import { outlineTool } from './machine.ts'

/** Height of the top above the floor where nothing else says so: 48 in, a common height to work at standing; no source. */
const usualHeightMm = 1219.2

/** Draws the outline of a piece of benchwork. */
export const benchworkTool = outlineTool({
  name: 'benchwork',
  wish: { legs: false, tracks: false, benchwork: true, walls: true },
  canStayOpen: false,
  endsAt: null,
  refuses: () => null,
  finish: (outline, _isClosed, { plan }) => {
    const boards = Object.values(plan.benchworks)
    const heightMm = boards.at(-1)?.heightMm ?? usualHeightMm
    const name = nextName('Benchwork', boards)
    return { ok: true, command: { kind: 'benchwork.add', record: { name, outline, holes: [], heightMm } }, selectAdded: true }
  },
})
