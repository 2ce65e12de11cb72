import { pathIntersections, pathMirror, pathMove, pathNearest, pathPoseAt, pathSlice, poseCompose, poseMirror } from '../../geom/index.ts'
import type { PathMeeting } from '../../geom/index.ts'
import type { Path, Pose } from '../../geom/types.ts'
import { frogAngle, frogDistances, frogLengthsAt } from '../frog.ts'
import { coverBehindFlangeways, frogLengthsLeast, frogRange } from '../requestCheck.ts'
import { openOnBothSides, throwOf } from '../throw.ts'
import type { GaugeLine, TurnoutProblem, TurnoutRail, TurnoutRequest } from '../types.ts'
import { railClear } from '../work/clear.ts'
import { branchSolve, divergenceOf } from './branch.ts'
import type { Branch } from './branch.ts'
import { hostForRequest, hostMirror, hostPoseAt, hostRail } from './host.ts'
import type { Host } from './host.ts'
import { stockRailFrom } from './stock.ts'
import { gaugeLine } from './types.ts'
import type { LinesResult } from './types.ts'
import { meetingToleranceMm } from '../work/meetings.ts'

const lapSteps = 40
/**
 * Beside a rail of the through route a wing of the frog between the others keeps so many flangeways away: it is not flared towards
 * those wheels, and they play by more than a flangeway where nothing guides them in.
 */
const asideFlangeways = 1.5

/** The second diverging route, to the right, in the frame of the first's PS. */
interface Second {
  readonly branch: Branch
  readonly host: Host
  readonly request: TurnoutRequest
  readonly place: (path: Path) => Path
  readonly pose: (pose: Pose) => Pose
}

type Solved =
  | { readonly ok: true; readonly host: Host; readonly first: Branch; readonly second: Second }
  | Extract<LinesResult, { ok: false }>

/**
 * A three-way turnout: a second route diverges to the other hand, its PS `secondAfterMm` behind the first. 0: both switches at one place, their
 * blades double, the inner of each pair lying against the outer. Each diverging route is that of a plain turnout. Three frogs:
 * one where the two diverging routes cross, one for each with the through route.
 *
 * Outcome:  the lines; or what has no room, points or frogs, and between which laps it has. Points: the second tips lie where the first
 *           blades have their heel and their rails leave room for an open blade. Frogs: between two on one rail there is the
 *           shortest heel of the one and the shortest toe of the other, and the wings leave the through route its flangeway.
 */
export function threeWayLines(request: TurnoutRequest, secondFrog: number, secondAfterMm: number): LinesResult {
  if (!(secondFrog >= frogRange.min && secondFrog <= frogRange.max)) {
    return { ok: false, problem: { kind: 'frogOutOfRange', frog: secondFrog, ...frogRange } }
  }
  const solved = solveAt(request, secondFrog, secondAfterMm)
  if (!solved.ok) return solved
  const { host, first } = solved
  const isDouble = secondAfterMm === 0
  if (isDouble && frogsFit(request, solved)) return linesLaid(request, solved, 0)
  const leastMm = lapLeast(request, host, first)
  if (!isDouble && !(secondAfterMm >= leastMm)) {
    return {
      ok: false,
      problem: { kind: 'noRoomForSecond', what: 'points', secondAfterMm, leastMm, mostMm: lapMost(request, secondFrog, leastMm, first) },
    }
  }
  if (!frogsFit(request, solved)) {
    const mostMm = lapMost(request, secondFrog, leastMm, first)
    const problem: TurnoutProblem = {
      kind: 'noRoomForSecond',
      what: 'frogs',
      secondAfterMm,
      leastMm: mostMm === null ? null : leastMm,
      mostMm,
    }
    return { ok: false, problem }
  }
  return linesLaid(request, solved, secondAfterMm)
}

