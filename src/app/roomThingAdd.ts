import { pointDistance, pointLerp, polylineSides, ringContains, segmentIntersection } from '../core/geom/index.ts'
import type { Point } from '../core/geom/types.ts'
import type { PlanCommand } from '../core/edit/types.ts'
import type { Benchwork, TableName, Track, Wall } from '../core/plan/types.ts'
import { hatchUsual, joistUsual, openingUsual, portalUsual, wallMiddle } from '../tools/index.ts'
import type { Stores } from './context.ts'
import { planEdit } from './planEdit.ts'

/* Things of the room without a pointer: each lands in the middle of what it belongs to, to be moved or typed into its place. */

function add(stores: Stores, table: TableName, command: PlanCommand): void {
  const { added } = planEdit(stores, command)
  if (added !== null) stores.session.getState().select({ kind: 'record', table, id: added })
}

/** A door in the middle of the longest side of a wall. */
export function doorAddIn(stores: Stores, wall: Wall): void {
  const { plan } = stores.plan.getState()
  const record = openingUsual(plan, stores.prefs.getState().units, wall, wallMiddle(wall), 'door', { hinge: 'from', side: 'left' })
  add(stores, 'openings', { kind: 'opening.add', record })
}

/** A joist across a piece of benchwork, square to the middle of its longest side. */
export function joistAddUnder(stores: Stores, piece: Benchwork): void {
  const across = acrossLongest(piece)
  if (across === null) return
  const { plan } = stores.plan.getState()
  add(stores, 'joists', { kind: 'joist.add', record: joistUsual(plan, stores.prefs.getState().units, across.from, across.to) })
}

/** A square hatch of the least size half way across a piece of benchwork. */
export function hatchAddIn(stores: Stores, piece: Benchwork): void {
  const across = acrossLongest(piece)
  if (across === null) return
  const { plan } = stores.plan.getState()
  const half = plan.railway.hatchMm / 2
  const { x, y } = pointLerp(across.from, across.to, 0.5)
  const outline = [
    { x: x - half, y: y - half },
    { x: x + half, y: y - half },
    { x: x + half, y: y + half },
    { x: x - half, y: y + half },
  ]
  add(stores, 'hatches', { kind: 'hatch.add', record: hatchUsual(plan, outline) })
}

/** A portal half way along a track. */
export function portalAddOn(stores: Stores, track: Track): void {
  const host = stores.derived.getState().derived.network.tracks.get(track.id)
  if (host === undefined || !host.alignment.ok) {
    stores.session.getState().setNotice('A portal stands on a line; this one is not solved yet.')
    return
  }
  const record = portalUsual(stores.plan.getState().plan, track.id, host.lineClass, host.alignment.path.lengthMm / 2)
  add(stores, 'portals', { kind: 'portal.add', record })
}

/** From the middle of the longest side of an outline straight across it; null: an outline without inside. */
function acrossLongest({ outline }: Benchwork): { readonly from: Point; readonly to: Point } | null {
  const sides = polylineSides(outline, true)
  const [longest] = sides.toSorted((one, other) => other.lengthMm - one.lengthMm)
  if (longest === undefined) return null
  const { lengthMm } = longest
  const from = pointLerp(longest.a, longest.b, 0.5)
  const normal = { x: -(longest.b.y - longest.a.y) / lengthMm, y: (longest.b.x - longest.a.x) / lengthMm }
  const inward = ringContains(outline, { x: from.x + normal.x, y: from.y + normal.y }) ? 1 : -1
  const at = (mm: number): Point => ({ x: from.x + inward * normal.x * mm, y: from.y + inward * normal.y * mm })
  const reachMm = sides.reduce((sum, side) => sum + side.lengthMm, 0)
  const [to] = sides
    .flatMap(({ a, b }) => segmentIntersection(at(1), at(reachMm), a, b)?.at ?? [])
    .toSorted((one, other) => pointDistance(from, one) - pointDistance(from, other))
  return to === undefined ? null : { from, to: { x: to.x, y: to.y } }
}
