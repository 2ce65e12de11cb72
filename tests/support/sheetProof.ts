import type { Sheet } from '../../src/core/deliver/index.ts'
import { boxGrow, boxOfPoints, boxContains, pathNearest, pathOffsetPoint, pathPoseAt, poseToLocal } from '../../src/core/geom/index.ts'
import type { Box, Point } from '../../src/core/geom/index.ts'
import type { Rail } from '../../src/core/track/index.ts'
import { pdfPathPoints, type PdfPage } from './pdfPages.ts'

/** A sheet together with the page that an independent reader found for it. */
export interface ReadSheet {
  readonly sheet: Sheet
  readonly page: PdfPage
}

/** Back from page to plan, written out here and not taken from the code under test. */
export function pageToPlanByHand(sheet: Sheet, p: Point): Point {
  const { planOrigin, angleRad, pageOrigin, scaleX, scaleY } = sheet.toPage
  const u = (p.x - pageOrigin.x) / scaleX
  const v = (p.y - pageOrigin.y) / scaleY
  return {
    x: planOrigin.x + u * Math.cos(angleRad) - v * Math.sin(angleRad),
    y: planOrigin.y + u * Math.sin(angleRad) + v * Math.cos(angleRad),
  }
}

interface BoxedRail {
  readonly rail: Rail
  readonly box: Box
}

function boxed(rails: readonly Rail[]): readonly BoxedRail[] {
  return rails.flatMap((rail) => {
    const box = boxOfPoints(railPoints(rail, 5))
    return box ? [{ rail, box: boxGrow(box, 3) }] : []
  })
}

/** Exact points of a rail's gauge line. */
export function railPoints(rail: Rail, stepMm: number): readonly Point[] {
  const { path, offsetMm, fromMm, toMm } = rail.gaugeLine
  const count = Math.max(1, Math.ceil((toMm - fromMm) / stepMm))
  return Array.from({ length: count + 1 }, (_, i) => pathOffsetPoint(path, fromMm + ((toMm - fromMm) * i) / count, offsetMm))
}

/** Offsets from the gauge line at which a role may draw an edge of a rail, at part t of its length. */
function edgeOffsets(rail: Rail, role: string, t: number): readonly number[] {
  const between = (a: number, b: number): number => a + (b - a) * t
  const head = between(rail.startHeadMm ?? rail.headWidthMm, rail.endHeadMm ?? rail.headWidthMm)
  const rim = (rail.footWidthMm - rail.headWidthMm) / 2
  const rimHere = between(rail.startHeadMm === undefined ? rim : 0, rail.endHeadMm === undefined ? rim : 0)
  if (role === 'rail-gauge') return [0]
  if (role === 'rail-head') return [0, head]
  return [-rimHere, head + rimHere]
}

/** Distance of a point from the nearest edge that the role may draw, of any computed rail, mm. */
function distanceToRails(rails: readonly BoxedRail[], role: string, p: Point): number {
  let least = Infinity
  for (const { rail, box } of rails) {
    if (!boxContains(box, p)) continue
    const { path, offsetMm, fromMm, toMm } = rail.gaugeLine
    const near = pathNearest(path, p)
    const station = Math.min(Math.max(near.stationMm, fromMm), toMm)
    const beyond = Math.abs(near.stationMm - station)
    const t = toMm > fromMm ? (station - fromMm) / (toMm - fromMm) : 0
    // Seen from the rail: x is 0 unless the point lies off the path's end.
    const seen = poseToLocal(pathPoseAt(path, near.stationMm), p)
    for (const edge of edgeOffsets(rail, role, t)) {
      least = Math.min(least, Math.hypot(seen.y - (offsetMm + rail.headSide * edge), seen.x, beyond))
    }
  }
  return least
}

const railRoles = ['rail-gauge', 'rail-head', 'rail-foot']

/** Farthest that any rail line on any page lies from a computed rail, mm; and how many points were looked at. */
export function worstRailError(read: readonly ReadSheet[], rails: readonly Rail[]): { readonly worstMm: number; readonly points: number } {
  const near = boxed(rails)
  const widest = Math.max(...rails.map((rail) => rail.headWidthMm)) * 1.5
  let worstMm = 0
  let points = 0
  for (const { sheet, page } of read) {
    for (const path of page.paths) {
      if (!railRoles.includes(path.role)) continue
      for (const p of path.role === 'rail-head' ? ringPoints(path, widest) : pdfPathPoints(path)) {
        worstMm = Math.max(worstMm, distanceToRails(near, path.role, pageToPlanByHand(sheet, p)))
        points++
      }
    }
  }
  return { worstMm, points }
}

/** Points of a head's ring without those inside of the short caps across it. */
function ringPoints(path: PdfPage['paths'][number], capMm: number): readonly Point[] {
  const points: Point[] = []
  let from = path.start
  for (const segment of path.segments) {
    const isCap = segment.kind === 'line' && Math.hypot(segment.to.x - from.x, segment.to.y - from.y) <= capMm
    points.push(...(isCap ? [from, segment.to] : pdfPathPoints({ start: from, segments: [segment] })))
    from = segment.to
  }
  return points
}

/** Farthest that any point of the rails' gauge lines is from one drawn inside of the window of some sheet, mm. */
export function worstCoverage(read: readonly ReadSheet[], rails: readonly Rail[]): number {
  const cellMm = 4
  const cells = new Map<string, (readonly [Point, Point])[]>()
  for (const { sheet, page } of read) {
    const window = boxGrow(sheet.window, 1e-4)
    for (const path of page.paths) {
      if (path.role !== 'rail-gauge') continue
      const points = pdfPathPoints(path)
      points.forEach((p, i) => {
        const next = points[i + 1]
        if (!next || !boxContains(window, p) || !boxContains(window, next)) return
        const piece = [pageToPlanByHand(sheet, p), pageToPlanByHand(sheet, next)] as const
        const key = cellKey(piece[0], cellMm)
        cells.set(key, [...(cells.get(key) ?? []), piece])
      })
    }
  }
  let worst = 0
  for (const rail of rails) {
    for (const p of railPoints(rail, 1)) {
      let least = Infinity
      for (const dx of [-1, 0, 1]) {
        for (const dy of [-1, 0, 1]) {
          for (const [a, b] of cells.get(cellKey({ x: p.x + dx * cellMm, y: p.y + dy * cellMm }, cellMm)) ?? [])
            least = Math.min(least, pieceDistance(p, a, b))
        }
      }
      worst = Math.max(worst, least)
    }
  }
  return worst
}

function cellKey(p: Point, cellMm: number): string {
  return `${Math.floor(p.x / cellMm)},${Math.floor(p.y / cellMm)}`
}

function pieceDistance(p: Point, a: Point, b: Point): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y]
  const square = dx * dx + dy * dy
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square))
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy)
}

/** Match crosses of a page in the plan: the middles of their strokes, each cross once. */
export function crossesOf({ sheet, page }: ReadSheet): readonly Point[] {
  const middles = page.paths
    .filter((path) => path.role === 'match')
    .map((path) => {
      const to = path.segments.at(-1)?.to ?? path.start
      return pageToPlanByHand(sheet, { x: (path.start.x + to.x) / 2, y: (path.start.y + to.y) / 2 })
    })
  return middles.filter((p, i) => middles.findIndex((q) => Math.hypot(p.x - q.x, p.y - q.y) < 0.5) === i)
}