function solveAt(request: TurnoutRequest, secondFrog: number, secondAfterMm: number): Solved {
  const [firstRad, secondRad] = [request.frog, secondFrog].map((frog) => frogAngle(frog, request.frogDefinition))
  const host = hostForRequest(request, Math.min(firstRad ?? 0, secondRad ?? 0))
  if (!host) return { ok: false, problem: { kind: 'tooSharp' } }
  const lap = secondAfterMm >= 0 ? Math.min(secondAfterMm, host.centre.lengthMm - host.psMm) : 0
  const { toeMm, heelMm } = frogLengthsAt(request, firstRad ?? 0, secondRad ?? 0)
  const behind = request.host && { path: request.host.path, psMm: request.host.psMm + lap }
  const secondRequest: TurnoutRequest = { ...request, frog: secondFrog, toeLengthMm: toeMm, heelLengthMm: heelMm, host: hostMirror(behind) }
  const secondHost = hostForRequest(secondRequest, secondRad ?? 0, lap)
  if (!secondHost) return { ok: false, problem: { kind: 'tooSharp' } }
  const first = branchSolve(request, host, firstRad ?? 0)
  if (!first.ok) return first
  const second = branchSolve(secondRequest, secondHost, secondRad ?? 0)
  if (!second.ok) return second
  const frame = hostPoseAt(host, lap)
  return {
    ok: true,
    host,
    first: first.branch,
    second: {
      branch: second.branch,
      host: secondHost,
      request: secondRequest,
      place: (path) => pathMove(pathMirror(path), frame),
      pose: (pose) => poseCompose(frame, poseMirror(pose)),
    },
  }
}

/** The least lap: behind the heel of the first point, and where its rail stands so far off that an open second blade and its head clear it. */
function lapLeast(request: TurnoutRequest, host: Host, first: Branch): number {
  const { pointThicknessMm, railHeadMm, pointLengthMm } = request
  const clear = throwOf(request) + pointThicknessMm + railHeadMm
  let [near, far] = [pointLengthMm, first.outer.lengthMm]
  const off = (along: number): number => pathNearest(host.right, pathPoseAt(first.outer, along)).offsetMm
  if (off(near) < clear) {
    for (let i = 0; i < lapSteps; i++) {
      const middle = (near + far) / 2
      if (off(middle) < clear) near = middle
      else far = middle
    }
    near = far
  }
  return pathNearest(host.centre, pathPoseAt(first.outer, near)).stationMm - host.psMm
}

/** The most lap from the least on at which the frogs still have room; null: none. */
function lapMost(request: TurnoutRequest, secondFrog: number, leastMm: number, first: Branch): number | null {
  const fits = (lap: number): boolean => {
    const solved = solveAt(request, secondFrog, lap)
    return solved.ok && frogsFit(request, solved)
  }
  if (!fits(leastMm)) return null
  let [does, doesNot] = [leastMm, leastMm + first.overallMm]
  for (let i = 0; i < lapSteps; i++) {
    const middle = (does + doesNot) / 2
    if (fits(middle)) does = middle
    else doesNot = middle
  }
  return does
}

/** Where the outer rails of the two diverging routes cross. */
function crotchOf(first: Branch, second: Second): PathMeeting | undefined {
  return pathIntersections(first.outer, second.place(second.branch.outer), meetingToleranceMm).at(-1)
}

/** The wings of the frog between the diverging routes, cut short where they would come too near to a rail of the through route. */
function wingsClear(
  request: TurnoutRequest,
  rails: readonly TurnoutRail[],
  crotch: PathMeeting | undefined,
  through: readonly GaugeLine[],
): readonly TurnoutRail[] {
  if (!crotch) return rails
  const near = (rail: TurnoutRail): number => pathNearest(rail.gaugeLine, crotch.at).distanceMm
  const own = (['wing-curved', 'wing-other'] as const).map(
    (role) => rails.filter((rail) => rail.role === role).toSorted((a, b) => near(a) - near(b))[0],
  )
  const flangewayMm = asideFlangeways * request.flangewayMm
  const wide = { ...request, flangewayMm, checkGaugeMm: request.gaugeMm - flangewayMm }
  return rails.map((rail) => {
    if (!own.includes(rail)) return rail
    const abreastMm = pathNearest(rail.gaugeLine, crotch.at).stationMm
    return railClear(rail, abreastMm, through, wide, request.gaugeMm).rail ?? rail
  })
}

/**
 * Whether all three frogs are there and leave each other room: on the outer rail of each diverging route the heel of the first and
 * the toe of the second; and beside the first's wing, as far as it must reach, a flangeway for the wheels of the through route.
 */
