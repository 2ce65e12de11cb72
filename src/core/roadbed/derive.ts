import { pathMove, pathNearest, pathReverse, pathSlice, pathsJoined, pathStart, poseToPlan } from '../geom/index.ts'
import type { Path, Pose } from '../geom/types.ts'
import type { Network, NetworkTrack, NetworkTurnout, Stretch } from '../network/index.ts'
import type { Derived } from '../pipeline/types.ts'
import { shortNames } from '../plan/index.ts'
import type { ShortNames } from '../plan/index.ts'
import type { Id, Plan, TurnoutLeg } from '../plan/types.ts'
import { stretchesFree } from '../track/index.ts'
import type { WorkRoute } from '../turnout/types.ts'
import { pathAhead, pathAround } from './around.ts'
import type { SolvedLine } from './around.ts'
import { fillerBeside } from './filler.ts'
import type { Filler, Leaving } from './filler.ts'
import { rampsOf } from './ramps.ts'
import { runLaid } from './run.ts'
import type { RunRequest } from './run.ts'
import { sectionOf } from './section.ts'
import type { Section } from './section.ts'
import { slipPieces } from './slips.ts'
import { longestStrip, noStockProblem, stockForStrip } from './stock.ts'
import type { RoadbedProblem, RoadbedRun, RoadbedTurnoutPiece, RoadbedWork } from './types.ts'

/** A leaving track is looked at over so many widths of its roadbed for where it is clear. */
const lookWidths = 40
/** What is left of a line and shorter is none. */
const shortestRunMm = 1
/** Roadbeds that lie in each other by less are told nothing of. */
const overlapToldMm = 0.5

/**
 * All roadbed of a plan: strips of every track, what turnouts and crossings add, ramps between heights; and what does not go.
 *
 * The band of a host runs through its turnouts; what leaves it butts against it and reaches so far along the leaving track as the two lie
 * together. Of a crossing's tracks the first runs through. A class without roadbed has none.
 *
 * Exactness: lengths are those of the exact offsets; where bands part to 4 mm along the track, added.
 * Outcome:   everything that can be told beside the problems. Never throws.
 */
export function roadbedOf(derived: Derived): RoadbedWork {
  const { plan, network } = derived
  const problems: RoadbedProblem[] = []
  const sections = new Map<Id, Section | null>()
  for (const lineClass of usedClasses(network)) {
    const result = sectionOf(plan, lineClass)
    if (!result.ok) problems.push(...result.problems)
    sections.set(lineClass.id, result.ok ? result.section : null)
  }
  const at: Site = { derived, sections, names: shortNames(plan, network.crossings.keys()), problems }
  const fillers = [...turnoutFillers(at), ...crossingFillers(at)]
  const wyes = wyeRuns(at)
  const taken = takenByTrack([...fillers, ...wyes])
  const tracks = [...network.tracks.values()]
  const laid = [...tracks.flatMap((track) => trackRuns(at, track, taken)), ...wyes.map(({ request }) => request)].map(runLaid)
  const { ramps, problems: rampProblems } = rampsOf(derived, taken)
  problems.push(...laid.flatMap((one) => one.problems), ...rampProblems)
  const work = { runs: laid.map(({ run }) => run), turnoutPieces: fillers.map(({ piece }) => piece), ramps }
  return { ...work, problems: [...problems, ...stockProblems(plan, work.runs, work.turnoutPieces)] }
}

/** Stretches of tracks that lie on what turnouts and crossings add. */
function takenByTrack(all: readonly Pick<Placed, 'track' | 'takes'>[]): ReadonlyMap<Id, readonly Stretch[]> {
  const taken = new Map<Id, Stretch[]>()
  for (const { track, takes } of all) if (track !== null && takes) taken.set(track, [...(taken.get(track) ?? []), takes])
  return taken
}

interface Site {
  readonly derived: Derived
  readonly sections: ReadonlyMap<Id, Section | null>
  readonly names: ShortNames
  readonly problems: RoadbedProblem[]
}

