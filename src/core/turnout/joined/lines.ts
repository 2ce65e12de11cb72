import { pathMove, pathNearest, pathOffset, pathReverse, pathsJoined, pathSlice, poseCompose } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import type { CrossingTrack } from '../crossing/types.ts'
import type { RouteName } from '../types.ts'
import { lineReverse, sideOther, sideSign } from '../work/side.ts'
import type { GaugeLine, LineName, PointRail } from '../work/types.ts'
import type { JoinArm, JoinEnds } from './types.ts'

/** A turnout in the joined work: the number that its own lines are of, and whether the crossing's track runs into it against its points. */
export interface Member {
  readonly arm: JoinArm
  readonly of: number
  readonly isEnd: boolean
  /** Its route on which the track hangs, and what that track is called in the crossing. */
  readonly route: RouteName
  readonly track: CrossingRoute
}

export type CrossingRoute = 'straight' | 'other'

/** The crossing's own lines are of this work. */
export const ofCrossing = 0

const sides = ['left', 'right'] as const

/** What a line of a turnout is called in the joined work: the route to its leg is the crossing's track. */
export function nameIn({ of, isEnd, route, track }: Member, line: LineName): LineName {
  const side = isEnd ? sideOther(line.side) : line.side
  return line.route === route ? { route: track, side, of: ofCrossing } : { route: line.route, side, of }
}

/** The lines of a turnout as they lie in the joined work, all in the direction of the crossing's tracks. */
export function memberLines(member: Member): readonly GaugeLine[] {
  const { arm, isEnd } = member
  const pointIn = (point: PointRail | null): PointRail | null => point && { ...point, against: nameIn(member, point.against) }
  return (arm.geometry.lines ?? []).map((line) => {
    const moved = {
      ...line,
      path: pathMove(line.path, arm.pose),
      pointAtStart: pointIn(line.pointAtStart),
      pointAtEnd: pointIn(line.pointAtEnd),
    }
    return { ...(isEnd ? lineReverse(moved) : moved), ...nameIn(member, line) }
  })
}

/**
 * Both gauge lines of a track of the crossing: from the points of the turnout at its start to those of the one at its end, or, where there is none,
 * from where the crossing begins and to where it ends.
 */
export function trackLines(
  track: CrossingRoute,
  { path, atMm }: CrossingTrack,
  extent: { readonly fromMm: number; readonly toMm: number },
  members: readonly Member[],
  gaugeMm: number,
): readonly GaugeLine[] {
  const [start, end] = [false, true].map((isEnd) => members.find((member) => member.track === track && member.isEnd === isEnd))
  const fromMm = start ? legStation(path, start.arm) : atMm + extent.fromMm
  const toMm = end ? legStation(path, end.arm) : atMm + extent.toMm
  const between = pathSlice(path, fromMm, toMm)
  return sides.map((side): GaugeLine => {
    const partOf = (member: Member | undefined): GaugeLine | undefined =>
      member && memberLines(member).find((line) => line.route === track && line.side === side && line.of === ofCrossing)
    const [before, behind] = [partOf(start), partOf(end)]
    const own = pathOffset(between, (sideSign(side) * gaugeMm) / 2)
    return {
      route: track,
      side,
      of: ofCrossing,
      path: pathsJoined([...(before ? [before.path] : []), own, ...(behind ? [behind.path] : [])]),
      pointAtStart: before?.pointAtStart ?? null,
      pointAtEnd: behind?.pointAtEnd ?? null,
    }
  })
}

function legStation(path: Path, { geometry, pose, leg }: JoinArm): number {
  const own = geometry.legs.find((one) => one.leg === leg)
  return own === undefined ? 0 : pathNearest(path, poseCompose(pose, own.pose)).stationMm
}

/** The way from a turnout's points to its leg, as a track that goes on from there has it before its start, or behind its end. */
export function legWay({ geometry, leg }: Pick<JoinArm, 'geometry' | 'leg'>, isEnd: boolean): Path | null {
  const route = geometry.legs.find((one) => one.leg === leg)?.route
  const centre = geometry.routes.find(({ name }) => name === route)?.centre
  if (centre === undefined) return null
  return isEnd ? pathReverse(centre) : centre
}

export function membersOf({ first, second }: { readonly first: JoinEnds; readonly second: JoinEnds }): readonly Member[] {
  const ends = [
    { arm: first.start, track: 'straight', isEnd: false },
    { arm: first.end, track: 'straight', isEnd: true },
    { arm: second.start, track: 'other', isEnd: false },
    { arm: second.end, track: 'other', isEnd: true },
  ] as const
  return ends.flatMap(({ arm, track, isEnd }, i): readonly Member[] => {
    const route = arm?.geometry.legs.find(({ leg }) => leg === arm.leg)?.route
    return arm === null || route === undefined ? [] : [{ arm, of: ofCrossing + 1 + i, isEnd, route, track }]
  })
}
