import { pathFromElements, pathNearest, pathPoseAt, pathSlice, pathStart, poseAhead } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import { throwOf } from '../throw.ts'
import { gapsBetweenTies, gapsFixed } from '../ties/gapBays.ts'
import { tiesLay } from '../ties/lay.ts'
import { specialWork } from '../work/solve.ts'
import { pathElementsOf } from '../work/side.ts'
import type { GaugeLine, Side } from '../work/types.ts'
import { diamondLines, frogLengths, plainLines } from './lines.ts'
import type { DiamondLines } from './lines.ts'
import { crossingValueProblem } from './request.ts'
import { slipSolve } from './slip.ts'
import type { SlipLines } from './slip.ts'
import type { CrossingGeometry, CrossingProblem, CrossingRequest, CrossingResult, Slip } from './types.ts'

/**
 * A crossing of two tracks at one level, with slips if asked: rails, frogs, guards, ties.
 *
 * Units:      mm on the model, rad; frame of CrossingRequest.
 * Domain:     angles of 0.05 rad (about No. 20) to a right angle; either track straight, curved or on an easement.
 * Exactness:  rails on the offsets of both centrelines to 1e-7 mm; slips one arc from tip to tip on straight tracks.
 * Outcome:    the geometry, or the first problem with the value that would do. Throws: never.
 * Source:     derived; parts name theirs.
 */
export function crossingSolve(request: CrossingRequest): CrossingResult {
  const bad = crossingValueProblem(request)
  if (bad) return { ok: false, problem: bad }
  const result = diamondLines(request)
  if (!result.ok) return result
  const { diamond } = result
  const slips: SlipLines[] = []
  for (const side of slipSides(request)) {
    const solved = slipSolve(request, diamond, side)
    if (!solved.ok) return solved
    slips.push(solved.slip)
  }
  const work = specialWork({
    lines: linesWithSlips(diamond, slips),
    measures: request,
    gaugeMm: request.gaugeMm,
    frogLengthsOf: (angleRad) => frogLengths(request, angleRad),
  })
  for (const slip of slips) {
    const fouls = slipFouls(request, slip, work.frogs)
    if (fouls) return { ok: false, problem: fouls }
  }
  return { ok: true, crossing: crossingLay(request, diamond, slips, work) }
}

function slipSides({ slip }: CrossingRequest): readonly Side[] {
  if (slip === 'double') return ['left', 'right']
  return slip === 'none' ? [] : [slip === 'single-left' ? 'left' : 'right']
}

/** Lines of the diamond with those rails cut back to points that slips lie against, and the rails of the slips. */
function linesWithSlips(diamond: DiamondLines, slips: readonly SlipLines[]): readonly GaugeLine[] {
  const plain = plainLines(diamond).map((line) => {
    const slip = slips.find(({ side }) => side === line.side)
    if (!slip) return line
    const isEntered = (line.route === 'straight') === ((slip.side === 'left') === (diamond.turn === 1))
    const point = { lengthMm: slip.pointLengthMm, against: { route: slip.route, side: slip.side } }
    return isEntered
      ? { ...line, path: pathSlice(line.path, slip.tipEnterMm, line.path.lengthMm), pointAtStart: point }
      : { ...line, path: pathSlice(line.path, 0, slip.tipLeaveMm), pointAtEnd: point }
  })
  return [...plain, ...slips.flatMap(({ outer, inner }) => [inner, outer])]
}

/** A slip's inner rail passes outside the elbow of its side: it must leave room for the elbow's head and a flangeway. */
function slipFouls(request: CrossingRequest, slip: SlipLines, frogs: CrossingGeometry['frogs']): CrossingProblem | null {
  const elbow = frogs.find(({ kind, lines }) => kind === 'elbow' && lines[0].side === slip.side)
  if (!elbow) return null
  const spreadMm = pathNearest(slip.inner.path, elbow.at).distanceMm
  const needMm = request.flangewayMm + request.railHeadMm
  return spreadMm < needMm ? { kind: 'slipFoulsElbow', side: slip.side, spreadMm, needMm } : null
}

