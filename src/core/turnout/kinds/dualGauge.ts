import {
  pathFromElements,
  pathIntersections,
  pathMove,
  pathNearest,
  pathOffset,
  pathPoseAt,
  pathSlice,
  pathStart,
} from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import { straight } from '../bend.ts'
import { frogAngle } from '../frog.ts'
import type { SharedKind, TurnoutRequest } from '../types.ts'
import { sideSign } from '../work/side.ts'
import type { GaugeLine, PointRail, RouteName, Side, WorkRoute } from '../work/types.ts'
import { branchSolve, divergenceOf } from './branch.ts'
import type { Branch } from './branch.ts'
import { hostForRequest, hostPoseAt, hostStationOf } from './host.ts'
import type { Host } from './host.ts'
import { stockRail } from './stock.ts'
import { gaugeLine } from './types.ts'
import type { LinesResult } from './types.ts'
import { meetingToleranceMm } from '../work/meetings.ts'

type DualKind = Extract<SharedKind, { kind: 'dual-gauge' }>

/**
 * A left-hand turnout where a smaller gauge shares a rail with the host's: three rails into it, and as many out on each side as the
 * diverging route has gauges. Each gauge's own rail runs as its offset from the rail that both share, so one solution of the closure
 * serves both: that of the gauge that diverges, of the wider when both do. Whatever then crosses makes its frog; where
 * the narrow track's outer rail crosses the wide track's that is an elbow.
 *
 * Source: derived; routes and rails as any turnout's.
 */
export function dualGaugeLines(request: TurnoutRequest, kind: DualKind): LinesResult {
  const { gaugeMm } = request
  const { narrowGaugeMm, common, diverging } = kind
  if (!(narrowGaugeMm > gaugeMm / 4 && narrowGaugeMm < gaugeMm - request.flangewayMm - request.railHeadMm)) {
    const most = gaugeMm - request.flangewayMm - request.railHeadMm
    const because = 'so that a head and a flangeway fit between the third rail and the wide one'
    return { ok: false, problem: { kind: 'badValue', where: 'gaugeMm', value: narrowGaugeMm, least: gaugeMm / 4, most, because } }
  }
  const frogAngleRad = frogAngle(request.frog, request.frogDefinition)
  const wideHost = hostForRequest(request, frogAngleRad)
  if (!wideHost) return { ok: false, problem: { kind: 'tooSharp' } }
  const narrowHost = narrowed(wideHost, narrowGaugeMm, common)
  const own = diverging === 'narrow' ? narrowHost : wideHost
  const asked = { ...request, gaugeMm: own.gaugeMm, checkGaugeMm: request.checkGaugeMm - (gaugeMm - own.gaugeMm) }
  // A branch is solved with its host's centreline through the origin: that of the smaller gauge lies beside it.
  const aside = pathPoseAt(own.centre, own.psMm).y
  const result = branchSolve(asked, hostMoved(own, -aside), frogAngleRad)
  if (!result.ok) return result
  const branch = branchMoved(result.branch, aside)
  const { frontMm } = branch
  const stocks = divergingRails(request, wideHost, narrowHost, branch, kind)
  if (!stocks) return { ok: false, problem: { kind: 'tooSharp' } }
  const { lines, overallMm, routes } = stocks
  return {
    ok: true,
    lines: {
      request,
      host: wideHost,
      routes,
      lines,
      divergences: [divergenceOf(diverging === 'narrow' ? 'narrow-curved' : 'curved', branch)],
      legs: [{ leg: 'diverging', route: diverging === 'narrow' ? 'narrow-curved' : 'curved', pose: branch.centre.end }],
      main: branch,
      hasHostTrack: true,
      frontMm,
      overallMm,
      heads: [{ stationMm: 0, ahead: 1, side: 1 }],
      stressed: [
        { fromMm: 0, toMm: branch.points.heelXMm },
        { fromMm: branch.leadMm - request.toeLengthMm, toMm: overallMm },
      ],
    },
  }
}

/** The same host for the smaller gauge, which lies to the common side. */
function narrowed(host: Host, narrowGaugeMm: number, common: Side): Host {
  const shift = sideSign(common) * ((host.gaugeMm - narrowGaugeMm) / 2)
  const third = pathOffset(host.centre, sideSign(common) * (host.gaugeMm / 2 - narrowGaugeMm))
  return {
    centre: pathOffset(host.centre, shift),
    psMm: host.psMm,
    left: common === 'left' ? host.left : third,
    right: common === 'left' ? third : host.right,
    gaugeMm: narrowGaugeMm,
  }
}

function hostMoved(host: Host, y: number): Host {
  const moved = (path: Path): Path => pathMove(path, { x: 0, y, headingRad: 0 })
  return { ...host, centre: moved(host.centre), left: moved(host.left), right: moved(host.right) }
}

function branchMoved(branch: Branch, y: number): Branch {
  const moved = (path: Path): Path => pathMove(path, { x: 0, y, headingRad: 0 })
  return {
    ...branch,
    outer: moved(branch.outer),
    inner: moved(branch.inner),
    stock: moved(branch.stock),
    centre: moved(branch.centre),
    frogPoint: { x: branch.frogPoint.x, y: branch.frogPoint.y + y },
  }
}

interface Rails {
  readonly lines: readonly GaugeLine[]
  readonly routes: readonly WorkRoute[]
  readonly overallMm: number
}