function usedClasses(network: Network) {
  return new Map([...network.tracks.values()].map(({ lineClass }) => [lineClass.id, lineClass])).values()
}

/** What is added, and the stretch of its own track that lies on it. */
interface Placed {
  readonly piece: RoadbedTurnoutPiece
  readonly track: Id | null
  /** From the track's start or end, or about a crossing's station. */
  readonly takes: Stretch | null
}

function limitsOf({ derived: { plan } }: Site, section: Section): Parameters<typeof fillerBeside>[2] {
  return {
    longestMm: (widthMm) => longestStrip(stockForStrip(plan, section.material.id, section.roadbed.thicknessMm, widthMm)),
    staggerMm: plan.railway.laying.cutting.roadbedStaggerMm,
  }
}

/** The track that begins or ends at a leg, as it runs away from it. */
interface LegTrack {
  readonly track: NetworkTrack
  readonly line: SolvedLine
  readonly end: 'start' | 'end'
  readonly isLegAtOther: boolean
}

function legTrack(network: Network, turnout: Id, leg: TurnoutLeg): LegTrack | null {
  for (const track of network.tracks.values()) {
    const { start, end } = track.track
    const isMine = (one: typeof start | typeof end): boolean => one.kind === 'leg' && one.turnout === turnout && one.leg === leg
    if (!track.alignment.ok) continue
    const line = track.alignment
    if (isMine(start)) return { track, line, end: 'start', isLegAtOther: end.kind === 'leg' }
    if (isMine(end)) return { track, line, end: 'end', isLegAtOther: start.kind === 'leg' }
  }
  return null
}

/** A leg's track as far as it is looked at; without one the leg runs straight on. */
function beyondLeg(legged: LegTrack | null, pose: Pose, lookMm: number): { readonly path: Path; readonly mostMm: number } {
  if (legged === null)
    return { path: pathAhead({ path: { elements: [], lengthMm: 0, end: pose }, isClosed: false }, 0, 1, lookMm), mostMm: lookMm }
  const { line, end, isLegAtOther } = legged
  const own = line.path.lengthMm
  const path = end === 'start' ? pathAhead(line, 0, 1, lookMm) : pathAhead(line, own, -1, lookMm)
  // Between two legs each reaches to the middle at most.
  return { path, mostMm: Math.min(lookMm, isLegAtOther ? own / 2 : own) }
}

function turnoutFillers(at: Site): readonly Placed[] {
  const { network } = at.derived
  return [...network.turnouts.values()].flatMap((placed) => {
    const section = placed.lineClass && (at.sections.get(placed.lineClass.id) ?? null)
    return section ? routeFillers(at, placed, section) : []
  })
}

function routeFillers(at: Site, { turnout, result }: NetworkTurnout, section: Section): readonly Placed[] {
  const { network } = at.derived
  const host = network.tracks.get(turnout.track)
  if (!result.ok || !host?.alignment.ok) return []
  const { geometry, pose, legs } = result
  const lookMm = lookWidths * section.footWidthMm
  const lines = legs.map(({ leg, route, pose: at }) => {
    const legged = legTrack(network, turnout.id, leg)
    const centre = geometry.routes.find(({ name }) => name === route)?.centre
    const beyond = beyondLeg(legged, at, lookMm)
    const own = centre && pathMove(centre, pose)
    return { leg, route, legged, beyond, ownMm: own?.lengthMm ?? 0, centre: own && pathsJoined([own, beyond.path]) }
  })
  const ownHost = turnout.kind.kind === 'wye' ? lines[0] : null
  const lastTieMm = Math.max(0, ...geometry.ties.map(({ stationMm }) => stationMm))
  return lines.flatMap((line): readonly Placed[] => {
    const { centre, route, leg, legged, ownMm, beyond } = line
    if (!centre || line === ownHost || !host.alignment.ok) return []
    const hostPath = ownHost?.centre ?? pathAhead(host.alignment, turnout.stationMm, turnout.facing === 'rising' ? 1 : -1, centre.lengthMm)
    const leaving: Leaving = {
      route,
      centre,
      host: hostPath,
      leastMm: Math.min(Math.max(ownMm, lastTieMm), ownMm + beyond.mostMm),
      mostMm: ownMm + beyond.mostMm,
      spareMm: geometry.request.tieSpacingMm,
      bays: legged ? legBays(at.derived, legged, ownMm) : [],
    }
    const id = `${at.names.turnouts.get(turnout.id) ?? turnout.id}-${leg}`
    const filler = fillerBeside(leaving, section, limitsOf(at, section))
    const isMiddle = legged?.isLegAtOther === true && filler.reachMm >= leaving.mostMm - 1e-6
    if (filler.overlapMm > overlapToldMm && legged && !isMiddle) {
      at.problems.push({
        kind: 'bandsOverlap',
        turnout: turnout.id,
        track: legged.track.track.id,
        host: turnout.track,
        overlapMm: filler.overlapMm,
      })
    }
    const takenMm = Math.max(0, filler.reachMm - ownMm)
    return [{ piece: pieceOf(id, { kind: 'turnout', turnout: turnout.id }, leaving, section, filler), ...takenOf(legged, takenMm) }]
  })
}

