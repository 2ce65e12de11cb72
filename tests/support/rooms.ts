import type { Benchwork, Hatch, Obstacle, Opening, Wall } from '../../src/core/plan/index.ts'
import type { Point } from '../../src/core/geom/index.ts'
import { aBenchwork } from './plans.ts'

/** Corners of a rectangle, anticlockwise. */
export function box(minX: number, minY: number, maxX: number, maxY: number): readonly Point[] {
  return [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ]
}

/** A closed room of 4 m by 3 m, its lower left corner at the origin, its walls 100 mm thick outside of that. */
export function aRoom(change: Partial<Wall> = {}): Wall {
  return { id: 'wall-1', name: 'Room', points: box(0, 0, 4000, 3000), thicknessMm: 100, isClosed: true, ...change }
}

export function aShelf(outline: readonly Point[], change: Partial<Benchwork> = {}): Benchwork {
  return aBenchwork({ name: 'Shelf', outline, ...change })
}

export function aPost(outline: readonly Point[], change: Partial<Obstacle> = {}): Obstacle {
  return { id: 'obstacle-1', name: 'Post', outline, undersideMm: 0, ...change }
}

/** A door of 800 mm in the lower wall, a metre from the corner, hinged nearer to it and opening into the room. */
export function aDoor(change: Partial<Opening> = {}): Opening {
  return {
    id: 'opening-1',
    name: 'Door',
    wall: 'wall-1',
    fromMm: 1000,
    widthMm: 800,
    leaf: { hinge: 'from', side: 'left' },
    sillMm: null,
    ...change,
  }
}

export function aHatch(outline: readonly Point[], change: Partial<Hatch> = {}): Hatch {
  return { id: 'hatch-1', name: 'Corner hatch', outline, ...change }
}