function frogsFit(request: TurnoutRequest, { host, first, second }: Extract<Solved, { ok: true }>): boolean {
  const { flangewayMm, railHeadMm } = request
  const left = second.place(second.branch.outer)
  const crotch = crotchOf(first, second)
  if (!crotch) return false
  const angleRad = Math.abs(crotch.angleRad)
  const { heelMm } = frogLengthsLeast(angleRad, request)
  const wingMm = frogDistances(angleRad, request).halfInch + coverBehindFlangeways * flangewayMm
  const fits = (crotchMm: number, line: Path, through: Path, branch: Branch, behindMm: number): boolean => {
    const toeMm = line.lengthMm - behindMm - frogLengthsLeast(branch.frogAngleRad, request).toeMm
    const aside = pathNearest(through, pathPoseAt(line, Math.min(line.lengthMm, crotchMm + wingMm))).distanceMm
    return crotchMm + heelMm <= toeMm && aside >= (1 + asideFlangeways) * flangewayMm + railHeadMm
  }
  return (
    fits(crotch.stationA, first.outer, host.left, first, request.heelLengthMm) &&
    fits(crotch.stationB, left, host.right, second.branch, second.request.heelLengthMm)
  )
}

function linesLaid(request: TurnoutRequest, { host, first, second }: Extract<Solved, { ok: true }>, lapMm: number): LinesResult {
  const { gaugeMm, pointLengthMm, toeLengthMm } = request
  const frontMm = Math.min(first.frontMm, lapMm + second.branch.frontMm)
  const overallMm = Math.max(first.overallMm, lapMm + second.branch.overallMm)
  const secondStock = second.place(
    stockRailFrom(second.host, { path: second.branch.stock, frontMm: second.branch.frontMm }, frontMm - lapMm),
  )
  const point = (route: 'straight' | 'curved' | 'other', side: 'left' | 'right') =>
    ({ lengthMm: pointLengthMm, against: { route, side } }) as const
  const throughLeft: GaugeLine = {
    ...gaugeLine('straight', 'left', hostRail(host, 'left', 0, overallMm)),
    pointAtStart: point('curved', 'left'),
  }
  const throughRight: GaugeLine = {
    ...gaugeLine('straight', 'right', hostRail(host, 'right', lapMm, overallMm)),
    pointAtStart: point('other', 'right'),
  }
  const through = pathSlice(host.centre, host.psMm, host.psMm + overallMm)
  return {
    ok: true,
    lines: {
      request,
      host,
      routes: [
        { name: 'straight', centre: through, gaugeMm },
        { name: 'curved', centre: first.centre, gaugeMm },
        { name: 'other', centre: second.place(second.branch.centre), gaugeMm },
      ],
      lines: [
        gaugeLine('other', 'right', secondStock),
        gaugeLine('curved', 'left', stockRailFrom(host, { path: first.stock, frontMm: first.frontMm }, frontMm)),
        throughLeft,
        throughRight,
        // The first blade: against the second switch's stock rail, or nested in the through blade that starts beside it.
        { ...gaugeLine('curved', 'right', first.outer), pointAtStart: lapMm === 0 ? point('straight', 'right') : point('other', 'right') },
        { ...gaugeLine('other', 'left', second.place(second.branch.outer)), pointAtStart: point('straight', 'left') },
      ],
      divergences: [divergenceOf('curved', first), divergenceOf('other', second.branch)],
      legs: [
        { leg: 'diverging', route: 'curved', pose: first.centre.end },
        { leg: 'other', route: 'other', pose: second.pose(second.branch.centre.end) },
      ],
      main: first,
      hasHostTrack: true,
      frontMm,
      overallMm,
      ...(lapMm === 0 ? { throwMm: throwOf(request, openOnBothSides(request)) } : {}),
      finish: (rails) => wingsClear(request, rails, crotchOf(first, second), [throughLeft, throughRight]),
      heads: [
        { stationMm: 0, ahead: 1, side: 1 },
        { stationMm: lapMm, ahead: 1, side: -1 },
      ],
      stressed: [
        { fromMm: 0, toMm: lapMm + Math.max(first.points.heelXMm, second.branch.points.heelXMm) },
        { fromMm: Math.min(first.leadMm, lapMm + second.branch.leadMm) - toeLengthMm, toMm: overallMm },
      ],
    },
  }
}