/** Throw bays of a leg's track, from the points on. */
function legBays(derived: Derived, { track, line: { path }, end }: LegTrack, ownMm: number): readonly Stretch[] {
  return throwBays(derived, track.track.id, path).map(({ fromMm, toMm }) =>
    end === 'start'
      ? { fromMm: ownMm + fromMm, toMm: ownMm + toMm }
      : { fromMm: ownMm + path.lengthMm - toMm, toMm: ownMm + path.lengthMm - fromMm },
  )
}

function takenOf(legged: LegTrack | null, takenMm: number): Pick<Placed, 'track' | 'takes'> {
  if (legged === null) return { track: null, takes: null }
  const lengthMm = legged.line.path.lengthMm
  const takes = legged.end === 'start' ? { fromMm: 0, toMm: takenMm } : { fromMm: lengthMm - takenMm, toMm: lengthMm }
  return { track: legged.track.track.id, takes }
}

function pieceOf(
  id: string,
  owner: RoadbedTurnoutPiece['owner'],
  { route }: Pick<Leaving, 'route'>,
  { lineClass, roadbed }: Section,
  { top, foot, taperMm, crotchRad, strips }: Filler,
): RoadbedTurnoutPiece {
  return {
    id,
    owner,
    route,
    lineClass,
    roadbed,
    top,
    foot,
    taperMm,
    crotchRad,
    strips: strips.map((strip) => ({ ...strip, id: `${id}.${strip.strip + 1}${strip.number === 1 ? '' : `-${strip.number}`}` })),
  }
}

function crossingFillers(at: Site): readonly Placed[] {
  const { network } = at.derived
  return [...network.crossings.values()].flatMap((crossing): readonly Placed[] => {
    const [first, other] = [network.tracks.get(crossing.track), network.tracks.get(crossing.other)]
    const section = first && (at.sections.get(first.lineClass.id) ?? null)
    if (!section || !first.alignment.ok || !other?.alignment.ok || !crossing.result.ok) return []
    const lookMm = lookWidths * section.footWidthMm
    const [line, otherLine] = [first.alignment, other.alignment]
    const short = at.names.crossings.get(crossing.id) ?? crossing.id
    const slips = slipPieces(crossing, short, section).map((piece): Placed => ({ piece, track: null, takes: null }))
    const halves = ([1, -1] as const).flatMap((direction): readonly Placed[] => {
      const stationMm = crossing.otherStationMm
      const centre = pathAhead(otherLine, stationMm, direction, lookMm)
      const about = pathAround(line, crossing.stationMm, lookMm)
      const isAlong = (direction === 1) !== crossing.isOtherReversed
      const mostMm = otherLine.isClosed ? lookMm : Math.min(lookMm, direction === 1 ? otherLine.path.lengthMm - stationMm : stationMm)
      const leaving: Leaving = {
        route: 'other',
        centre,
        host: isAlong ? about : pathReverse(about),
        leastMm: Math.min(mostMm, section.footWidthMm / 2),
        mostMm,
        spareMm: first.lineClass.tieSpacingMm,
        bays: throwBays(at.derived, crossing.other, otherLine.path).map(({ fromMm, toMm }) =>
          direction === 1 ? { fromMm: fromMm - stationMm, toMm: toMm - stationMm } : { fromMm: stationMm - toMm, toMm: stationMm - fromMm },
        ),
      }
      const filler = fillerBeside(leaving, section, limitsOf(at, section))
      const takes =
        direction === 1 ? { fromMm: stationMm, toMm: stationMm + filler.reachMm } : { fromMm: stationMm - filler.reachMm, toMm: stationMm }
      const id = `${short}-${direction === 1 ? 'beyond' : 'before'}`
      return [{ piece: pieceOf(id, { kind: 'crossing', crossing: crossing.id }, leaving, section, filler), track: crossing.other, takes }]
    })
    return [...halves, ...slips]
  })
}

