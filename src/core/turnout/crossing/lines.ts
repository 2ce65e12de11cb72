import { angleWrap, pathIntersections, pathNearest, pathOffset, pathPoseAt, pathSlice } from '../../geom/index.ts'
import type { Path } from '../../geom/types.ts'
import { frogHeelUsual, frogToeUsual } from '../frog.ts'
import { meetingToleranceMm } from '../work/meetings.ts'
import type { FrogLengths, GaugeLine } from '../work/types.ts'
import type { CrossingProblem, CrossingRequest, CrossingTrack } from './types.ts'

/** Lines that meet flatter than about a No. 20 frog are no crossing: no diamond was ever built so long. rad. Common practice, no source. */
export const leastCrossingRad = 0.05
/** How many times as far as straight tracks would ask a track is looked at on either side: on curves the frogs lie farther off. */
const reaches = [1.4, 2.5, 5]

/** One track within the crossing: its centreline from the outer frog's heel to the other's, and its gauge lines. */
export interface TrackLines {
  readonly centre: Path
  /** Where `centre` begins, and where the crossing point lies on the whole track, mm. */
  readonly fromMm: number
  readonly atMm: number
  readonly left: Path
  readonly right: Path
}

export interface DiamondLines {
  readonly angleRad: number
  /** +1: the second track turns to the left of the first. */
  readonly turn: 1 | -1
  readonly first: TrackLines
  readonly second: TrackLines
}

export type DiamondResult =
  | { readonly ok: true; readonly diamond: DiamondLines }
  | { readonly ok: false; readonly problem: CrossingProblem }

/** Toe and heel of a frog of a crossing: as usual for its angle. */
export function frogLengths(request: Pick<CrossingRequest, 'flangewayMm' | 'railHeadMm' | 'railFootMm'>, angleRad: number): FrogLengths {
  const toeMm = frogToeUsual(request, angleRad)
  return { toeMm, heelMm: frogHeelUsual(request, angleRad, toeMm) }
}

/**
 * The four gauge lines of a diamond, each as long as its outer frogs ask.
 *
 * The outer frogs lie where a left line of one track crosses a right line of the other: of straight tracks G/2 cot(A/2) from
 * the crossing point. On curves they are searched for; nothing is assumed of the tracks but that they bend evenly.
 *
 * Outcome:  the lines, or: an angle too small, a track that ends inside, two tracks that meet again inside.
 */
export function diamondLines(request: CrossingRequest): DiamondResult {
  const { first, second, gaugeMm } = request
  const turnRad = angleWrap(pathPoseAt(second.path, second.atMm).headingRad - pathPoseAt(first.path, first.atMm).headingRad)
  const angleRad = Math.abs(turnRad)
  if (angleRad < leastCrossingRad) return fail({ kind: 'angleTooSmall', angleRad, leastRad: leastCrossingRad })
  const { heelMm } = frogLengths(request, angleRad)
  const straightMm = gaugeMm / 2 / Math.tan(angleRad / 2) + heelMm
  const turn = turnRad > 0 ? 1 : -1
  for (const times of reaches) {
    const [a, b] = [around(first, times * straightMm, gaugeMm), around(second, times * straightMm, gaugeMm)]
    const [firstCut, secondCut] = [trackCut(a, b, heelMm), trackCut(b, a, heelMm)]
    if (firstCut && secondCut) {
      const diamond = { angleRad, turn, first: trackPart(first, firstCut, gaugeMm), second: trackPart(second, secondCut, gaugeMm) } as const
      const again = pathIntersections(diamond.first.centre, diamond.second.centre, meetingToleranceMm).find(
        ({ stationA }) => Math.abs(diamond.first.fromMm + stationA - first.atMm) > gaugeMm / 2,
      )
      return again ? fail({ kind: 'meetAgain', atMm: diamond.first.fromMm + again.stationA }) : { ok: true, diamond }
    }
  }
  for (const [name, track] of [
    ['first', first],
    ['second', second],
  ] as const) {
    const shortByMm = Math.max(straightMm - track.atMm, straightMm - (track.path.lengthMm - track.atMm))
    if (shortByMm > 0) return fail({ kind: 'trackTooShort', track: name, shortByMm })
  }
  return fail({ kind: 'notApart', overMm: straightMm * Math.max(...reaches) })
}

function fail(problem: CrossingProblem): DiamondResult {
  return { ok: false, problem }
}

function around(track: CrossingTrack, reachMm: number, gaugeMm: number): TrackLines {
  return trackPart(track, { fromMm: Math.max(0, track.atMm - reachMm), toMm: Math.min(track.path.lengthMm, track.atMm + reachMm) }, gaugeMm)
}

function trackPart(
  track: CrossingTrack,
  { fromMm, toMm }: { readonly fromMm: number; readonly toMm: number },
  gaugeMm: number,
): TrackLines {
  const centre = pathSlice(track.path, fromMm, toMm)
  return { centre, fromMm, atMm: track.atMm, left: pathOffset(centre, gaugeMm / 2), right: pathOffset(centre, -gaugeMm / 2) }
}

/** Stations of the whole track from heel to heel of the outer frogs; null when they do not lie on it. */
function trackCut(own: TrackLines, other: TrackLines, heelMm: number): { readonly fromMm: number; readonly toMm: number } | null {
  const outer = [
    ...pathIntersections(own.left, other.right, meetingToleranceMm),
    ...pathIntersections(own.right, other.left, meetingToleranceMm),
  ].map(({ at }) => pathNearest(own.centre, at).stationMm + own.fromMm)
  const before = outer.filter((station) => station < own.atMm)
  const behind = outer.filter((station) => station > own.atMm)
  const [fromMm, toMm] = [Math.max(...before) - heelMm, Math.min(...behind) + heelMm]
  const isInside = before.length > 0 && behind.length > 0 && fromMm >= own.fromMm && toMm <= own.fromMm + own.centre.lengthMm
  return isInside ? { fromMm, toMm } : null
}

/** The four lines as they are without slips. */
export function plainLines({ first, second }: DiamondLines): readonly GaugeLine[] {
  const whole = { pointAtStart: null, pointAtEnd: null }
  return [
    { route: 'straight', side: 'left', path: first.left, ...whole },
    { route: 'straight', side: 'right', path: first.right, ...whole },
    { route: 'other', side: 'left', path: second.left, ...whole },
    { route: 'other', side: 'right', path: second.right, ...whole },
  ]
}