/** All gauge lines; null when the narrow track's stock rail finds no room for its bend. */
function divergingRails(
  request: TurnoutRequest,
  wide: Host,
  narrow: Host,
  branch: Branch,
  { common, diverging, narrowGaugeMm }: DualKind,
): Rails | null {
  const { gaugeMm, pointLengthMm, heelLengthMm } = request
  const [hasWide, hasNarrow] = [diverging !== 'narrow', diverging !== 'wide']
  const far = farthestFrog(wide, branch.outer, hasNarrow ? pathOffset(branch.outer, narrowGaugeMm) : null, hasNarrow)
  const overallMm = Math.max(branch.overallMm, hostStationOf(wide, 'left', far) + heelLengthMm)
  const run = overallMm - branch.overallMm
  const onwards = (path: Path): Path => pathFromElements(pathStart(path), [...path.elements, straight(run)])
  const outer = onwards(branch.outer)
  const abreast = (path: Path, fromPsMm: number): number => pathNearest(path, hostPoseAt(wide, fromPsMm)).stationMm
  const hostPart = (host: Host, side: Side, fromMm: number): Path =>
    pathSlice(host[side], abreast(host[side], fromMm), abreast(host[side], overallMm))
  const point = (route: RouteName, side: Side): PointRail => ({ lengthMm: pointLengthMm, against: { route, side } })
  const both = [gaugeMm, narrowGaugeMm]
  const lines: GaugeLine[] = []
  const routes: WorkRoute[] = [
    { name: 'straight', centre: pathSlice(wide.centre, wide.psMm, wide.psMm + overallMm), gaugeMm },
    {
      name: 'narrow-straight',
      centre: pathSlice(narrow.centre, abreast(narrow.centre, 0), abreast(narrow.centre, overallMm)),
      gaugeMm: narrowGaugeMm,
    },
  ]
  const lead: RouteName = hasWide ? 'curved' : 'narrow-curved'
  const sharedGauges = (side: Side, isNarrowToo: boolean): readonly number[] => (side === common && isNarrowToo ? both : [gaugeMm])

  // The through tracks: wide left and right, and the third rail.
  const hasLeftPoint = hasWide || common === 'left'
  lines.push({ ...gaugeLine('straight', 'right', hostPart(wide, 'right', branch.frontMm)), gaugesMm: sharedGauges('right', true) })
  lines.push({
    ...gaugeLine('straight', 'left', hostPart(wide, 'left', hasLeftPoint ? 0 : branch.frontMm)),
    pointAtStart: hasLeftPoint ? point(lead, 'left') : null,
    gaugesMm: sharedGauges('left', true),
  })
  const third: Side = common === 'left' ? 'right' : 'left'
  const thirdIsPoint = third === 'left' && hasNarrow
  lines.push({
    ...gaugeLine('narrow-straight', third, hostPart(narrow, third, thirdIsPoint ? 0 : branch.frontMm)),
    pointAtStart: thirdIsPoint ? point('narrow-curved', 'left') : null,
    gaugesMm: [narrowGaugeMm],
  })
  // The diverging tracks.
  const inner = onwards(branch.stock)
  if (hasWide) {
    routes.push({ name: 'curved', centre: onwards(branch.centre), gaugeMm })
    lines.push({ ...gaugeLine('curved', 'left', inner), gaugesMm: sharedGauges('left', hasNarrow) })
    lines.push({
      ...gaugeLine('curved', 'right', outer),
      pointAtStart: point('straight', 'right'),
      gaugesMm: sharedGauges('right', hasNarrow),
    })
  }
  if (!hasNarrow) return { lines, routes, overallMm }
  if (!hasWide) {
    const against: RouteName = common === 'right' ? 'straight' : 'narrow-straight'
    routes.push({ name: 'narrow-curved', centre: onwards(branch.centre), gaugeMm: narrowGaugeMm })
    lines.push({ ...gaugeLine('narrow-curved', 'left', inner), gaugesMm: [narrowGaugeMm] })
    lines.push({ ...gaugeLine('narrow-curved', 'right', outer), pointAtStart: point(against, 'right'), gaugesMm: [narrowGaugeMm] })
    return { lines, routes, overallMm }
  }
  if (common === 'left') {
    const own = pathOffset(outer, gaugeMm - narrowGaugeMm)
    routes.push({ name: 'narrow-curved', centre: pathOffset(outer, gaugeMm - narrowGaugeMm / 2), gaugeMm: narrowGaugeMm })
    lines.push({ ...gaugeLine('narrow-curved', 'right', own), pointAtStart: point('narrow-straight', 'right'), gaugesMm: [narrowGaugeMm] })
    return { lines, routes, overallMm }
  }
  const own = pathOffset(outer, narrowGaugeMm)
  const heelMm = pathOffset(pathSlice(outer, 0, branch.pointMm), narrowGaugeMm).lengthMm
  const stock = stockRail(narrow, { ...request, gaugeMm: narrowGaugeMm }, branch.points, own, heelMm)
  if (!stock) return null
  routes.push({ name: 'narrow-curved', centre: pathOffset(outer, narrowGaugeMm / 2), gaugeMm: narrowGaugeMm })
  lines.push({ ...gaugeLine('narrow-curved', 'left', stock.path), gaugesMm: [narrowGaugeMm] })
  return { lines, routes, overallMm }
}

/** Station on the host's left gauge line of the last frog on it. */
function farthestFrog(host: Host, outer: Path, own: Path | null, isNarrow: boolean): number {
  const farAhead = straight(host.left.lengthMm)
  const lines = [outer, ...(own && isNarrow ? [own] : [])].map((path) => pathFromElements(pathStart(path), [...path.elements, farAhead]))
  const stations = lines.flatMap((line) => pathIntersections(host.left, line, meetingToleranceMm).map(({ stationA }) => stationA))
  return Math.max(0, ...stations)
}
