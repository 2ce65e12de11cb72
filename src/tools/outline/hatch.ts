import { hatchUsual } from '../room/usual.ts'
import { outlineTool } from './machine.ts'

/** Draws where a person can stand up inside the benchwork. */
export const hatchTool = outlineTool({
  name: 'hatch',
  wish: { legs: false, tracks: false, benchwork: true, walls: false },
  fitsRoom: true,
  canStayOpen: false,
  endsAt: null,
  refuses: () => null,
  finish: (outline, _isClosed, { plan }) => ({
    ok: true,
    command: { kind: 'hatch.add', record: hatchUsual(plan, outline) },
    selectAdded: true,
  }),
})
