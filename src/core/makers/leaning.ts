import { angleBetween, pathNearest, pathPoseAt, poseAhead, poseToLocal } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import { turnoutResult, turnoutSolveOn } from '../network/index.ts'
import type { SolvedTurnout } from '../network/index.ts'
import { plainKind } from '../plan/index.ts'
import type { CrossoverNumbers, Facing, Turnout } from '../plan/types.ts'
import { crossoverFigures } from './figures.ts'
import { done, facingOpposite, fail, handOf, stationOn } from './site.ts'
import type { Host, Site } from './site.ts'
import type { Outcome, PartCorner, Parts, TurnoutPart } from './types.ts'

/** Tracks and legs that part by less than this run alike. */
const ALIKE_RAD = 1e-9

/** The crossover stands where it should within this, mm, far below what can be laid. */
const FOUND_MM = 1e-7

/** On straights the first step is the last but one; on curves a few more follow. */
const MOST_STEPS = 12

/** Over so much the slopes of the search are measured, mm. */
const PROBE_MM = 1

/** A curve flatter than this is drawn as one of this radius with a little straight beside it, mm. */
const FLATTEST_MM = 100_000

/** The curve leaves this share of the tangents free, so that rounding finds room. */
const ROUNDING = 1e-6

/** Both turnouts of one crossover where they stand for a while. */
interface Standing {
  readonly aMm: number
  readonly bMm: number
}

/** From leg to leg. */
interface Between {
  readonly legA: Pose
  readonly chordMm: number
  readonly turnRad: number
  /** How far the second leg lies to the left of where one arc would lead. */
  readonly asideMm: number
  /** Host station abreast of the middle. */
  readonly middleMm: number
}

/**
 * A crossover between tracks that are not two parallel straights: that lie at a small angle, or bend alike.
 *
 *   The legs do not lie in line but turn by some angle t from one to the other, and one arc joins them when both lean alike to their chord.
 *   Of a chord L its radius is L / (2 sin(t / 2)), the largest there is. Two places are sought: that of the second points, by the lean; and that of
 *   both, by the middle of the chord, which lies abreast of the maker's station. Moved ahead by x the second leg comes aside by x times the sine of
 *   the frog angle, so each step leaves little.
 *
 * Outcome:  two turnouts and a track with one corner; or the angle between the tracks, the centres, or the radius that hinders it.
 */
export function crossoverLeaning(site: Site, numbers: CrossoverNumbers, host: Host, other: Host): Outcome<Parts> {
  const { lengthMm } = host.alignment.path
  const { stationMm, frog, layout } = numbers
  const at = pathPoseAt(host.alignment.path, Math.min(lengthMm, Math.max(0, stationMm)))
  const near = pathNearest(other.alignment.path, at)
  const beside = pathPoseAt(other.alignment.path, near.stationMm)
  const turn = angleBetween(at.headingRad, beside.headingRad)
  const runsAlike = Math.abs(turn) < Math.PI / 2
  const angleRad = Math.min(Math.abs(turn), Math.PI - Math.abs(turn))
  const shape = site.shape(0, host.lineClass, frog)
  if (!shape.ok) return shape
  const { frogAngleRad, leadMm } = shape.value
  const mostRad = layout === 'single' ? frogAngleRad : 0
  if (angleRad >= mostRad) return fail({ kind: 'notParallel', track: host.id, otherTrack: other.id, angleRad, mostRad })

  const isLeft = poseToLocal(at, beside).y > 0
  const facing: Facing = handOf(isLeft ? 'left' : 'right', 'rising') === numbers.hand ? 'rising' : 'falling'
  const facings: readonly [Facing, Facing] = [facing, runsAlike ? facingOpposite(facing) : facing]
  const aheadA = facing === 'rising' ? 1 : -1
  const aheadB = runsAlike ? aheadA : -aheadA
  const { gaugeMm, tieWidthMm } = site.railway
  const halfMm = crossoverFigures({ gaugeMm, centresMm: near.distanceMm, frogAngleRad, leadMm }).pointsToPointsMm / 2
  const begin: Standing = { aMm: stationMm - aheadA * halfMm, bMm: near.stationMm + aheadB * halfMm }
  // In most places the host bends as it did in the last one: what was solved there is good again.
  const solved: Solved = [null, null]
  const search = standingFind(begin, stationMm, [aheadA, aheadB], (at) => betweenLegs(site, numbers, [host, other], at, facings, solved))
  if (!search.ok) return search
  const { standing, found } = search.value
  if (found === null || found.chordMm < tieWidthMm) {
    const shortMm = tieWidthMm - (found?.chordMm ?? 0)
    const leastMm = near.distanceMm + shortMm * Math.sin(frogAngleRad)
    return fail({ kind: 'centresTooSmall', where: 'measured', centresMm: near.distanceMm, leastMm })
  }
  const corner = cornerOf(found)
  const leastRadiusMm = site.lineClass.minRadiusMm
  if (corner !== null && corner.radius < leastRadiusMm) {
    const mostAngleRad = 2 * Math.asin(Math.min(1, found.chordMm / (2 * leastRadiusMm)))
    return fail({ kind: 'crossoverTooSharp', angleRad: Math.abs(found.turnRad), radiusMm: corner.radius, leastRadiusMm, mostAngleRad })
  }
  const turnout = (word: string, id: string, station: number, which: Facing): TurnoutPart => ({
    kind: 'turnout',
    word,
    host: { kind: 'plan', id },
    stationMm: station,
    facing: which,
    hand: numbers.hand,
    frog,
    mayBend: true,
  })
  return done({
    parts: [
      turnout('A', host.id, stationOn(host, standing.aMm), facings[0]),
      turnout('B', other.id, stationOn(other, standing.bMm), facings[1]),
      {
        kind: 'track',
        word: '',
        start: { kind: 'leg', turnout: 0 },
        corners: corner === null ? [] : [corner],
        end: { kind: 'leg', turnout: 1 },
      },
    ],
    facts: [
      { name: 'centresMm', value: near.distanceMm },
      { name: 'betweenLegsMm', value: found.chordMm },
      ...(corner === null ? [] : [{ name: 'radiusMm', value: corner.radius } as const]),
    ],
  })
}

