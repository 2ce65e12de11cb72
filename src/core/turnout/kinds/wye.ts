import { noSpread } from '../closure.ts'
import {
  pathFromElements,
  pathMirror,
  pathNearest,
  pathOffset,
  pathPoseAt,
  pathSlice,
  pathStart,
  poseMirror,
  rootBrent,
  pathsJoined,
} from '../../geom/index.ts'
import type { CurveElement, Path, Pose } from '../../geom/types.ts'
import { arc, chainStart, straight } from '../bend.ts'
import { frogAngle } from '../frog.ts'
import { pointsSolve } from '../points.ts'
import type { Points } from '../points.ts'
import type { Divergence, RouteName, TurnoutProblem, TurnoutRequest } from '../types.ts'
import { asLaid, closureOrdinatesAlong, tightestRadius } from './branch.ts'
import { hostForRequest, hostStraightFrom } from './host.ts'
import { stockRail, stockRailFrom } from './stock.ts'
import type { StockRail } from './stock.ts'
import { gaugeLine } from './types.ts'
import type { LinesResult } from './types.ts'

/** Shares of the frog angle that a route of a wye may turn. Nearer to none or all it is a plain turnout. */
const leastShare = 0.1
/** Points that only just turn less than the frog on a straight host may not in a wye: its stock rails part by a little more. */
const longerPoints = 1.05
const angleToleranceRad = 1e-15
const thicknessRounds = 8

/** Both points of a wye turn by their share of the switch angle; tips stand their share of a thickness inside the host's gauge lines. */
interface WyePoints {
  readonly heelAngleRad: number
  readonly thicknessMm: number
}

/** One route of a wye seen as though it turned to the left. */
interface WyeSide {
  readonly share: number
  readonly request: TurnoutRequest
  readonly points: Points
  readonly outer: Path
  readonly closure: CurveElement
  readonly stock: StockRail
  readonly centre: Path
}

/**
 * A wye: both routes turn from a straight host, the one to the turnout's hand by `share` of the frog angle F and of the switch angle S,
 * the other by the rest. Each outer rail is a point, one arc and a straight through the frog that they share:
 *
 *   x = x1 + R1 (sin F1 - sin S1) + u cos F1 =  x2 + R2 (sin F2 - sin S2) + u cos F2
 *   y = y1 + R1 (cos S1 - cos F1) + u sin F1 = -y2 - R2 (cos S2 - cos F2) - u sin F2,   F1 + F2 = F, S1 + S2 = S
 *
 * with (x1, y1), (x2, -y2) the heels: linear in both radii. The point of the larger share stands t and h off its stock rail at tip
 * and heel, in an equal wye both do: the stock rail taken to go on at the heel as it is in the points, which is a few
 * ten-thousandths of a millimetre in HO.
 *
 * Domain:    share 0.1 to 0.9; the host straight as far as the stock rails are bent ahead of PS.
 * Exactness: up to rounding; spreads to 1e-12 mm. Source: derived.
 */
