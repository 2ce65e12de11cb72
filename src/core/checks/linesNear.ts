import { angleBetween, pathPoseAt } from '../geom/index.ts'
import type { Point } from '../geom/types.ts'
import { leastCrossingRad } from '../turnout/index.ts'
import { breachesAlong, breachesRound } from './breaches.ts'
import type { Breach, Probe } from './breaches.ts'
import { runDemandMost } from './demand.ts'
import { ON_LINE_MM, nearnessFree, nearnessLeft, nearnessOnLevel, partingEnd, runPartings, wholeSpan } from './nearness.ts'
import type { Beside, Left, Nearness } from './nearness.ts'
import { stretchesNear } from './pieces.ts'
import type { Run, Span } from './run.ts'

/** Step along a run where another is near, mm: distances of neighbouring tracks change smoothly, and ends are searched anyway. */
const STEP_MM = 8

/** Nearer than asked by no more than this still keeps the limit, mm: rounding, and nothing that a car could feel. */
const CLEARANCE_ROUNDING_MM = 1e-3

/** A stretch over which two runs come nearer to each other than is asked, by its worst place. */
export interface NearStretch {
  readonly kind: 'stretch'
  readonly breach: Breach
  readonly left: Left
}

/** A place where two runs cross. */
export interface NearCrossing {
  readonly kind: 'crossing'
  readonly stationMm: number
  /** On the other run. */
  readonly otherMm: number
  readonly limitMm: number
  readonly at: Point
  /** Between the two lines, whichever way they run; 0 to a right angle. */
  readonly angleRad: number
}

const isWithin = (stationMm: number, spans: readonly Span[]): boolean =>
  spans.some(({ fromMm, toMm }) => stationMm >= fromMm && stationMm <= toMm)

/**
 * Where two runs come nearer to each other than is asked, along the first: stretches, and places where they cross. About a crossing they are
 * as near as they like while they part.
 *
 * Units:      mm between the bands of both, negative where they overlap.
 * Exactness:  that of the bands. Parting at a turnout is exempt up to the fouling point (runPartings).
 */
export function linesNear(run: Run, other: Run): readonly (NearStretch | NearCrossing)[] {
  const mostMm = runDemandMost(run) + runDemandMost(other)
  const stretches = stretchesNear(run, other, mostMm)
  if (stretches.length === 0) return []
  const partings = runPartings(run, other)
  const otherPartings = runPartings(other, run)
  const whole = wholeSpan(other)
  const near = (stationMm: number): Nearness | null => nearnessOnLevel(run, stationMm, other, whole)
  const probe = (stationMm: number): Probe => {
    const parting = partings.find(({ fromMm, toMm }) => stationMm >= fromMm && stationMm <= toMm)
    if (parting !== undefined) return { slackMm: mostMm, freeMm: parting.toMm - stationMm }
    const here = near(stationMm)
    // On no level with the other; and how far that lasts is not known.
    if (here === null) return { slackMm: mostMm, freeMm: 0 }
    return {
      slackMm: isWithin(here.there.stationMm, otherPartings) ? mostMm : slackOf(here),
      freeMm: isLevelled(run, other) ? Math.max(0, (here.there.distanceMm - mostMm) / 2) : nearnessFree(here, run, other, mostMm),
    }
  }
  const breaches = stretches.flatMap(({ fromMm, toMm }) => breachesAlong(fromMm, toMm, STEP_MM, probe))
  const round = run.isClosed ? breachesRound(breaches, run.path.lengthMm) : breaches
  return round.flatMap((breach) => placesOf(run, { other, near }, breach, probe))
}

const slackOf = (near: Nearness): number => nearnessLeft(near).gapMm - near.run.clearanceMm + CLEARANCE_ROUNDING_MM

/** What is on one level moves along with a climbing run, as fast as that. */
const isLevelled = (run: Run, other: Run): boolean => run.level !== null && other.level !== null

/** A line that turns less than this, rad, cannot come back beside itself. */
const TURN_BACK_RAD = 2.5

/** Along itself a line is always near; only what is farther along than a quarter turn of the tightest circle of this room counts. */
const QUARTER_TURN = 1.6

/** The same for a run that comes back beside itself. */
export function lineNearItself(run: Run): readonly (NearStretch | NearCrossing)[] {
  const { lengthMm, elements } = run.path
  const turnRad = elements.reduce((sum, element) => sum + (Math.abs(element.k0 + element.k1) / 2) * element.lengthMm, 0)
  if (turnRad < TURN_BACK_RAD) return []
  const mostMm = 2 * runDemandMost(run)
  const windowMm = QUARTER_TURN * mostMm
  if (lengthMm <= 2 * windowMm) return []
  const near = (stationMm: number): Nearness | null => {
    const toMm = run.isClosed ? Math.min(lengthMm, stationMm + lengthMm - windowMm) : lengthMm
    return nearnessOnLevel(run, stationMm, run, { fromMm: stationMm + windowMm, toMm })
  }
  const probe = (stationMm: number): Probe => {
    const here = near(stationMm)
    if (here === null) return { slackMm: mostMm, freeMm: 0 }
    // The window moves along with the station, so the other place may run towards this one as fast as this one does.
    return { slackMm: slackOf(here), freeMm: (here.there.distanceMm - mostMm) / 2 }
  }
  return breachesAlong(0, lengthMm - windowMm, STEP_MM, probe).flatMap((breach) => placesOf(run, { other: run, near }, breach, probe))
}