function trackRuns(
  at: Site,
  { track, lineClass, alignment }: NetworkTrack,
  onOthers: ReadonlyMap<Id, readonly Stretch[]>,
): readonly RunRequest[] {
  const section = at.sections.get(lineClass.id)
  if (!section || !alignment.ok) return []
  const { path, isClosed } = alignment
  const taken = onOthers.get(track.id) ?? []
  const free = stretchesFree(path.lengthMm, isClosed, taken).filter(({ fromMm, toMm }) => toMm - fromMm > shortestRunMm)
  const bays = throwBays(at.derived, track.id, path)
  const { longestMm } = limitsOf(at, section)
  const isWhole = isClosed && taken.length === 0
  const short = at.names.tracks.get(track.id) ?? track.id
  return runsJoined(free, path.lengthMm, isClosed && !isWhole).map((stretch, i, all): RunRequest => {
    const { fromMm, toMm } = stretch
    const turns = isClosed ? [-path.lengthMm, 0, path.lengthMm] : [0]
    return {
      id: all.length === 1 ? short : `${short}-${i + 1}`,
      owner: { kind: 'track', track: track.id },
      section,
      path: toMm <= path.lengthMm ? pathSlice(path, fromMm, toMm) : pathAhead(alignment, fromMm, 1, toMm - fromMm),
      isClosed: isWhole,
      originMm: fromMm,
      forbidden: bays.flatMap((bay) =>
        turns.flatMap((turn) => {
          const [from, to] = [bay.fromMm + turn - fromMm, bay.toMm + turn - fromMm]
          return to > 0 && from < toMm - fromMm ? { fromMm: from, toMm: to } : []
        }),
      ),
      cutting: at.derived.plan.railway.laying.cutting,
      longestMm,
    }
  })
}

/** On a closed line that is broken somewhere the stretch through station zero is one: it runs past the length. */
function runsJoined(free: readonly Stretch[], lengthMm: number, isBroken: boolean): readonly Stretch[] {
  const [first, last] = [free[0], free.at(-1)]
  const isThrough = isBroken && free.length > 1 && first?.fromMm === 0 && last?.toMm === lengthMm
  return isThrough ? [...free.slice(1, -1), { fromMm: last.fromMm, toMm: lengthMm + first.toMm }] : free
}

/** Stretches of a track about the throw bars on it. */
function throwBays({ network, plan }: Derived, track: Id, path: Path): readonly Stretch[] {
  const { throwBayMm } = plan.railway.laying.joints
  const half = plan.railway.gaugeMm / 2
  const holes = [
    ...(network.turnoutsOn.get(track) ?? []).flatMap(({ result }) =>
      result.ok ? result.geometry.throwHoles.map(({ at }) => poseToPlan(result.pose, at)) : [],
    ),
    ...(network.crossingsOn.get(track) ?? []).flatMap(({ pose, result }) =>
      result.ok ? result.crossing.throwHoles.map(({ at }) => poseToPlan(pose, at)) : [],
    ),
  ]
  return holes.flatMap((hole) => {
    const near = pathNearest(path, hole)
    return near.distanceMm <= half ? { fromMm: near.stationMm - throwBayMm, toMm: near.stationMm + throwBayMm } : []
  })
}