function crossingLay(
  request: CrossingRequest,
  diamond: DiamondLines,
  slips: readonly SlipLines[],
  { rails, frogs, gaps }: ReturnType<typeof specialWork>,
): CrossingGeometry {
  const { first, second, angleRad } = diamond
  const extent = ({ centre, fromMm, atMm }: DiamondLines['first']): { readonly fromMm: number; readonly toMm: number } => ({
    fromMm: fromMm - atMm,
    toMm: fromMm + centre.lengthMm - atMm,
  })
  const throwMm = throwOf(request)
  const told = slips.map((slip) => slipOf(slip, diamond, throwMm))
  const unguardedMm =
    request.elbow === 'movable' ? 0 : Math.max(0, ...frogs.filter(({ kind }) => kind === 'elbow').map((frog) => frog.unguardedMm))
  const ties = tiesLay({
    host: { path: request.first.path, psMm: request.first.atMm },
    hasHostTrack: true,
    routes: [{ centre: runBack(request.second.path, (runTies * request.tieLengthMm) / Math.sin(angleRad)) }],
    ratio: request.ratio,
    tieLengthMm: request.tieLengthMm,
    tieWidthMm: request.tieWidthMm,
    tieSpacingMm: request.tieSpacingMm,
    // Neither track comes before the other: ties stand square to the line that halves their angle.
    lay: 'fanned',
    fanRad: pathPoseAt(request.second.path, request.second.atMm).headingRad / 2,
    heads: told.flatMap(({ side, psFirstMm, psSecondMm }) =>
      [psFirstMm, psSecondMm].map((stationMm) => ({ stationMm, ahead: stationMm < 0 ? 1 : -1, side: side === 'left' ? 1 : -1 }) as const),
    ),
    close: [],
    gaps: gapsFixed(gaps, rails, request.tieSpacingMm),
    reach: 'both',
  })
  return {
    request,
    angleRad,
    number: 1 / (2 * Math.tan(angleRad / 2)),
    routes: [
      { name: 'straight', centre: first.centre, gaugeMm: request.gaugeMm },
      { name: 'other', centre: second.centre, gaugeMm: request.gaugeMm },
      ...slips.map(({ route, centre }) => ({ name: route, centre, gaugeMm: request.gaugeMm })),
    ],
    rails,
    frogs: request.elbow === 'movable' ? frogs.map((frog) => (frog.kind === 'elbow' ? { ...frog, unguardedMm: 0 } : frog)) : frogs,
    ties,
    gaps: gapsBetweenTies(gaps, rails, ties),
    slips: told,
    throwHoles: slips.flatMap(({ centre }) =>
      [pathStart(centre), centre.end].map(({ x, y }) => ({
        at: { x, y },
        throwMm,
      })),
    ),
    unguardedMm,
    guidedMm: elbowGuided(request),
    extents: { first: extent(first), second: extent(second) },
  }
}

/** Ties are laid until both tracks are a tie apart; a track that starts before runs on straight so many ties' lengths, over the sine of the angle. */
const runTies = 4

/** A path that begins so much earlier, straight. */
function runBack(path: Path, mm: number): Path {
  return pathFromElements(poseAhead(pathStart(path), -mm), [{ lengthMm: mm, k0: 0, k1: 0 }, ...pathElementsOf(path)])
}

function slipOf(slip: SlipLines, { first, second, turn }: DiamondLines, throwMm: number): Slip {
  const { side, route, radiusMm, switchAngleRad, ordinates, centre } = slip
  const entersFirst = (side === 'left') === (turn === 1)
  const stationOn = ({ centre: track, fromMm, atMm }: DiamondLines['first'], path: Path, isStart: boolean): number =>
    pathNearest(track, isStart ? pathPoseAt(path, 0) : path.end).stationMm + fromMm - atMm
  return {
    side,
    route,
    radiusMm,
    psFirstMm: stationOn(first, centre, entersFirst),
    psSecondMm: stationOn(second, centre, !entersFirst),
    switchAngleRad,
    throwMm,
    ordinates,
  }
}

/**
 * Length over which a wheel is held by a check rail that ends under it: the flange reaches below the rail head over a chord of
 * 2 sqrt(D d + d^2), wheel diameter D, flange depth d.
 *
 * Source: derived from the circle of the flange; published practice has fixed elbows guard down to about No. 8 in full size.
 */
export function elbowGuided({ wheelDiameterMm, flangeDepthMm }: Pick<CrossingRequest, 'wheelDiameterMm' | 'flangeDepthMm'>): number {
  return 2 * Math.sqrt(wheelDiameterMm * flangeDepthMm + flangeDepthMm * flangeDepthMm)
}
