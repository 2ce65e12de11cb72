import { roomUsual } from '../../core/room/index.ts'
import { nextName } from '../shared/names.ts'
import { outlineTool } from './machine.ts'

/** Draws a wall of the room along its face: an open line, or closed around the room. */
export const wallTool = outlineTool({
  name: 'wall',
  wish: { legs: false, tracks: false, benchwork: true, walls: true },
  fitsRoom: true,
  canStayOpen: true,
  endsAt: null,
  refuses: () => null,
  finish: (points, isClosed, { plan, units }) => {
    const walls = Object.values(plan.walls)
    const thicknessMm = walls.at(-1)?.thicknessMm ?? roomUsual(units).wallMm
    return {
      ok: true,
      command: { kind: 'wall.add', record: { name: nextName('Wall', walls), points, thicknessMm, isClosed } },
      selectAdded: true,
    }
  },
})
