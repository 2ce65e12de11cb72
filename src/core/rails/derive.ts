import type { NetworkTrack } from '../network/types.ts'
import type { Derived } from '../pipeline/types.ts'
import { keptFor, keptOn, railOf, shortNames } from '../plan/index.ts'
import type { Id, RailSize } from '../plan/types.ts'
import { benchUsual, constructionOf, crossingConstructionOf } from '../turnout/index.ts'
import type { CrossingGeometry, TurnoutConstruction, TurnoutGeometry } from '../turnout/index.ts'
import { chainsCreate } from './chains.ts'
import type { Chain } from './chains.ts'
import { curveRows } from './curves.ts'
import { expansionOf } from './expansion.ts'
import { lineOf } from './lines.ts'
import { linksCreate } from './links.ts'
import { namesOf, orderOf } from './naming.ts'
import { piecesOf, runOf } from './pieces.ts'
import type { Met, Rough } from './pieces.ts'
import { isJointed, jointPlanner, longestSticks } from './plan.ts'
import { chainCuts, crossingGaps, ownerKey, turnoutGaps } from './runs.ts'
import type { Cut } from './runs.ts'
import { pieceSpikes, spikingOf } from './spiking.ts'
import type { PieceSpikes } from './spiking.ts'
import type { JointZone, RailLine, RailOwner, RailPiece, RailProblem, RailRun, RailWork } from './types.ts'
import { crossingFeatures, curveEndsOf, turnoutFeatures, zonesOf } from './zones.ts'

/** What special work adds to the rails. */
interface WorkParts {
  readonly owner: RailOwner
  readonly gaps: ReturnType<typeof turnoutGaps>
  readonly features: ReturnType<typeof turnoutFeatures>
  readonly made: TurnoutConstruction | null
}

/** A run with its pieces, not named yet. */
interface Laid {
  readonly run: Omit<RailRun, 'pieces'>
  readonly line: RailLine
  readonly pieces: readonly Rough[]
  readonly joints: readonly Met[]
}

/**
 * A function from a derived plan to its rails: runs, joints, pieces with their marks, the order of laying, spikes, gauge and superelevation of curves.
 * It keeps what each run was made from, so that after an edit only runs that the edit touches are made anew.
 *
 * Units:      mm; lengths along gauge lines, so that the outer rail of a curve is longer than the inner one.
 * Exactness:  lengths of pieces and gaps add up to the gauge lines of the trackwork within 1e-6 mm. The same as from a fresh deriver.
 * Outcome:    all of it, with what could not be had as problems. Never throws.
 */