/** Newton's steps for both places, with slopes over a probe. */
function standingFind(
  begin: Standing,
  stationMm: number,
  [aheadA, aheadB]: readonly [number, number],
  between: (at: Standing) => Outcome<Between>,
): Outcome<{ readonly standing: Standing; readonly found: Between | null }> {
  let at = begin
  for (let i = 0; i < MOST_STEPS; i++) {
    const here = between(at)
    if (!here.ok) return here
    const { asideMm, middleMm } = here.value
    const lateMm = middleMm - stationMm
    if (Math.abs(asideMm) < FOUND_MM && Math.abs(lateMm) < FOUND_MM) return done({ standing: at, found: here.value })
    const byA = between({ ...at, aMm: at.aMm + aheadA * PROBE_MM })
    if (!byA.ok) return byA
    const byB = between({ ...at, bMm: at.bMm + aheadB * PROBE_MM })
    if (!byB.ok) return byB
    const [asideA, asideB] = [byA.value.asideMm - asideMm, byB.value.asideMm - asideMm]
    const [lateA, lateB] = [byA.value.middleMm - middleMm, byB.value.middleMm - middleMm]
    const area = asideA * lateB - asideB * lateA
    if (area === 0) break
    const stepA = ((asideB * lateMm - lateB * asideMm) / area) * PROBE_MM
    const stepB = ((lateA * asideMm - asideA * lateMm) / area) * PROBE_MM
    at = { aMm: at.aMm + aheadA * stepA, bMm: at.bMm + aheadB * stepB }
  }
  return done({ standing: at, found: null })
}

/** What the last step solved of both turnouts. */
type Solved = [SolvedTurnout | null, SolvedTurnout | null]

function betweenLegs(
  site: Site,
  { hand, frog }: CrossoverNumbers,
  hosts: readonly [Host, Host],
  { aMm, bMm }: Standing,
  facings: readonly [Facing, Facing],
  solved: Solved,
): Outcome<Between> {
  const set = (index: 0 | 1, stationMm: number): Outcome<Pose> => {
    const on = hosts[index]
    const turnout: Turnout = {
      id: '',
      name: '',
      kind: plainKind,
      track: on.id,
      stationMm: stationOn(on, stationMm),
      facing: facings[index],
      hand,
      frog,
      build: site.build(index),
    }
    const now = turnoutSolveOn(turnout, on.networkTrack, solved[index])
    solved[index] = now
    const placed = turnoutResult(turnout, now, on.networkTrack)
    if (placed.ok) return done(placed.leg)
    return fail(
      placed.problem.kind === 'geometry'
        ? { kind: 'turnout', frog, problem: placed.problem.problem }
        : { kind: 'place', part: index === 0 ? 'A' : 'B', problem: placed.problem },
    )
  }
  const a = set(0, aMm)
  if (!a.ok) return a
  const b = set(1, bMm)
  if (!b.ok) return b
  const [legA, legB] = [a.value, b.value]
  const turnRad = angleBetween(legA.headingRad, legB.headingRad + Math.PI)
  const lean = { x: legA.x, y: legA.y, headingRad: legA.headingRad + turnRad / 2 }
  const { x: chordMm, y: asideMm } = poseToLocal(lean, legB)
  const middle = { x: (legA.x + legB.x) / 2, y: (legA.y + legB.y) / 2 }
  const { path, isClosed } = hosts[0].alignment
  const abreastMm = pathNearest(path, middle).stationMm
  return done({ legA, chordMm, turnRad, asideMm, middleMm: isClosed ? nearTo(abreastMm, aMm, path.lengthMm) : abreastMm })
}

/** Round a loop a station is as near to another as whole laps can bring it. */
const nearTo = (stationMm: number, toMm: number, lapMm: number): number => stationMm + lapMm * Math.round((toMm - stationMm) / lapMm)

/** The one corner between the legs; null: they lie in line. */
function cornerOf({ legA, chordMm, turnRad }: Between): (PartCorner & { readonly radius: number }) | null {
  if (Math.abs(turnRad) < ALIKE_RAD) return null
  const pi = poseAhead(legA, chordMm / 2 / Math.cos(turnRad / 2))
  const radius = Math.min(FLATTEST_MM, (chordMm / (2 * Math.sin(Math.abs(turnRad) / 2))) * (1 - ROUNDING))
  return { x: pi.x, y: pi.y, radius, easementIn: 0, easementOut: 0 }
}