export function wyeLines(asked: TurnoutRequest, share: number): LinesResult {
  const fail = (problem: TurnoutProblem): LinesResult => ({ ok: false, problem })
  if (!(share >= leastShare && share <= 1 - leastShare))
    return fail({ kind: 'shareOutOfRange', share, min: leastShare, max: 1 - leastShare })
  const request: TurnoutRequest = { ...asked, host: null }
  const frogAngleRad = frogAngle(request.frog, request.frogDefinition)
  const host = hostForRequest(request, frogAngleRad)
  const base = pointsSolve(request, frogAngleRad)
  if (!base.ok) return base
  const shares = [share, 1 - share] as const
  const points = wyePoints(request, base.points, share, frogAngleRad)
  if (!host || !points) {
    const minPointLengthMm = request.pointLengthMm * longerPoints
    return fail({ kind: 'switchAngleTooLarge', switchAngleRad: base.points.heelAngleRad, frogAngleRad, minPointLengthMm })
  }
  const tips = shares.map((part) => tipOf(request, part, points))
  const parts = shares.map((part) => pointElement(request, base.points, part, points))
  const heels = tips.map((tip, i) => pathFromElements(tip, parts[i] ? [parts[i]] : []).end)
  const closed = closures(request, shares, heels, points, frogAngleRad)
  if (!closed.ok) return closed
  const sides = shares.map((part, i): WyeSide | null => {
    const [tip, point, closure] = [tips[i], parts[i], closed.arcs[i]]
    if (!tip || !point || !closure) return null
    return sideOf(request, host, base.points, part, points, { tip, point, closure })
  })
  const [left, right] = sides
  if (!left || !right) return fail(noSpread(request.gaugeMm))
  const frontMm = Math.min(left.stock.frontMm, right.stock.frontMm)
  const bent = asked.host === null ? null : hostStraightFrom(asked.host, frontMm)
  if (bent) return fail(bent)

  const { gaugeMm, pointLengthMm, toeLengthMm, heelLengthMm } = request
  const [stockLeft, stockRight] = [stockRailFrom(host, left.stock, frontMm), pathMirror(stockRailFrom(host, right.stock, frontMm))]
  const otherOuter = pathMirror(right.outer)
  const routes = [
    { name: 'curved', centre: left.centre, gaugeMm },
    { name: 'other', centre: pathMirror(right.centre), gaugeMm },
  ] as const
  const frogPose = pathPoseAt(left.outer, left.outer.lengthMm - heelLengthMm)
  const overallMm = Math.max(left.outer.end.x, right.outer.end.x)
  const closureOf = (side: WyeSide): Path => pathSlice(side.outer, pointLengthMm, pointLengthMm + side.closure.lengthMm)
  const ordinates = closureOrdinatesAlong(stockRight, closureOf(left))
  const divergences: readonly Divergence[] = [
    divergence('curved', left, frogAngleRad, frogPose.x, ordinates),
    divergence('other', right, frogAngleRad, frogPose.x, closureOrdinatesAlong(pathMirror(stockLeft), closureOf(right))),
  ]
  return {
    ok: true,
    lines: {
      request,
      host,
      routes,
      lines: [
        gaugeLine('other', 'right', stockRight),
        gaugeLine('curved', 'left', stockLeft),
        {
          ...gaugeLine('other', 'left', otherOuter),
          pointAtStart: { lengthMm: pointLengthMm, against: { route: 'curved', side: 'left' } },
        },
        {
          ...gaugeLine('curved', 'right', left.outer),
          pointAtStart: { lengthMm: pointLengthMm, against: { route: 'other', side: 'right' } },
        },
      ],
      divergences,
      legs: [
        { leg: 'diverging', route: 'curved', pose: left.centre.end },
        { leg: 'other', route: 'other', pose: poseMirror(right.centre.end) },
      ],
      main: {
        points: { ...left.points, heelAngleRad: points.heelAngleRad },
        frogAngleRad,
        leadMm: frogPose.x,
        frogPoint: { x: frogPose.x, y: frogPose.y },
        closureGaugeLineRadiusMm: 1 / Math.abs(left.closure.k0),
        closureRadiusMm: Math.abs(1 / left.closure.k0 - gaugeMm / 2),
        closureCurvedMm: left.closure.lengthMm,
        closureStraightMm: right.closure.lengthMm,
        radiusMm: tightestRadius(left.centre),
        ordinates,
      },
      hasHostTrack: false,
      frontMm,
      overallMm,
      heads: [{ stationMm: 0, ahead: 1, side: 1 }],
      stressed: [
        { fromMm: 0, toMm: left.points.heelXMm },
        { fromMm: frogPose.x - toeLengthMm, toMm: overallMm },
      ],
    },
  }
}

function divergence(
  route: RouteName,
  { points, closure, request, centre }: WyeSide,
  frogAngleRad: number,
  leadMm: number,
  ordinates: Divergence['ordinates'],
): Divergence {
  return {
    route,
    frogAngleRad,
    switchAngleRad: points.heelAngleRad,
    leadMm,
    radiusMm: tightestRadius(centre),
    closureRadiusMm: Math.abs(1 / closure.k0 - request.gaugeMm / 2),
    ordinates,
    ...asLaid,
  }
}

function tipOf({ gaugeMm, points, entryAngleRad }: TurnoutRequest, share: number, { thicknessMm, heelAngleRad }: WyePoints): Pose {
  const entry = points === 'straight' ? heelAngleRad : entryAngleRad
  return { x: 0, y: share * thicknessMm - gaugeMm / 2, headingRad: share * entry }
}

function pointElement(
  { pointLengthMm, entryAngleRad }: TurnoutRequest,
  base: Points,
  share: number,
  { heelAngleRad }: WyePoints,
): CurveElement {
  const turn = share * (heelAngleRad - entryAngleRad)
  return base.radiusMm === null ? straight(pointLengthMm) : arc(pointLengthMm / turn, turn)
}

/**
 * Switch angle and thickness for which the point of the larger share stands t off its stock rail at the tip and h at the heel. That stock rail
 * keeps the gauge off the other point: so it is its line, offset, and run on ahead.
 */