export function railsCreateDeriver(): (derived: Derived) => RailWork {
  const turnoutMade = keptFor((geometry: TurnoutGeometry, spikeEvery: number) =>
    constructionOf(geometry, { ...benchUsual(geometry.request), spikeEvery }),
  )
  const crossingMade = keptFor((crossing: CrossingGeometry, spikeEvery: number) =>
    crossingConstructionOf(crossing, { ...benchUsual(crossing.request), spikeEvery }),
  )
  const gapsOfTurnout = keptFor(turnoutGaps)
  const gapsOfCrossing = keptFor(crossingGaps)
  const featuresOfTurnout = keptFor(turnoutFeatures)
  const featuresOfCrossing = keptFor(crossingFeatures)
  const endsOf = keptFor(curveEndsOf)
  const curvesOf = keptFor(curveRows)
  const ownersOf = keptFor(chainOwners)
  const linksOf = linksCreate()
  const chainsOf = chainsCreate()
  const cutsKept = keptOn<Chain, readonly Cut[]>()
  const zonesKept = keptOn<Chain, readonly JointZone[]>()
  const jointPlan = jointPlanner()
  const laidKept = keptOn<Cut, Laid>()
  const spikesKept = keptOn<Rough, readonly PieceSpikes[]>()
  let last: { readonly derived: Derived; readonly work: RailWork } | null = null

  function partsOf({ network, plan }: Derived): ReadonlyMap<string, WorkParts> {
    const every = plan.railway.laying.spiking.turnoutEvery
    const found = new Map<string, WorkParts>()
    const add = (parts: WorkParts): void => {
      found.set(ownerKey(parts.owner), parts)
    }
    for (const one of network.turnouts.values()) {
      add({
        owner: { kind: 'turnout', turnout: one.turnout.id },
        gaps: gapsOfTurnout(one),
        features: featuresOfTurnout(one),
        made: one.result.ok ? turnoutMade(one.result.geometry, every) : null,
      })
    }
    for (const one of network.crossings.values()) {
      add({
        owner: { kind: 'crossing', crossing: one.id },
        gaps: gapsOfCrossing(one),
        features: featuresOfCrossing(one),
        made: one.result.ok ? crossingMade(one.result.crossing, every) : null,
      })
    }
    return found
  }

  function railsOf(derived: Derived): RailWork {
    const { plan, network, trackwork } = derived
    const { railway } = plan
    const { laying } = railway
    const works = partsOf(derived)
    const pick = <K extends 'gaps' | 'features'>(what: K): ReadonlyMap<string, NonNullable<WorkParts[K]>> =>
      new Map([...works].flatMap(([key, parts]) => (parts[what] === null ? [] : [[key, parts[what]] as const])))
    const [gaps, features] = [pick('gaps'), pick('features')]
    const curveEnds = new Map([...network.tracks].map(([id, track]) => [id, endsOf(track)]))
    const laps = new Map([...network.tracks.values()].flatMap(lapOf))
    const cuts: Cut[] = []
    const zones = new Map<Chain, readonly JointZone[]>()
    for (const chain of chainsOf(linksOf(derived))) {
      const { keys, tracks } = ownersOf(chain)
      const madeFrom = [laying.joints, ...keys.map((key) => features.get(key)), ...tracks.map((track) => curveEnds.get(track))]
      zones.set(
        chain,
        zonesKept(chain, madeFrom, () => zonesOf(chain, features, curveEnds, laying.joints)),
      )
      const { kerfMm } = laying.cutting
      cuts.push(...cutsKept(chain, [kerfMm, ...keys.map((key) => gaps.get(key))], () => chainCuts(chain, gaps, kerfMm)))
    }
    const stocks = Object.values(plan.stocks)
    const joints = jointPlan(cuts, ({ chain }) => zones.get(chain) ?? [], railway, stocks, Object.values(plan.railJoints), laps)
    const expansion = expansionOf(laying.climate)
    const sticksOf = (key: string): TurnoutConstruction['sticks'] => works.get(key)?.made?.sticks ?? []
    const laid = joints.planned.flatMap((planned, i): readonly Laid[] => {
      const { cut } = planned
      if (planned.longestMm === null && isJointed(cut)) return []
      const id = `run-${i + 1}`
      const { keys, owners } = ownersOf(cut.chain)
      const zonesHere = zones.get(cut.chain) ?? []
      const madeFrom = [
        id,
        laying.cutting.jointAllowanceMm,
        expansion.closesPart,
        zonesHere,
        ...planned.joints.flatMap(({ atMm, isOwn }) => [atMm, isOwn]),
        ...keys.map((key) => works.get(key)?.made),
        ...owners.flatMap((owner) => recordsOf(owner, derived)),
      ]
      return [
        laidKept(cut, madeFrom, () => ({
          run: runOf(id, cut),
          line: lineOf(id, cut, zonesHere),
          ...piecesOf(planned, id, derived, laying.cutting.jointAllowanceMm, expansion.closesPart, sticksOf),
        })),
      ]
    })
    const rough = laid.flatMap(({ pieces }) => pieces)
    const named = namesOf(rough, shortNames(plan, network.crossings.keys()))
    const order = orderOf(rough, derived)
    const finish = (one: Rough): RailPiece => ({ ...one.piece, id: named.get(one) ?? '', order: (order.get(one) ?? 0) + 1 })
    const pieces = rough.map(finish)
    const spikes = rough.map((one) => {
      const tracks = ownersOf(one.cut.chain).tracks.flatMap((id) => [network.tracks.get(id), trackwork.tracks.get(id)])
      return spikesKept(one, [laying.spiking, ...tracks], () => pieceSpikes(derived, one, laying.spiking))
    })
    return {
      runs: laid.map(({ run, pieces: own }) => ({ ...run, pieces: own.map((one) => named.get(one) ?? '') })),
      lines: laid.map(({ line }) => line),
      pieces,
      joints: laid.flatMap((one) =>
        one.joints.map(({ joint, before, behind }) => ({ ...joint, pieces: [named.get(before) ?? '', named.get(behind) ?? ''] as const })),
      ),
      order: pieces.toSorted((a, b) => a.order - b.order).map(({ id }) => id),
      spiking: spikingOf(
        spikes,
        [...works.values()].flatMap(({ owner, made }) => (made === null ? [] : [{ owner, spikes: made.spikes.length }])),
      ),
      curves: [...network.tracks.values()].flatMap((track) => curvesOf(track)),
      expansion,
      sections: sectionsOf(derived),
      problems: [...joints.problems, ...pieceProblems(pieces, longestSticks(stocks), laying.joints.leastPieceMm)],
      isProven: joints.isProven,
    }
  }

  return (derived) => {
    if (last?.derived !== derived) last = { derived, work: railsOf(derived) }
    return last.work
  }
}

