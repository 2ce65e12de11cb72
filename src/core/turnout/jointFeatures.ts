import { pathStart, poseToPlan } from '../geom/index.ts'
import type { Point, Pose } from '../geom/types.ts'
import type { JointRules } from '../plan/types.ts'
import type { TurnoutRail } from './types.ts'

/** What keeps joints of rail away. */
export type JointRule = 'curveEnd' | 'points' | 'frog' | 'guard' | 'gap' | 'throwBay'

/** The distance that each rule asks for, among the rules of laying. */
export const jointDistance: Readonly<Record<JointRule, keyof JointRules>> = {
  curveEnd: 'curveEndMm',
  points: 'pointsMm',
  frog: 'frogMm',
  guard: 'guardMm',
  gap: 'gapMm',
  throwBay: 'throwBayMm',
}

/** What of special work keeps joints away, by its ends in the plan. */
export interface JointFeature {
  readonly rule: JointRule
  readonly ends: readonly Point[]
  /** How far aside a rail's line is still beside it, in gauges. */
  readonly withinGauges: number
}

interface At {
  readonly at: Point
}

interface Work {
  readonly rails: readonly TurnoutRail[]
  readonly gaps: readonly At[]
  readonly throwHoles: readonly At[]
}

const besideGauges = 1.7
const guardedGauges = 0.5

const ruleOfRole: readonly (readonly [string, JointRule])[] = [
  ['point-', 'points'],
  ['frog-', 'frog'],
  ['wing-', 'frog'],
  ['elbow-', 'frog'],
  ['guard-', 'guard'],
  ['check-', 'guard'],
]

/** Points, frogs, guard rails, gaps and throw bars of a turnout or crossing that stands at a pose. */
export function jointFeatures(pose: Pose, { rails, gaps, throwHoles }: Work): readonly JointFeature[] {
  const ofRails = rails.flatMap(({ role, gaugeLine }): readonly JointFeature[] => {
    const rule = ruleOfRole.find(([prefix]) => role.startsWith(prefix))?.[1]
    if (!rule) return []
    const ends = [pathStart(gaugeLine), gaugeLine.end].map((at) => poseToPlan(pose, at))
    return [{ rule, ends, withinGauges: rule === 'guard' ? guardedGauges : besideGauges }]
  })
  const at = (rule: JointRule, places: readonly At[]): readonly JointFeature[] =>
    places.map((place) => ({ rule, ends: [poseToPlan(pose, place.at)], withinGauges: besideGauges }))
  return [...ofRails, ...at('gap', gaps), ...at('throwBay', throwHoles)]
}