/** A wye's first route is laid whole, from its host's roadbed to its leg; so much of the host ahead of the points is laid with it, that no strip ends in the throw bay. */
function wyeRuns(at: Site): readonly WyeRun[] {
  const { network, plan } = at.derived
  const { throwBayMm } = plan.railway.laying.joints
  return [...network.turnouts.values()].flatMap(({ turnout, lineClass, result }): readonly WyeRun[] => {
    const section = lineClass && (at.sections.get(lineClass.id) ?? null)
    const first = result.ok && turnout.kind.kind === 'wye' ? result.legs[0] : undefined
    const line = network.tracks.get(turnout.track)?.alignment
    const route = result.ok ? result.geometry.routes.find(({ name }) => name === first?.route) : undefined
    if (!section || !result.ok || !first || !route || !line?.ok) return []
    const { lengthMm } = line.path
    const aheadMm = Math.min(throwBayMm, lengthMm)
    const isAtEnd = turnout.facing === 'rising'
    const ahead = isAtEnd ? pathSlice(line.path, lengthMm - aheadMm, lengthMm) : pathReverse(pathSlice(line.path, 0, aheadMm))
    const path = pathsJoined([ahead, pathMove(behindPoints(route), result.pose)])
    return [
      {
        track: turnout.track,
        takes: isAtEnd ? { fromMm: lengthMm - aheadMm, toMm: lengthMm } : { fromMm: 0, toMm: aheadMm },
        request: {
          id: `${at.names.turnouts.get(turnout.id) ?? turnout.id}-${first.leg}`,
          owner: { kind: 'turnout', turnout: turnout.id, route: first.route },
          section,
          path,
          isClosed: false,
          originMm: -aheadMm,
          forbidden: result.geometry.throwHoles.map(({ at: hole }) => {
            const near = pathNearest(path, poseToPlan(result.pose, hole))
            return { fromMm: near.stationMm - throwBayMm, toMm: near.stationMm + throwBayMm }
          }),
          cutting: plan.railway.laying.cutting,
          longestMm: limitsOf(at, section).longestMm,
        },
      },
    ]
  })
}

interface WyeRun {
  readonly track: Id
  readonly takes: Stretch
  readonly request: RunRequest
}

/** A route from the point of switch on. */
function behindPoints({ centre }: WorkRoute): Path {
  const near = pathNearest(centre, { x: 0, y: 0 })
  return pathStart(centre).x < 0 ? pathSlice(centre, near.stationMm, centre.lengthMm) : centre
}

/** Of every width that is wanted whether there is stock for it. */
function stockProblems(plan: Plan, runs: readonly RoadbedRun[], added: readonly RoadbedTurnoutPiece[]): readonly RoadbedProblem[] {
  const wanted = [
    ...runs.flatMap(({ roadbed, pieces }) => pieces.map(({ widthMm }) => ({ roadbed, widthMm }))),
    ...added.flatMap(({ roadbed, strips }) => strips.map(({ widthMm }) => ({ roadbed, widthMm }))),
  ]
  const widest = new Map<string, (typeof wanted)[number]>()
  for (const one of wanted) {
    const { roadbed, widthMm } = one
    if (stockForStrip(plan, roadbed.material, roadbed.thicknessMm, widthMm).length > 0) continue
    const key = `${roadbed.material} ${roadbed.thicknessMm}`
    const before = widest.get(key)
    if (!before || before.widthMm < widthMm) widest.set(key, one)
  }
  return [...widest.values()].map(({ roadbed, widthMm }) => noStockProblem(plan, roadbed.material, roadbed.thicknessMm, widthMm))
}