function wyePoints(request: TurnoutRequest, base: Points, share: number, frogAngleRad: number): WyePoints | null {
  const { gaugeMm, pointThicknessMm, heelSpreadMm, pointLengthMm } = request
  const [large, small] = share >= 0.5 ? [share, 1 - share] : [1 - share, share]
  const spreads = (points: WyePoints): readonly [number, number] => {
    const point = pathFromElements(tipOf(request, large, points), [pointElement(request, base, large, points)])
    const other = pathFromElements(tipOf(request, small, points), [pointElement(request, base, small, points)])
    const stock = pathMirror(pathOffset(runOnBoth(other, gaugeMm + pointLengthMm), gaugeMm))
    return [pathNearest(stock, pathStart(point)).offsetMm, pathNearest(stock, point.end).offsetMm]
  }
  const withTip = (heelAngleRad: number): WyePoints => {
    let thicknessMm = pointThicknessMm
    for (let round = 0; round < thicknessRounds; round++) thicknessMm += pointThicknessMm - spreads({ heelAngleRad, thicknessMm })[0]
    return { heelAngleRad, thicknessMm }
  }
  const least = base.radiusMm === null ? base.heelAngleRad / 2 : request.entryAngleRad + (base.heelAngleRad - request.entryAngleRad) / 2
  const most = Math.min(frogAngleRad, 2 * base.heelAngleRad)
  const root = rootBrent((heelAngleRad) => spreads(withTip(heelAngleRad))[1] - heelSpreadMm, least, most, angleToleranceRad)
  return root.ok && root.x < frogAngleRad ? withTip(root.x) : null
}

/** A path run on at both ends at the curvatures that it has there. */
function runOnBoth(path: Path, byMm: number): Path {
  const [first, last] = [path.elements[0]?.k0 ?? 0, path.elements[path.elements.length - 1]?.k1 ?? 0]
  const ahead: CurveElement = { lengthMm: byMm, k0: first, k1: first }
  const behind: CurveElement = { lengthMm: byMm, k0: last, k1: last }
  return pathsJoined([pathFromElements(chainStart([ahead], pathStart(path)), [ahead]), path, pathFromElements(path.end, [behind])])
}

type Closures = { readonly ok: true; readonly arcs: readonly CurveElement[] } | { readonly ok: false; readonly problem: TurnoutProblem }

/** Both closure arcs from the two equations for the frog's place. */
function closures(
  { gaugeMm, toeLengthMm: u }: TurnoutRequest,
  shares: readonly [number, number],
  heels: readonly Pose[],
  { heelAngleRad }: WyePoints,
  frogAngleRad: number,
): Closures {
  const [first, second] = shares.map((share, i) => {
    const [s, f] = [share * heelAngleRad, share * frogAngleRad]
    const heel = heels[i] ?? { x: 0, y: 0 }
    return {
      turn: f - s,
      // sin F - sin S and cos S - cos F as products: for small angles the differences would lose half their digits.
      run: 2 * Math.cos((f + s) / 2) * Math.sin((f - s) / 2),
      rise: 2 * Math.sin((f + s) / 2) * Math.sin((f - s) / 2),
      x: heel.x + u * Math.cos(f),
      y: heel.y + u * Math.sin(f),
    }
  })
  if (!first || !second) return { ok: false, problem: noSpread(gaugeMm) }
  const rise = -(first.y + second.y)
  const run = second.x - first.x
  const firstRadius = (rise * second.run + run * second.rise) / (first.run * second.rise + second.run * first.rise)
  const secondRadius = (first.run * firstRadius - run) / second.run
  const least = Math.min(firstRadius, secondRadius)
  if (!(least > gaugeMm)) return { ok: false, problem: noSpread((gaugeMm - least) * (first.rise + second.rise)) }
  return { ok: true, arcs: [arc(firstRadius, first.turn), arc(secondRadius, second.turn)] }
}

function sideOf(
  asked: TurnoutRequest,
  host: NonNullable<ReturnType<typeof hostForRequest>>,
  base: Points,
  share: number,
  { heelAngleRad, thicknessMm }: WyePoints,
  { tip, point, closure }: { readonly tip: Pose; readonly point: CurveElement; readonly closure: CurveElement },
): WyeSide | null {
  const { gaugeMm, toeLengthMm, heelLengthMm, heelSpreadMm, pointThicknessMm } = asked
  const t = share * thicknessMm
  // Only what the bend of the stock rail is measured by.
  const request: TurnoutRequest = { ...asked, pointThicknessMm: t, heelSpreadMm: t + share * (heelSpreadMm - pointThicknessMm) }
  const pointPath = pathFromElements(tip, [point])
  const outer = pathFromElements(tip, [point, closure, straight(toeLengthMm + heelLengthMm)])
  const points: Points = {
    entryAngleRad: tip.headingRad,
    heelAngleRad: share * heelAngleRad,
    radiusMm: base.radiusMm === null ? null : 1 / Math.abs(point.k0),
    heelXMm: pointPath.end.x,
  }
  const stock = stockRail(host, request, points, pathOffset(outer, gaugeMm), pathOffset(pointPath, gaugeMm).lengthMm)
  return stock && { share, request, points, outer, closure, stock, centre: pathOffset(outer, gaugeMm / 2) }
}
