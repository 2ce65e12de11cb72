import type { Point } from '../../geom/types.ts'
import type { HeadBlocks } from '../ties/types.ts'
import type { Divergence, GaugeLine, RouteName, TurnoutLegPose, TurnoutProblem, TurnoutRail, TurnoutRequest, WorkRoute } from '../types.ts'
import type { Branch } from './branch.ts'
import type { Host } from './host.ts'

/** A left-hand turnout of any kind as lines, before rails and ties are laid on them. */
export interface TurnoutLines {
  readonly request: TurnoutRequest
  readonly host: Host
  readonly routes: readonly WorkRoute[]
  readonly lines: readonly GaugeLine[]
  readonly divergences: readonly Divergence[]
  readonly legs: readonly TurnoutLegPose[]
  /** The numbers of the first diverging route, which a turnout is called by. */
  readonly main: MainNumbers
  /** Whether the host goes on through the turnout. */
  readonly hasHostTrack: boolean
  /** Where the rails begin: behind PS, so below 0. */
  readonly frontMm: number
  /** PS to abreast of the end of the farthest frog heel, along the host. */
  readonly overallMm: number
  readonly heads: readonly HeadBlocks[]
  /** Points and frogs along the host. */
  readonly stressed: readonly { readonly fromMm: number; readonly toMm: number }[]
  /** Absent: that of points. */
  readonly throwMm?: number
  /** What is different about the rails than the lines tell; absent: nothing. */
  readonly finish?: (rails: readonly TurnoutRail[]) => readonly TurnoutRail[]
}

export type MainNumbers = Pick<
  Branch,
  | 'points'
  | 'frogAngleRad'
  | 'leadMm'
  | 'frogPoint'
  | 'closureGaugeLineRadiusMm'
  | 'closureRadiusMm'
  | 'closureCurvedMm'
  | 'closureStraightMm'
  | 'radiusMm'
  | 'ordinates'
>

/** tooSharp: the host is; whoever asked finds out by how much. */
export type LinesProblem = TurnoutProblem | { readonly kind: 'tooSharp' }

export type LinesResult = { readonly ok: true; readonly lines: TurnoutLines } | { readonly ok: false; readonly problem: LinesProblem }

/** A gauge line without points. */
export function gaugeLine(route: RouteName, side: GaugeLine['side'], path: GaugeLine['path']): GaugeLine {
  return { route, side, path, pointAtStart: null, pointAtEnd: null }
}

export function pointOf({ x, y }: Point): Point {
  return { x, y }
}
