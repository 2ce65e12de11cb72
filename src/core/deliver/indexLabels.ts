import { boxContains, boxesOverlap, boxGrow } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'
import { chainPoints } from './chain.ts'
import { textWidthMm } from './text.ts'
import type { DrawItem, TextItem } from './types.ts'

/** A sheet on the map: its corners in page mm. */
interface MappedSheet {
  readonly name: string
  readonly corners: readonly Point[]
}

/** Lines are looked at so often, mm of the page: less than the least type is high. */
const STEP_MM = 0.8
const AIR_MM = 1
/** From the middle of a sheet towards its sides, the nearest to the middle first. */
const PARTS = [0, 0.3, -0.3, 0.5, -0.5, 0.65, -0.65, 0.8, -0.8] as const
const placesTried = PARTS.flatMap((u) => PARTS.map((v) => ({ u, v }))).toSorted((p, q) => Math.hypot(p.u, p.v) - Math.hypot(q.u, q.v))

/** The names of sheets on the map, each within its own sheet: clear of the lines of the plan and of each other, of the edges of sheets where it can be. */
export function sheetLabels(sheets: readonly MappedSheet[], lines: readonly DrawItem[], sizeMm: number): readonly TextItem[] {
  const onLines = lines.flatMap((item) =>
    item.kind === 'stroke' ? pointsAlong(chainPoints({ start: item.start, segments: item.segments }, 8)) : [],
  )
  const onEdges = sheets.flatMap(({ corners }) => pointsAlong([...corners, ...corners.slice(0, 1)]))
  const taken: Box[] = []
  return sheets.flatMap(({ name, corners }) => {
    const [a, b, c, d] = corners
    if (!a || !b || !c || !d) return []
    const around = boxOf(corners)
    const [lineHere, edgeHere] = [onLines, onEdges].map((points) => points.filter((p) => boxContains(around, p)))
    const half = { x: textWidthMm(name, sizeMm) / 2, y: 0.35 * sizeMm }
    let best: { readonly at: Point; readonly box: Box; readonly harm: number } | null = null
    for (const { u, v } of placesTried) {
      const at = {
        x: (a.x + c.x) / 2 + (u * (b.x - a.x)) / 2 + (v * (d.x - a.x)) / 2,
        y: (a.y + c.y) / 2 + (u * (b.y - a.y)) / 2 + (v * (d.y - a.y)) / 2,
      }
      const box = boxGrow({ minX: at.x - half.x, minY: at.y - half.y, maxX: at.x + half.x, maxY: at.y + half.y }, AIR_MM)
      const hits = (points: readonly Point[] = []): number => points.filter((p) => boxContains(box, p)).length
      const harm = 100 * taken.filter((other) => boxesOverlap(box, other)).length + 10 * hits(lineHere) + hits(edgeHere)
      if (best === null || harm < best.harm) best = { at, box, harm }
      if (harm === 0) break
    }
    if (best === null) return []
    taken.push(best.box)
    const at = { x: best.at.x, y: best.at.y - half.y }
    return [
      { kind: 'text', layer: 'sheet', text: name, at, sizeMm, angleRad: 0, anchor: 'middle', weight: 'bold', grey: 0, isOnPaper: true },
    ] as const
  })
}

const boxOf = (points: readonly Point[]): Box => ({
  minX: Math.min(...points.map(({ x }) => x)),
  minY: Math.min(...points.map(({ y }) => y)),
  maxX: Math.max(...points.map(({ x }) => x)),
  maxY: Math.max(...points.map(({ y }) => y)),
})

/** Points along a line of straight pieces. */
function pointsAlong(points: readonly Point[]): readonly Point[] {
  return points.flatMap((p, i) => {
    const q = points[i + 1]
    if (!q) return [p]
    const steps = Math.max(1, Math.ceil(Math.hypot(q.x - p.x, q.y - p.y) / STEP_MM))
    return Array.from({ length: steps }, (_, k) => ({ x: p.x + ((q.x - p.x) * k) / steps, y: p.y + ((q.y - p.y) * k) / steps }))
  })
}
