import { boxesOverlap, boxOfPoints, pointRotate } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'
import { chainEnd, chainMap, chainPart, chainRing, chainRunsNear, type Chain } from './chain.ts'
import type { PlanItem, PlanStroke } from './planItem.ts'
import { textItemCorners, textUpright } from './text.ts'
import type { DrawItem, LayerName, LineRole, PlanToPage, TextItem } from './types.ts'

/** An item of the plan in the turned frame of the sheets (plan turned by -angle), with the box that it takes there. */
export type LaidItem =
  | (PlanStroke & { readonly box: Box })
  | {
      readonly kind: 'band'
      readonly layer: LayerName
      readonly role: LineRole
      readonly fill: number
      readonly edges: readonly [Chain, Chain]
      readonly box: Box
    }
  | { readonly kind: 'text'; readonly text: TextItem; readonly box: Box }

/** Turns the items of a plan to lie as the sheets lie. */
export function laidItems(items: readonly PlanItem[], angleRad: number): readonly LaidItem[] {
  const turn = (p: Point): Point => pointRotate(p, -angleRad)
  return items.flatMap((item): readonly LaidItem[] => {
    switch (item.kind) {
      case 'stroke': {
        const chain = chainMap(item.chain, turn)
        const box = chainBox([chain])
        return box ? [{ ...item, chain, box }] : []
      }
      case 'band': {
        const edges = [chainMap(item.edges[0], turn), chainMap(item.edges[1], turn)] as const
        const box = chainBox(edges)
        return box ? [{ ...item, edges, box }] : []
      }
      case 'text': {
        const text = textUpright(item, turn(item.middle), angleRad)
        const box = boxOfPoints(textItemCorners(text, 0))
        return box ? [{ kind: 'text', text, box }] : []
      }
    }
  })
}

/** Box round the control points, which holds the curves. */
function chainBox(chains: readonly Chain[]): Box | null {
  const points: Point[] = []
  for (const chain of chains) {
    points.push(chain.start)
    for (const segment of chain.segments) {
      if (segment.kind === 'cubic') points.push(segment.c1, segment.c2)
      points.push(segment.to)
    }
  }
  return boxOfPoints(points)
}

/** What of an item is near a window of the turned frame, in page mm. Far segments are left out, near ones kept whole. */
export function itemsOnPage(item: LaidItem, window: Box, place: (p: Point) => Point): readonly DrawItem[] {
  if (!boxesOverlap(item.box, window)) return []
  switch (item.kind) {
    case 'stroke': {
      const { layer, role, chain, fill = null } = item
      const { start } = chain
      const end = chainEnd(chain)
      const isRing = chain.segments.length > 1 && start.x === end.x && start.y === end.y
      const runs = fill === null ? chainRunsNear([chain], window) : [[0, chain.segments.length] as const]
      return runs.map(([from, to]) => {
        const part = chainMap(chainPart(chain, from, to), place)
        const isClosed = isRing && to - from === chain.segments.length
        return { kind: 'stroke', layer, role, start: part.start, segments: part.segments, isClosed, fill }
      })
    }
    case 'band': {
      const { layer, role, fill, edges } = item
      return chainRunsNear(edges, window).map(([from, to]) => {
        const ring = chainMap(chainRing(chainPart(edges[0], from, to), chainPart(edges[1], from, to)), place)
        return { kind: 'stroke', layer, role, start: ring.start, segments: ring.segments, isClosed: true, fill }
      })
    }
    case 'text':
      return [{ ...item.text, at: place(item.text.at) }]
  }
}

/** A point of the plan on a page, page mm. */
export function planToPage(toPage: PlanToPage, p: Point): Point {
  const turned = pointRotate({ x: p.x - toPage.planOrigin.x, y: p.y - toPage.planOrigin.y }, -toPage.angleRad)
  return { x: turned.x * toPage.scaleX + toPage.pageOrigin.x, y: turned.y * toPage.scaleY + toPage.pageOrigin.y }
}

/** The point of the plan that lies under a point of the page. Inverse of planToPage. */
export function pageToPlan(toPage: PlanToPage, p: Point): Point {
  const turned = { x: (p.x - toPage.pageOrigin.x) / toPage.scaleX, y: (p.y - toPage.pageOrigin.y) / toPage.scaleY }
  const plan = pointRotate(turned, toPage.angleRad)
  return { x: plan.x + toPage.planOrigin.x, y: plan.y + toPage.planOrigin.y }
}