const lapOf = ({ track, alignment }: NetworkTrack): readonly (readonly [Id, number])[] =>
  alignment.ok && alignment.isClosed ? [[track.id, alignment.path.lengthMm]] : []

/** In what a chain lies, and which tracks it is abreast of. */
function chainOwners({ links }: Chain): {
  readonly owners: readonly RailOwner[]
  readonly keys: readonly string[]
  readonly tracks: readonly Id[]
} {
  const owners = new Map(links.map(({ link }) => [ownerKey(link.owner), link.owner]))
  const tracks = new Set(links.flatMap(({ link }) => link.abreast.map(({ track }) => track)))
  return { owners: [...owners.values()], keys: [...owners.keys()], tracks: [...tracks] }
}

/** What is derived of an owner of rails, as far as pieces have marks and ties of it. */
function recordsOf(owner: RailOwner, { network, trackwork }: Derived): readonly unknown[] {
  switch (owner.kind) {
    case 'track':
      return [network.tracks.get(owner.track), trackwork.tracks.get(owner.track)]
    case 'turnout':
      return [network.turnouts.get(owner.turnout), trackwork.turnouts.get(owner.turnout)]
    case 'crossing':
      return [network.crossings.get(owner.crossing), trackwork.crossings.get(owner.crossing)]
  }
}

function sectionsOf({ network }: Derived): readonly RailSize[] {
  const found = new Map<number, RailSize>()
  for (const { lineClass, railway } of network.tracks.values()) {
    const size = railOf(lineClass, railway)
    found.set(size.code, size)
  }
  return [...found.values()].toSorted((a, b) => a.code - b.code)
}

const shortSlackMm = 0.5

function pieceProblems(pieces: readonly RailPiece[], sticks: ReadonlyMap<number, number>, leastMm: number): readonly RailProblem[] {
  return pieces.flatMap((piece): RailProblem[] => {
    const longestMm = sticks.get(piece.code)
    const isPlain = piece.kind === 'plain' || piece.kind === 'closure'
    if (!isPlain) {
      const isTooLong = longestMm !== undefined && piece.lengthMm > longestMm + 1e-6
      return isTooLong ? [{ kind: 'workTooLong', piece: piece.id, owner: piece.owner, lengthMm: piece.lengthMm, longestMm }] : []
    }
    const place = piece.from ?? piece.to
    // A rail that the trackwork itself bounds at both ends is as long as it is.
    const isSet = piece.startsAt !== 'joint' && piece.endsAt !== 'joint'
    if (isSet || place === null || piece.laidMm >= leastMm - shortSlackMm) return []
    return [{ kind: 'pieceTooShort', piece: piece.id, place, haveMm: piece.laidMm, needMm: leastMm }]
  })
}

/** Stations of the joints on each track, of both rails; those on rails through turnouts lie beyond its ends. */
export function jointStations({ joints }: Pick<RailWork, 'joints'>): ReadonlyMap<Id, readonly number[]> {
  const found = new Map<Id, number[]>()
  for (const { place } of joints) found.set(place.track, [...(found.get(place.track) ?? []), place.stationMm])
  return new Map([...found].map(([track, stations]) => [track, stations.toSorted((a, b) => a - b)]))
}
