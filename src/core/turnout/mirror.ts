import { pathMirror, poseMirror } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import type { Hand } from '../plan/types.ts'
import { hostMirror } from './kinds/host.ts'
import type { GaugeLine, PointRail, Side, TurnoutGeometry, WorkFrog } from './types.ts'

/** The same turnout of the other hand: mirrored about the straight route. Exact, and its own inverse. */
export function turnoutMirror(turnout: TurnoutGeometry): TurnoutGeometry {
  const hand: Hand = turnout.request.hand === 'left' ? 'right' : 'left'
  return {
    ...turnout,
    request: { ...turnout.request, hand, host: hostMirror(turnout.request.host) },
    routes: turnout.routes.map((route) => ({ ...route, centre: pathMirror(route.centre) })),
    frogs: turnout.frogs.map(frogMirror),
    lines: turnout.lines?.map(gaugeLineMirror) ?? null,
    legs: turnout.legs.map((leg) => ({ ...leg, pose: poseMirror(leg.pose) })),
    rails: turnout.rails.map((rail) => ({ ...rail, gaugeLine: pathMirror(rail.gaugeLine), headSide: rail.headSide === 1 ? -1 : 1 })),
    ties: turnout.ties.map((tie) => ({ ...tie, from: pointMirror(tie.from), to: pointMirror(tie.to) })),
    gaps: turnout.gaps.map((gap) => ({ ...gap, at: pointMirror(gap.at) })),
    throwHoles: turnout.throwHoles.map((hole) => ({ ...hole, at: pointMirror(hole.at) })),
    divergingRoute: pathMirror(turnout.divergingRoute),
    leg: poseMirror(turnout.leg),
    frogPoint: pointMirror(turnout.frogPoint),
    halfInchPoint: pointMirror(turnout.halfInchPoint),
  }
}

function frogMirror(frog: WorkFrog): WorkFrog {
  const [a, b] = frog.lines
  return {
    ...frog,
    at: pointMirror(frog.at),
    headingRad: 0 - frog.headingRad,
    lines: [lineMirror(a), lineMirror(b)],
    actualPoint: pointMirror(frog.actualPoint),
  }
}

function gaugeLineMirror(line: GaugeLine): GaugeLine {
  const point = (end: PointRail | null): PointRail | null => end && { ...end, against: lineMirror(end.against) }
  return { ...lineMirror(line), path: pathMirror(line.path), pointAtStart: point(line.pointAtStart), pointAtEnd: point(line.pointAtEnd) }
}

function lineMirror<T extends { readonly side: Side }>(line: T): T {
  return { ...line, side: line.side === 'left' ? 'right' : 'left' }
}

function pointMirror(p: Point): Point {
  return { x: p.x, y: 0 - p.y }
}