/** A breach as it is, or the crossings in it and what is left of it beyond where the two part from them. */
function placesOf(run: Run, beside: Beside, breach: Breach, probe: (stationMm: number) => Probe): readonly (NearStretch | NearCrossing)[] {
  const stretch = (one: Breach): readonly NearStretch[] => {
    const near = beside.near(one.worstMm)
    return near === null ? [] : [{ kind: 'stretch', breach: one, left: nearnessLeft(near) }]
  }
  const crossings = crossingsWithin(run, beside, breach)
  if (crossings.length === 0) return stretch(breach)
  const places: (NearStretch | NearCrossing)[] = []
  const leftOver = (fromMm: number, toMm: number): void => {
    if (toMm - fromMm > STEP_MM) places.push(...breachesAlong(fromMm, toMm, STEP_MM, probe).flatMap(stretch))
  }
  let heldMm: number | null = breach.fromMm
  for (const crossing of crossings) {
    const beforeMm = partingEnd(run, crossing.stationMm, -1, beside)
    if (heldMm !== null && beforeMm !== null) leftOver(heldMm, Math.min(beforeMm, crossing.stationMm))
    places.push(crossing)
    heldMm = partingEnd(run, crossing.stationMm, 1, beside)
  }
  if (heldMm !== null) leftOver(heldMm, breach.toMm)
  return places
}

/** Step at which a change of side is looked for, mm. Between two steps the other's station moves little unless the nearest place jumps. */
const SIDE_STEP_MM = 4

/**
 * Places within a breach where the run goes over to the other side. Lines that lie on each other do not cross at every rounding, and a
 * line that ends on another does not cross it.
 */
function crossingsWithin(run: Run, { other, near }: Beside, breach: Breach): readonly NearCrossing[] {
  const crossings: NearCrossing[] = []
  const steps = Math.max(1, Math.ceil((breach.toMm - breach.fromMm) / SIDE_STEP_MM))
  let beforeMm = breach.fromMm
  let before = near(beforeMm)
  let lastOtherMm = before?.there.stationMm ?? 0
  for (let i = 1; i <= steps; i++) {
    const stationMm = breach.fromMm + ((breach.toMm - breach.fromMm) * i) / steps
    const here = near(stationMm)
    const otherMm = here?.there.stationMm ?? 0
    const wayMm = Math.abs(otherMm - lastOtherMm)
    lastOtherMm = otherMm
    if (here !== null && before !== null && wayMm <= 4 * SIDE_STEP_MM) {
      if (sideOf(here) === 0) continue
      const isNear = Math.min(here.there.distanceMm, before.there.distanceMm) <= SIDE_STEP_MM
      if (isNear && sideOf(here) * sideOf(before) < 0) {
        const crossing = crossingBetween(run, other, beforeMm, stationMm, near)
        if (crossing !== null && crossing.angleRad >= leastCrossingRad) crossings.push(crossing)
      }
    }
    beforeMm = stationMm
    before = here
  }
  return crossings
}

function sideOf({ there: { offsetMm } }: Nearness): -1 | 0 | 1 {
  if (Math.abs(offsetMm) <= ON_LINE_MM) return 0
  return offsetMm > 0 ? 1 : -1
}

function crossingBetween(run: Run, other: Run, fromMm: number, toMm: number, near: Beside['near']): NearCrossing | null {
  let from = fromMm
  let to = toMm
  const isLeftAt = (stationMm: number): boolean => (near(stationMm)?.there.offsetMm ?? 0) > 0
  const isLeft = isLeftAt(from)
  while (to - from > 1e-9) {
    const middle = (from + to) / 2
    if (middle <= from || middle >= to) break
    if (isLeftAt(middle) === isLeft) from = middle
    else to = middle
  }
  const met = near(to)
  if (met === null) return null
  const otherMm = met.there.stationMm
  if (!other.isClosed && (otherMm < ON_LINE_MM || other.path.lengthMm - otherMm < ON_LINE_MM)) return null
  const { roomMm } = nearnessLeft(met)
  const [here, there] = [pathPoseAt(run.path, to), pathPoseAt(other.path, otherMm)]
  const turnRad = Math.abs(angleBetween(here.headingRad, there.headingRad))
  return {
    kind: 'crossing',
    stationMm: to,
    otherMm,
    limitMm: roomMm + run.clearanceMm,
    at: here,
    angleRad: Math.min(turnRad, Math.PI - turnRad),
  }
}
