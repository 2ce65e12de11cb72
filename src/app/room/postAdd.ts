import { boxOfPoints } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { Plan } from '../../core/plan/types.ts'
import { nextName } from '../../tools/index.ts'
import type { Stores } from '../context.ts'
import { planEdit } from '../planEdit.ts'
import { viewportShow } from '../viewportShow.ts'

/** A post by its size; depthMm null: round. */
export interface PostHeld {
  readonly acrossMm: number
  readonly depthMm: number | null
}

/** Sides of a round post: a chord of a post of a foot lies less than a millimetre off it. */
const sides = 48

/** The outline of a post about its middle. A round one is drawn around the circle, so that nothing comes nearer than it seems. */
export function postOutline({ acrossMm, depthMm }: PostHeld, { x, y }: Point): readonly Point[] {
  if (depthMm !== null) {
    const [w, d] = [acrossMm / 2, depthMm / 2]
    return [
      { x: x - w, y: y - d },
      { x: x + w, y: y - d },
      { x: x + w, y: y + d },
      { x: x - w, y: y + d },
    ]
  }
  const radius = acrossMm / 2 / Math.cos(Math.PI / sides)
  return Array.from({ length: sides }, (_, i) => {
    const angle = ((2 * i + 1) * Math.PI) / sides
    return { x: x + radius * Math.cos(angle), y: y + radius * Math.sin(angle) }
  })
}

/** The lower left corner that the place of a post is measured from: of the walls, else of the benchwork. */
export function postFrom({ walls, benchworks }: Plan): Point {
  const ofWalls = Object.values(walls).flatMap(({ points }) => points)
  const box = boxOfPoints(ofWalls.length > 0 ? ofWalls : Object.values(benchworks).flatMap(({ outline }) => outline))
  return box === null ? { x: 0, y: 0 } : { x: box.minX, y: box.minY }
}

/** Puts it into the plan in one step and selects it; what is wrong in words, or null. */
export function postAdd(stores: Stores, held: PostHeld, middle: Point): string | null {
  const posts = Object.values(stores.plan.getState().plan.obstacles)
  const record = { name: nextName('Post', posts), outline: postOutline(held, middle), undersideMm: 0 }
  const { added, problem } = planEdit(stores, { kind: 'obstacle.add', record })
  if (added === null) return problem
  stores.session.getState().select({ kind: 'record', table: 'obstacles', id: added })
  viewportShow(stores, boxOfPoints(record.outline))
  return null
}
