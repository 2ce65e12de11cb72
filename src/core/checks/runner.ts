import { boxesWithin } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { Network, NetworkCrossing, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import { climbingTracks, legPose } from '../network/index.ts'
import { isOverpass, levelFrom, trackLevels } from '../levels/index.ts'
import type { LineLevel } from '../levels/index.ts'
import { fixedThingsCreate } from '../clearance/index.ts'
import type { FixedThing } from '../clearance/index.ts'
import { keptFor, keptForPairs, keptOn, makerHosts } from '../plan/index.ts'
import type { LineClass, Maker, Plan, Portal, RailJoint, Track, TurnoutLeg } from '../plan/types.ts'
import { benchArea } from './area.ts'
import type { BenchArea } from './area.ts'
import { benchworkEdge } from './benchworkEdge.ts'
import { benchworkOutline } from './benchworkOutline.ts'
import { centresCure, isOfMaker } from './centresCure.ts'
import { checkDimensions, crossingDimensions } from './checkDimensions.ts'
import { couplerSwing } from './couplerSwing.ts'
import { crossingFault, crossingOverlaps, isOfCrossing } from './crossingFaults.ts'
import { runDemandMost } from './demand.ts'
import { edgeOverhang, fixedClearance, portalClearance } from './fixedClearance.ts'
import { helixHeight } from './helixHeight.ts'
import { makerFollow } from './makerFollow.ts'
import { jointKeepers, ownJointPlace, ownJointStagger, worksOnTrack } from './ownJoints.ts'
import type { Keeper } from './ownJoints.ts'
import { minimumFrog } from './minimumFrog.ts'
import { minimumRadiusOfTurnout } from './minimumRadius.ts'
import { nearRunsCreate } from './nearRuns.ts'
import type { NearRuns } from './nearRuns.ts'
import { roadbedEdge } from './roadbedEdge.ts'
import { roadbedOverlap, selfOverlap } from './roadbedOverlap.ts'
import { roomChecksCreate } from './room/room.ts'
import { runRules, trackRules } from './lineRules.ts'
import type { Run } from './run.ts'
import { legTurnouts, runsCreate } from './runs.ts'
import { selfClearance, trackClearance } from './trackClearance.ts'
import { throwRoomOfCrossing, throwRoomOfTurnout } from './throwRoom.ts'
import { tiesOverEdge } from './tiesOverEdge.ts'
import { turnoutsNear, turnoutTiesMeet } from './turnoutTies.ts'
import { turnoutFault, turnoutOverEasementEnd, turnoutOverlaps, turnoutsOverCrossings } from './turnoutFaults.ts'
import type { Finding } from './types.ts'

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
 * Outcome:    all findings, rule by rule in the order of RuleName, within a rule in the order of the plan. The same as from a
 *             fresh runner, whatever was checked before (tests/laws/checks).
 * Throws:     never, for a network derived from a plan that the schema accepts.
 */
export function checksCreateRunner(): (input: ChecksInput) => readonly Finding[] {
  const trackRulesOf = keptFor(trackRules)
  const runRulesOf = keptFor(runRules)
  const radiusOfDiverging = keptFor(minimumRadiusOfTurnout)
  const radiusOfOther = keptFor(minimumRadiusOfTurnout)
  const bareSwingOf = keptFor(couplerSwing)
  const areaOf = keptFor(benchArea)
  const runsOf = runsCreate()
  const edgeOf = keptFor(benchworkEdge)
  const roadbedOf = keptFor(roadbedEdge)
  const nearOf = nearRunsCreate()
  const selfOf = keptFor(selfClearance)
  const pairOf = keptForPairs(trackClearance)
  const selfOverlapOf = keptFor(selfOverlap)
  const overlapOfPair = keptForPairs((run: Run, other: Run) => roadbedOverlap(run, other, pairOf(run, other)))
  const clearanceOf = keptFor(({ run, others }: NearRuns) => {
    const own = selfOf(run)
    return {
      own,
      between: others.flatMap((other) => (other === run ? [] : pairOf(run, other))),
      overlaps: [...selfOverlapOf(run, own), ...others.flatMap((other) => (other === run ? [] : overlapOfPair(run, other)))],
    }
  })
  const thingsOf = fixedThingsCreate()
  const thingOf = keptForPairs((_run: Run, _thing: FixedThing) => keptOn<Run, readonly Finding[]>())
  const portalOf = keptForPairs(portalClearance)
  const overhangOf = keptFor(edgeOverhang)
  const fixedOf = keptFor((run: Run, things: readonly FixedThing[], portals: readonly Portal[], area: BenchArea | null) => [
    ...things
      .filter(({ box }) => boxesWithin(box, run.box, 2 * runDemandMost(run)))
      .flatMap((thing) => thingOf(run, thing)(run, portals, () => fixedClearance(run, thing, portals))),
    ...portals.flatMap((portal) => portalOf(run, portal)),
    ...(area === null ? [] : overhangOf(run, area)),
  ])
  const cureOf = keptOn<Finding, Finding>()
  const frogOf = keptFor(minimumFrog)
  const placeOf = keptFor(turnoutFault)
  const dimensionsOf = keptFor(checkDimensions)
  const crossingDimensionsOf = keptFor(crossingDimensions)
  const overlapsOf = keptFor((turnouts: readonly NetworkTurnout[], host: NetworkTrack, crossings: readonly NetworkCrossing[]) => [
    ...turnoutOverlaps(host, turnouts),
    ...turnoutsOverCrossings(turnouts, crossings, host),
  ])
  const easementOf = keptFor(turnoutOverEasementEnd)
  const tiesOfPair = keptForPairs((_later: NetworkTurnout, _earlier: NetworkTurnout) => keptFor(turnoutTiesMeet))
  const overEdgeOf = keptFor(tiesOverEdge)
  const throwOf = keptFor(throwRoomOfTurnout)
  const slipThrowOf = keptFor(throwRoomOfCrossing)
  const crossingOf = keptFor(crossingFault)
  const crossingOverlapsOf = keptFor(crossingOverlaps)
  const outlineOf = keptFor(benchworkOutline)
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
      const hosts = legTurnouts(track, network)
      const keepers = keepersOf(track, [...works, ...hosts], () => jointKeepers(track, works, hosts))
      return [...jointOf(joint, track, keepers, rules), ...ownJointStagger(joint, others, track, rules)]
    })
  }

  return ({ plan, network }) => {
    const tracks = [...network.tracks.values()]
    const turnouts = [...network.turnouts.values()]
    const hostOf = ({ turnout }: NetworkTurnout): NetworkTrack | null => network.tracks.get(turnout.track) ?? null
    const { tracks: trackRuns, bare, guestOf } = runsOf(plan, network)
    const makers = Object.values(plan.makers)
    const levels = trackLevels(network)
    const levelled = (run: Run): Run => {
      const level = levels.of(run.record)
      return level === null ? run : levelledOf(run, level)
    }
    const runs = [...trackRuns.map(({ run }) => levelled(run)), ...bare]
    const onLevel = (list: readonly NetworkCrossing[]): readonly NetworkCrossing[] =>
      levels.helices.length === 0 ? list : list.filter((crossing) => !isOverpass(crossing, levels))
    const climbing = climbingTracks(plan)
    const area = Object.keys(plan.benchworks).length === 0 ? null : areaOf(plan.benchworks)

    const withCure = (finding: Finding): Finding => {
      const isBeside = finding.problem === null || finding.problem.kind === 'roadbedsMeet'
      const maker = isBeside ? makers.find((one) => isOfMaker(finding, one)) : undefined
      if (maker === undefined) return finding
      const standsOn = [maker, ...makerStandsOn(plan, network, maker)]
      return cureOf(finding, standsOn, () => ({ ...finding, cure: centresCure(finding, plan, network, maker) }))
    }
    const things = thingsOf(plan)
    const portals = Object.values(plan.portals)
    const beside = nearOf(runs).map((near) => clearanceOf(near))
    const portalsOf = (run: Run): readonly Portal[] => {
      const own = portals.length > 0 && run.table === 'tracks' ? portals.filter(({ track }) => track === run.record) : noPortals
      return own.length === 0 ? noPortals : own
    }

    const ofTracks = tracks.map((track) => trackRulesOf(track, ...legPoses(track, network)))
    const ofRuns = trackRuns.map(({ run, track }) => runRulesOf(run, track, ...legPoses(track, network), ...legTurnouts(track, network)))

    return [
      ...ofTracks.flatMap((found) => found.minimumRadius),
      ...turnouts.flatMap((turnout) => {
        const classOf = (leg: TurnoutLeg): LineClass | null => guestOf(turnout.turnout.id, leg)?.lineClass ?? turnout.lineClass
        const [diverging, other] = [classOf('diverging'), classOf('other')]
        return [
          ...(diverging === null ? [] : radiusOfDiverging(turnout, 'diverging', diverging)),
          ...(other === null ? [] : radiusOfOther(turnout, 'other', other)),
        ]
      }),
      ...ofRuns.flatMap((found) => found.carRadius),
      ...ofRuns.flatMap((found) => found.couplingRadius),
      ...ofRuns.flatMap((found) => found.reverseCurves),
      ...ofRuns.flatMap((found) => found.brokenBacks),
      ...ofRuns.flatMap((found) => found.couplerSwing),
      ...bare.flatMap((run) => bareSwingOf(run, null)),
      ...ofTracks.flatMap((found) => found.alignmentFaults),
      ...ofTracks.flatMap((found) => found.easementFit),
      ...ofTracks.flatMap((found) => found.easementsShort),
      ...ofTracks.flatMap((found) => found.shortCurves),
      ...(area === null ? [] : runs.flatMap((run) => edgeOf(run, area))),
      ...(area === null ? [] : runs.flatMap((run) => roadbedOf(run, area))),
      ...beside.flatMap(({ overlaps }) => (overlaps.length === 0 ? overlaps : overlaps.map(withCure))),
      ...beside.flatMap(({ own, between }) =>
        between.length === 0 ? own : [...own, ...between.filter((finding) => !isOfCrossing(finding, network)).map(withCure)],
      ),
      ...runs.flatMap((run) => fixedOf(run, things, portalsOf(run), area)),
      ...turnouts.flatMap((turnout) => frogOf(turnout, hostOf(turnout))),
      ...turnouts.flatMap((turnout) => placeOf(turnout, hostOf(turnout))),
      ...turnouts.flatMap((turnout) => dimensionsOf(turnout, plan.railway)),
      ...onLevel([...network.crossings.values()]).flatMap((crossing) => crossingDimensionsOf(crossing, plan.railway)),
      ...[...network.turnoutsOn].flatMap(([id, list]) => {
        const host = network.tracks.get(id)
        return host === undefined ? [] : overlapsOf(list, host, network.crossingsOn.get(id) ?? noCrossings)
      }),
      ...turnoutsNear(turnouts.filter(({ turnout }) => !climbing.has(turnout.track))).flatMap(([later, earlier]) =>
        tiesOfPair(later, earlier)(later, earlier, hostOf(later), hostOf(earlier)),
      ),
      ...turnouts.flatMap((turnout) => easementOf(turnout, hostOf(turnout))),
      ...(area === null ? [] : turnouts.flatMap((turnout) => overEdgeOf(turnout, area))),
      ...onLevel([...network.crossings.values()]).flatMap((crossing) => crossingOf(crossing)),
      ...[...network.crossingsOn].flatMap(([id, list]) => crossingOverlapsOf(onLevel(list), id)),
      ...turnouts.flatMap((turnout) => throwOf(turnout, hostOf(turnout), plan.joists)),
      ...[...network.crossings.values()].flatMap((crossing) => slipThrowOf(crossing, plan.joists)),
      ...Object.values(plan.benchworks).flatMap((benchwork) => outlineOf(benchwork)),
      ...levels.helices.flatMap(({ maker, helix }) =>
        heightOf(maker, [helix, ...makerStandsOn(plan, network, maker)], () => helixHeight(plan, network, maker, helix)),
      ),
      ...makers.flatMap((maker) => followOf(maker, makerStandsOn(plan, network, maker), () => makerFollow(plan, network, maker))),
      ...ownJoints(plan, network),
      ...roomOf({ plan, runs, area }),
    ]
  }
}

/** All findings of a plan, with nothing remembered. */
export function findingsOf(input: ChecksInput): readonly Finding[] {
  return checksCreateRunner()(input)
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

function legPoses(track: NetworkTrack, network: Network): readonly [Pose | null, Pose | null] {
  const pose = (turnout: NetworkTurnout | null, end: Track['start'] | Track['end']): Pose | null =>
    turnout !== null && end.kind === 'leg' ? legPose(turnout.result, end.leg) : null
  const [start, end] = legTurnouts(track, network)
  return [pose(start, track.track.start), pose(end, track.track.end)]
}
