import { nextName } from '../shared/names.ts'
import { outlineTool } from './machine.ts'

/** A stud wall with board on both sides, 4 1/2 in; common practice, no source. Only drawn, nothing is computed from it. */
export const usualWallMm = 114.3

/** Draws a wall of the room along its face: an open line, or closed around the room. */
export const wallTool = outlineTool({
  name: 'wall',
  wish: { legs: false, tracks: false, benchwork: true, walls: true },
  fitsRoom: true,
  canStayOpen: true,
  endsAt: null,
  refuses: () => null,
  finish: (points, isClosed, { plan }) => {
    const walls = Object.values(plan.walls)
    const thicknessMm = walls.at(-1)?.thicknessMm ?? usualWallMm
    return {
      ok: true,
      command: { kind: 'wall.add', record: { name: nextName('Wall', walls), points, thicknessMm, isClosed } },
      selectAdded: true,
    }
  },
})
