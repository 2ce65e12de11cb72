import { boxesWithin } from '../geom/index.ts'
import type { Network, NetworkCrossing, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import { climbingTracks } from '../network/index.ts'
import { isOverpass, levelFrom, trackLevels } from '../levels/index.ts'
import type { LineLevel } from '../levels/index.ts'
import { fixedThingsCreate } from '../clearance/index.ts'
import type { FixedThing } from '../clearance/index.ts'
import { keptFor, keptForAll, keptForPairs, keptInTurn, keptOn, late, makerHosts } from '../plan/index.ts'
import type { LineClass, Maker, Plan, Portal, RailJoint, TurnoutLeg } from '../plan/types.ts'
import { benchArea } from './area.ts'
import type { BenchArea } from './area.ts'
import { benchworkEdge } from './benchworkEdge.ts'
import { benchworkOutline } from './benchworkOutline.ts'
import { centresClearCreate } from './centresClear.ts'
import { isOfMaker } from './centresCure.ts'
import { checkDimensions, crossingDimensions } from './checkDimensions.ts'
import { couplerSwing } from './couplerSwing.ts'
import { crossingFault, crossingOverlaps, isOfCrossing } from './crossingFaults.ts'
import { runDemandMost } from './demand.ts'
import { edgeOverhang, fixedClearance, portalClearance } from './fixedClearance.ts'
import { anyFoundOrNull, foundOrNull } from './found.ts'
import { helixHeight } from './helixHeight.ts'
import { withoutMadeCures } from './madeCure.ts'
import { makerFollow } from './makerFollow.ts'
import { jointKeepers, ownJointPlace, ownJointStagger, worksOnTrack } from './ownJoints.ts'
import type { Keeper } from './ownJoints.ts'
import { nearOnesCreate } from './nearOnes.ts'
import type { NearOnes } from './nearOnes.ts'
import { roadbedEdge } from './roadbedEdge.ts'
import { roadbedOverlap, selfOverlap } from './roadbedOverlap.ts'
import { roomChecksCreate } from './room/room.ts'
import { lineJoints } from './lineJoint.ts'
import { runRules, trackRules } from './lineRules.ts'
import type { Run } from './run.ts'
import { runsCreate, trackHang } from './runs.ts'
import type { TrackRun } from './runs.ts'
import { selfClearance, trackClearance } from './trackClearance.ts'
import { throwRoomOfCrossing, throwRoomOfTurnout } from './throwRoom.ts'
import { tiesOverEdge } from './tiesOverEdge.ts'
import { turnoutsNearCreate, turnoutTiesMeet } from './turnoutTies.ts'
import { turnoutOverlaps, turnoutsOverCrossings } from './turnoutFaults.ts'
import { turnoutRules } from './turnoutRules.ts'
import { waitingPlace } from './unsolvedPlace.ts'
import type { Finding, RuleName } from './types.ts'

const noCrossings: readonly NetworkCrossing[] = []
const noPortals: readonly Portal[] = []

/** What the checks look at: a plan and the network derived from it. */
export interface ChecksInput {
  readonly plan: Plan
  readonly network: Network
}

/**
 * A function from plan and network to findings that remembers what it found.
 *
 * Every rule looks at one record or at one pair, and its result is kept with the identity of what it looked at. So one track
 * moved among 200 is checked anew against its neighbours only.
 *
 * Domain:     asked: the rules that are asked for; null: all. What only others need is not looked at.
 * Outcome:    all findings of those rules, rule by rule in the order of RuleName, within a rule in the order of the plan. The same as
 *             from a fresh runner, whatever was checked before (tests/laws/checks).
 * Throws:     never, for a network derived from a plan that the schema accepts.
 */
export function checksCreateRunner(asked: ReadonlySet<RuleName> | null = null): (input: ChecksInput) => readonly Finding[] {
  const isAsked = (...rules: readonly RuleName[]): boolean => asked === null || rules.some((rule) => asked.has(rule))
  const rulesOfTrack = keptFor(trackRules)
  const trackRulesOf = keptForAll(({ track, startLeg, endLeg }: TrackRun) => rulesOfTrack(track, startLeg, endLeg))
  const runRulesOf = keptForAll(runRules)
  const turnoutRulesOf = keptInTurn(turnoutRules)
  const dimensionsOf = keptInTurn(checkDimensions)
  const bareSwingOf = keptFor(couplerSwing)
  const areaOf = keptFor(benchArea)
  const runsOf = runsCreate()
  const edgeOf = keptForAll((run: Run, area: BenchArea) => foundOrNull(benchworkEdge(run, area)))
  const roadbedOf = keptForAll((run: Run, area: BenchArea) => foundOrNull(roadbedEdge(run, area)))
  const nearOf = nearOnesCreate<Run>()
  const selfOf = keptFor(selfClearance)
  const pairOf = keptForPairs(trackClearance)
  const selfOverlapOf = keptFor(selfOverlap)
  const overlapOfPair = keptForPairs((run: Run, other: Run) => roadbedOverlap(run, other, pairOf(run, other)))
  const clearanceOf = keptForAll(({ one: run, others }: NearOnes<Run>) => {
    const own = selfOf(run)
    return anyFoundOrNull({
      own,
      between: others.flatMap((other) => (other === run ? [] : pairOf(run, other))),
      overlaps: [...selfOverlapOf(run, own), ...others.flatMap((other) => (other === run ? [] : overlapOfPair(run, other)))],
    })
  })
  const thingsOf = fixedThingsCreate()
  const thingOf = keptForPairs((_run: Run, _thing: FixedThing) => keptOn<Run, readonly Finding[]>())
  const portalOf = keptForPairs(portalClearance)
  const overhangOf = keptFor(edgeOverhang)
  const fixedOfRun = keptFor((run: Run, things: readonly FixedThing[], portals: readonly Portal[], area: BenchArea | null) => [
    ...things
      .filter(({ box }) => boxesWithin(box, run.box, 2 * runDemandMost(run)))
      .flatMap((thing) => thingOf(run, thing)(run, portals, () => fixedClearance(run, thing, portals))),
    ...portals.flatMap((portal) => portalOf(run, portal)),
    ...(area === null ? [] : overhangOf(run, area)),
  ])
  const fixedOf = keptForAll((run: Run, things: readonly FixedThing[], portals: Plan['portals'], area: BenchArea | null) =>
    foundOrNull(fixedOfRun(run, things, portalsOf(run, portals), area)),
  )
  const cureOf = keptOn<Finding, Finding>()
  const centresClear = centresClearCreate()
  const placedOf = keptOn<Finding, Finding>()
  const freeOf = keptOn<Finding, Finding>()
  const crossingDimensionsOf = keptFor(crossingDimensions)
  const overlapsOf = keptInTurn((turnouts: readonly NetworkTurnout[], host: NetworkTrack, crossings: readonly NetworkCrossing[]) => [
    ...turnoutOverlaps(host, turnouts),
    ...turnoutsOverCrossings(turnouts, crossings, host),
  ])
  const tiesNear = turnoutsNearCreate()
  const tiesOfPair = keptForPairs((_later: NetworkTurnout, _earlier: NetworkTurnout) => keptFor(turnoutTiesMeet))
  const overEdgeOf = keptInTurn(tiesOverEdge)
  const throwOf = keptInTurn(throwRoomOfTurnout)
  const slipThrowOf = keptFor(throwRoomOfCrossing)
  const crossingOf = keptFor(crossingFault)
  const crossingOverlapsOf = keptFor(crossingOverlaps)
  const outlineOf = keptFor(benchworkOutline)
  const runOfTrack = keptForAll(({ run }: TrackRun) => run)
  const levelledOf = keptForPairs(
    (run: Run, level: LineLevel): Run => ({ ...run, level: levelFrom(level, run.startTurnout?.routeMm ?? 0) }),
  )
  const heightOf = keptOn<Maker, readonly Finding[]>()
  const followOf = keptOn<Maker, readonly Finding[]>()
  const keepersOf = keptOn<NetworkTrack, readonly Keeper[]>()
  const jointOf = keptFor(ownJointPlace)
  const roomOf = roomChecksCreate()

  function ownJoints({ railJoints, railway }: Plan, network: Network): readonly Finding[] {
    const rules = railway.laying.joints
    const before = new Map<string, RailJoint[]>()
    return Object.values(railJoints).flatMap((joint) => {
      const track = network.tracks.get(joint.track)
      const others = before.get(joint.track) ?? []
      before.set(joint.track, [...others, joint])
      if (track?.alignment.ok !== true) return []
      const works = worksOnTrack(track, network)
      const { start, end } = trackHang(track, network)
      const hosts = [start, end] as const
      const keepers = keepersOf(track, [...works, ...hosts], () => jointKeepers(track, works, hosts))
      return [...jointOf(joint, track, keepers, rules), ...ownJointStagger(joint, others, track, rules)]
    })
  }

  return ({ plan, network }) => {
    const turnouts = [...network.turnouts.values()]
    const crossings = [...network.crossings.values()]
    const hostOf = ({ turnout }: NetworkTurnout): NetworkTrack | null => network.tracks.get(turnout.track) ?? null
    const { tracks, bare, guestOf, endsNear } = runsOf(plan, network)
    const makers = Object.values(plan.makers)
    const levels = trackLevels(network)
    const levelled = (run: Run): Run => {
      const level = levels.of(run.record)
      return level === null ? run : levelledOf(run, level)
    }
    const solved = runOfTrack(tracks)
    const runs: readonly Run[] = [...(levels.helices.length === 0 ? solved : solved.map(levelled)), ...bare]
    const onLevel = (list: readonly NetworkCrossing[]): readonly NetworkCrossing[] =>
      levels.helices.length === 0 ? list : list.filter((crossing) => !isOverpass(crossing, levels))
    const climbing = climbingTracks(plan)
    const area = Object.keys(plan.benchworks).length === 0 ? null : areaOf(plan.benchworks)
    const withCure = (finding: Finding): Finding => {
      const isBeside = finding.problem === null || finding.problem.kind === 'roadbedsMeet'
      const maker = isBeside ? makers.find((one) => isOfMaker(finding, one)) : undefined
      if (maker === undefined) return finding
      const standsOn = [maker, ...makerStandsOn(plan, network, maker)]
      return cureOf(finding, standsOn, () => ({ ...finding, cure: centresClear(finding, plan, network, maker) }))
    }

    const atHost = (finding: Finding): Finding => {
      const at = waitingPlace(finding, network)
      return at === null ? finding : placedOf(finding, [at.x, at.y], () => ({ ...finding, x: at.x, y: at.y }))
    }

    const ofTracks = late(() => trackRulesOf(tracks))
    const ofRuns = late(() => runRulesOf(tracks))
    const ofTurnouts = late(() =>
      turnouts.flatMap((turnout) => {
        const classOf = (leg: TurnoutLeg): LineClass | null => guestOf(turnout.turnout.id, leg)?.lineClass ?? turnout.lineClass
        return turnoutRulesOf(turnout, hostOf(turnout), classOf('diverging'), classOf('other')) ?? []
      }),
    )
    const beside = late(() => clearanceOf(nearOf(runs)))

    const told: Finding[] = []
    const tell = <T>(rule: RuleName, list: () => readonly T[], found: (one: T) => readonly Finding[]): void => {
      if (!isAsked(rule)) return
      for (const one of list()) for (const finding of found(one)) told.push(finding)
    }
    const itself = <T>(one: T): T => one
    const everyTurnout = (): readonly NetworkTurnout[] => turnouts
    const crossingsOnLevel = (): readonly NetworkCrossing[] => onLevel(crossings)
    const onOneLevel = (): readonly NetworkTurnout[] =>
      climbing.size === 0 ? turnouts : turnouts.filter(({ turnout }) => !climbing.has(turnout.track))

    tell('minimum-radius', ofTracks, (found) => found.minimumRadius)
    tell('minimum-radius', ofTurnouts, (found) => found.minimumRadius)
    tell('car-radius', ofRuns, (found) => found.carRadius)
    tell('coupling-radius', ofRuns, (found) => found.couplingRadius)
    tell('reverse-curve', ofRuns, (found) => found.reverseCurves)
    tell('broken-back', ofRuns, (found) => found.brokenBacks)
    tell('coupler-swing', ofRuns, (found) => found.couplerSwing)
    tell(
      'coupler-swing',
      () => bare,
      (run) => bareSwingOf(run, null),
    )
    tell('alignment', ofTracks, ({ alignmentFaults: found }) => (found.length === 0 ? found : found.map(atHost)))
    tell('easement-fit', ofTracks, (found) => found.easementFit)
    tell('easement-short', ofTracks, (found) => found.easementsShort)
    tell('short-curve', ofTracks, (found) => found.shortCurves)
    if (area !== null) {
      tell('benchwork-edge', () => edgeOf(runs, area), itself)
      tell('roadbed-edge', () => roadbedOf(runs, area), itself)
    }
    tell('roadbed-overlap', beside, ({ overlaps }) => (overlaps.length === 0 ? overlaps : overlaps.map(withCure)))
    tell('track-clearance', beside, ({ own, between }) =>
      between.length === 0 ? own : [...own, ...between.filter((finding) => !isOfCrossing(finding, network)).map(withCure)],
    )
    tell('fixed-clearance', () => fixedOf(runs, thingsOf(plan), plan.portals, area), itself)
    tell('minimum-frog', ofTurnouts, (found) => found.minimumFrog)
    tell('turnout-place', ofTurnouts, (found) => found.turnoutFault)
    tell('check-dimensions', everyTurnout, (turnout) => dimensionsOf(turnout, plan.railway))
    tell('check-dimensions', crossingsOnLevel, (crossing) => crossingDimensionsOf(crossing, plan.railway))
    tell(
      'turnout-place',
      () => [...network.turnoutsOn],
      ([id, list]) => {
        const host = network.tracks.get(id)
        return host === undefined ? [] : overlapsOf(list, host, network.crossingsOn.get(id) ?? noCrossings)
      },
    )
    tell(
      'turnout-place',
      () => tiesNear(onOneLevel()),
      ({ later, earlier }) => earlier.flatMap((one) => tiesOfPair(later, one)(later, one, hostOf(later), hostOf(one))),
    )
    tell('turnout-place', ofTurnouts, (found) => found.overEasementEnd)
    if (area !== null) tell('turnout-place', everyTurnout, (turnout) => overEdgeOf(turnout, area))
    tell('crossing-build', crossingsOnLevel, crossingOf)
    tell(
      'crossing-build',
      () => [...network.crossingsOn],
      ([id, list]) => crossingOverlapsOf(onLevel(list), id),
    )
    tell('throw-room', everyTurnout, (turnout) => throwOf(turnout, hostOf(turnout), plan.joists))
    tell(
      'throw-room',
      () => crossings,
      (crossing) => slipThrowOf(crossing, plan.joists),
    )
    tell('benchwork-outline', () => Object.values(plan.benchworks), outlineOf)
    tell(
      'helix-height',
      () => levels.helices,
      ({ maker, helix }) =>
        heightOf(maker, [helix, ...makerStandsOn(plan, network, maker)], () => helixHeight(plan, network, maker, helix)),
    )
    tell(
      'maker-follow',
      () => makers,
      (maker) => followOf(maker, makerStandsOn(plan, network, maker), () => makerFollow(plan, network, maker)),
    )
    tell('rail-joint', () => [ownJoints(plan, network)], itself)
    tell('line-joint', () => [lineJoints(endsNear)], itself)
    if (isAsked(...roomRules)) told.push(...roomOf({ plan, runs, area }).filter(({ rule }) => isAsked(rule)))
    return makers.length === 0
      ? told
      : told.map((one) => (one.cure === null ? one : freeOf(one, makers, () => withoutMadeCures(one, makers))))
  }
}

/** Rules of the room, which are looked at together. */
const roomRules: readonly RuleName[] = ['reach', 'aisle', 'door-swing', 'hatch-size', 'hatch-place', 'bench-overlap']

/** All findings of a plan, with nothing remembered. */
export function findingsOf(input: ChecksInput): readonly Finding[] {
  return checksCreateRunner()(input)
}

const portalsKept = keptFor((portals: Plan['portals']): readonly Portal[] => Object.values(portals))

/** Portals on the track of a run; where there are none, the same list each time. */
function portalsOf({ table, record }: Run, portals: Plan['portals']): readonly Portal[] {
  const own = table === 'tracks' ? portalsKept(portals).filter(({ track }) => track === record) : noPortals
  return own.length === 0 ? noPortals : own
}

/** All that decides whether a maker can make what it should, and where what it made stands. */
function makerStandsOn(plan: Plan, network: Network, { lineClass, numbers, made }: Maker): readonly unknown[] {
  return [
    plan.railway,
    plan.lineClasses[lineClass],
    ...makerHosts(numbers).map((id) => network.tracks.get(id)),
    ...made.tracks.map((id) => network.tracks.get(id)),
    ...made.turnouts.map((id) => network.turnouts.get(id)),
  ]
}
