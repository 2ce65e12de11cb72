import Flatbush from 'flatbush'
import { boxesOverlap, boxGrow } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import type { Network, NetworkCrossing, NetworkTrack, NetworkTurnout } from '../network/types.ts'
import { climbingTracks, legPose } from '../network/index.ts'
import { makerHosts } from '../plan/index.ts'
import type { LineClass, Maker, Plan, Portal, Track, TurnoutLeg, Wall } from '../plan/types.ts'
import { alignmentFaults } from './alignmentFaults.ts'
import { benchArea } from './area.ts'
import type { BenchArea } from './area.ts'
import { benchworkEdge } from './benchworkEdge.ts'
import { benchworkOutline } from './benchworkOutline.ts'
import { carRadius, couplingRadius } from './carRadius.ts'
import { centresCure, isOfMaker } from './centresCure.ts'
import { checkDimensions, crossingDimensions } from './checkDimensions.ts'
import { brokenBacks, reverseCurves } from './curvesInARow.ts'
import { couplerSwing } from './couplerSwing.ts'
import { crossingFault, crossingOverlaps, isOfCrossing } from './crossingFaults.ts'
import { runDemandMost } from './demand.ts'
import { easementFit } from './easementFit.ts'
import { easementsShort } from './easementShort.ts'
import { edgeOverhang, fixedClearance, portalClearance } from './fixedClearance.ts'
import { obstacleThing, wallThing } from './fixedThings.ts'
import type { FixedThing } from './fixedThings.ts'
import { helixHeight } from './helixHeight.ts'
import { keptFor, keptForPairs, keptOn } from './kept.ts'
import { helixRun, isOverpass, runBeside } from './levels.ts'
import type { HelixRun } from './levels.ts'
import { makerFollow } from './makerFollow.ts'
import { minimumFrog } from './minimumFrog.ts'
import { minimumRadiusOfTrack, minimumRadiusOfTurnout } from './minimumRadius.ts'
import { roomChecksCreate } from './room/room.ts'
import type { Run } from './run.ts'
import { legTurnouts, runsCreate } from './runs.ts'
import { shortCurves } from './shortCurve.ts'
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
  const radiusOfTrack = keptFor(minimumRadiusOfTrack)
  const radiusOfDiverging = keptFor(minimumRadiusOfTurnout)
  const radiusOfOther = keptFor(minimumRadiusOfTurnout)
  const carRadiusOf = keptFor(carRadius)
  const couplingOf = keptFor(couplingRadius)
  const reversesOf = keptFor(reverseCurves)
  const brokenOf = keptFor(brokenBacks)
  const swingOf = keptFor(couplerSwing)
  const faultsOfTrack = keptFor(alignmentFaults)
  const fitOfTrack = keptFor(easementFit)
  const easesOf = keptFor(easementsShort)
  const shortOf = keptFor(shortCurves)
  const areaOf = keptFor(benchArea)
  const runsOf = runsCreate()
  const edgeOf = keptFor(benchworkEdge)
  const mostOf = keptFor(runDemandMost)
  const selfOf = keptFor(selfClearance)
  const pairOf = keptForPairs(trackClearance)
  const wallOf = keptOn<Wall, FixedThing>()
  const obstacleOf = keptFor(obstacleThing)
  const thingsOf = keptFor((walls: Plan['walls'], obstacles: Plan['obstacles'], openings: Plan['openings']): readonly FixedThing[] => [
    ...Object.values(walls).map((wall) => {
      const own = Object.values(openings).filter((opening) => opening.wall === wall.id)
      return wallOf(wall, own, () => wallThing(wall, own))
    }),
    ...Object.values(obstacles).map((obstacle) => obstacleOf(obstacle)),
  ])
  const thingOf = keptForPairs((_run: Run, _thing: FixedThing) => keptOn<Run, readonly Finding[]>())
  const portalOf = keptForPairs(portalClearance)
  const overhangOf = keptFor(edgeOverhang)
  const fixedOf = keptFor((run: Run, things: readonly FixedThing[], portals: readonly Portal[], area: BenchArea | null) => [
    ...things
      .filter(({ box }) => boxesOverlap(run.box, boxGrow(box, 2 * mostOf(run))))
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
  const helixOf = keptFor(helixRun)
  const besideOf = keptForPairs(runBeside)
  const heightOf = keptOn<Maker, readonly Finding[]>()
  const followOf = keptOn<Maker, readonly Finding[]>()
  const roomOf = roomChecksCreate()

  return ({ plan, network }) => {
    const tracks = [...network.tracks.values()]
    const turnouts = [...network.turnouts.values()]
    const hostOf = ({ turnout }: NetworkTurnout): NetworkTrack | null => network.tracks.get(turnout.track) ?? null
    const { tracks: trackRuns, bare, guestOf } = runsOf(plan, network)
    const makers = Object.values(plan.makers)
    const helices = makers.flatMap((maker): { readonly maker: Maker; readonly helix: HelixRun }[] => {
      const made = trackRuns.find(({ track }) => track.track.id === maker.made.tracks[0])
      const helix = made === undefined ? null : helixOf(maker, made.track, made.run)
      return helix === null ? [] : [{ maker, helix }]
    })
    const runs = [...trackRuns.map(({ run }) => levelled(run, helices, besideOf)), ...bare]
    const onLevel = (list: readonly NetworkCrossing[]): readonly NetworkCrossing[] =>
      helices.length === 0 ? list : list.filter((crossing) => !isOverpass(crossing, runs))
    const climbing = climbingTracks(plan)
    const area = Object.keys(plan.benchworks).length === 0 ? null : areaOf(plan.benchworks)

    const withCure = (finding: Finding): Finding => {
      const maker = finding.problem === null ? makers.find((one) => isOfMaker(finding, one)) : undefined
      if (maker === undefined) return finding
      const standsOn = [maker, ...makerStandsOn(plan, network, maker)]
      return cureOf(finding, standsOn, () => ({ ...finding, cure: centresCure(finding, plan, network, maker) }))
    }
    const things = thingsOf(plan.walls, plan.obstacles, plan.openings)
    const portals = Object.values(plan.portals)
    const portalsOf = (run: Run): readonly Portal[] => {
      const own = portals.length > 0 && run.table === 'tracks' ? portals.filter(({ track }) => track === run.record) : noPortals
      return own.length === 0 ? noPortals : own
    }

    return [
      ...tracks.flatMap((track) => radiusOfTrack(track, ...legPoses(track, network))),
      ...turnouts.flatMap((turnout) => {
        const classOf = (leg: TurnoutLeg): LineClass | null => guestOf(turnout.turnout.id, leg)?.lineClass ?? turnout.lineClass
        const [diverging, other] = [classOf('diverging'), classOf('other')]
        return [
          ...(diverging === null ? [] : radiusOfDiverging(turnout, 'diverging', diverging)),
          ...(other === null ? [] : radiusOfOther(turnout, 'other', other)),
        ]
      }),
      ...trackRuns.flatMap(({ run, track }) => carRadiusOf(run, track, ...legPoses(track, network))),
      ...trackRuns.flatMap(({ run, track }) => couplingOf(run, track, ...legPoses(track, network), ...legTurnouts(track, network))),
      ...trackRuns.flatMap(({ run, track }) => reversesOf(run, track, ...legPoses(track, network))),
      ...trackRuns.flatMap(({ run, track }) => brokenOf(run, track)),
      ...trackRuns.flatMap(({ run, track }) => swingOf(run, track)),
      ...bare.flatMap((run) => swingOf(run, null)),
      ...tracks.flatMap((track) => faultsOfTrack(track)),
      ...tracks.flatMap((track) => fitOfTrack(track, ...legPoses(track, network))),
      ...tracks.flatMap((track) => easesOf(track, ...legPoses(track, network))),
      ...tracks.flatMap((track) => shortOf(track, ...legPoses(track, network))),
      ...(area === null ? [] : runs.flatMap((run) => edgeOf(run, area))),
      ...nearPairs(runs, mostOf).flatMap(([run, other]) =>
        run === other
          ? selfOf(run)
          : pairOf(run, other)
              .filter((finding) => !isOfCrossing(finding, network))
              .map(withCure),
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
      ...helices.flatMap(({ maker, helix }) =>
        heightOf(maker, [helix, ...makerStandsOn(plan, network, maker)], () => helixHeight(plan, network, maker, helix)),
      ),
      ...makers.flatMap((maker) => followOf(maker, makerStandsOn(plan, network, maker), () => makerFollow(plan, network, maker))),
      ...roomOf({ plan, runs, area }),
    ]
  }
}

/** All findings of a plan, with nothing remembered. */
export function findingsOf(input: ChecksInput): readonly Finding[] {
  return checksCreateRunner()(input)
}

/** The run with what is known of its height. */
function levelled(run: Run, helices: readonly { readonly helix: HelixRun }[], besideOf: (run: Run, helix: HelixRun) => Run): Run {
  for (const { helix } of helices) {
    if (run.record === helix.run.record) return helix.run
    const beside = besideOf(run, helix)
    if (beside !== run) return beside
  }
  return run
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

/** Each run with itself and with every later one whose box it may come too near to; in the order of the runs. */
function nearPairs(runs: readonly Run[], mostOf: (run: Run) => number): readonly (readonly [Run, Run])[] {
  if (runs.length === 0) return []
  const index = new Flatbush(runs.length)
  let mostMm = 0
  for (const run of runs) {
    index.add(run.box.minX, run.box.minY, run.box.maxX, run.box.maxY)
    mostMm = Math.max(mostMm, mostOf(run))
  }
  index.finish()
  return runs.flatMap((run, i) => {
    const reachMm = mostOf(run) + mostMm
    const { minX, minY, maxX, maxY } = run.box
    const found = index.search(minX - reachMm, minY - reachMm, maxX + reachMm, maxY + reachMm).filter((j) => j >= i)
    found.sort((a, b) => a - b)
    return found.flatMap((j): (readonly [Run, Run])[] => {
      const other = runs[j]
      return other === undefined ? [] : [[run, other]]
    })
  })
}
