import type { Derived } from '../pipeline/types.ts'
import { railOf, shortNames } from '../plan/index.ts'
import type { ShortNames } from '../plan/index.ts'
import type { Id, RailSize } from '../plan/types.ts'
import { benchUsual, constructionOf, crossingConstructionOf } from '../turnout/index.ts'
import type { CrossingGeometry, TurnoutConstruction, TurnoutGeometry } from '../turnout/index.ts'
import { alongLink, chainLinkAt, chainPlaceNear, chainPlaces, chainsOf } from './chains.ts'
import { curveRows } from './curves.ts'
import { expansionOf } from './expansion.ts'
import { lineOf } from './lines.ts'
import { linksOf } from './links.ts'
import { linksBetween, marksBetween, tiesBetween } from './marks.ts'
import { isCurvedAt, isJointed, jointPlan, longestSticks } from './plan.ts'
import type { Planned } from './plan.ts'
import { chainCuts, gapsOf, ownerKey } from './runs.ts'
import type { Cut } from './runs.ts'
import { spikedTies, spikesAtTie } from './spiking.ts'
import type {
  RailJoint,
  RailLine,
  RailOwner,
  RailPiece,
  RailPlace,
  RailProblem,
  RailRun,
  RailSide,
  RailWork,
  SpikePlan,
  SpikeTie,
} from './types.ts'
import { featuresOf, zonesOf } from './zones.ts'

/** What a piece is before it has its name and its turn. */
interface Rough {
  readonly cut: Cut
  readonly run: string
  readonly fromMm: number
  readonly toMm: number
  readonly piece: Omit<RailPiece, 'id' | 'order'>
}

/** A function from a derived plan to its rails that gives the same answer for the same plan without looking again. */
export function railsCreateDeriver(): (derived: Derived) => RailWork {
  const built = new WeakMap<object, Map<number, TurnoutConstruction>>()
  let last: { readonly derived: Derived; readonly work: RailWork } | null = null
  const constructed = (geometry: object, every: number, make: () => TurnoutConstruction): TurnoutConstruction => {
    const known = built.get(geometry) ?? new Map<number, TurnoutConstruction>()
    built.set(geometry, known)
    const before = known.get(every)
    if (before) return before
    const made = make()
    known.set(every, made)
    return made
  }
  return (derived) => {
    if (last?.derived === derived) return last.work
    const every = derived.plan.railway.laying.spiking.turnoutEvery
    const constructions = new Map<string, { readonly owner: RailOwner; readonly made: TurnoutConstruction }>()
    const add = (owner: RailOwner, geometry: object, make: () => TurnoutConstruction): void => {
      constructions.set(ownerKey(owner), { owner, made: constructed(geometry, every, make) })
    }
    for (const { turnout, result } of derived.network.turnouts.values()) {
      if (!result.ok) continue
      const { geometry }: { readonly geometry: TurnoutGeometry } = result
      add({ kind: 'turnout', turnout: turnout.id }, geometry, () =>
        constructionOf(geometry, { ...benchUsual(geometry.request), spikeEvery: every }),
      )
    }
    for (const { id, result } of derived.network.crossings.values()) {
      if (!result.ok) continue
      const { crossing }: { readonly crossing: CrossingGeometry } = result
      add({ kind: 'crossing', crossing: id }, crossing, () =>
        crossingConstructionOf(crossing, { ...benchUsual(crossing.request), spikeEvery: every }),
      )
    }
    const work = railsOf(derived, constructions)
    last = { derived, work }
    return work
  }
}

type Constructions = ReadonlyMap<string, { readonly owner: RailOwner; readonly made: TurnoutConstruction }>

/**
 * Rails of a plan: runs, joints, pieces with their marks, the order of laying, spikes, gauge and superelevation of curves.
 *
 * Units:      mm; lengths along gauge lines, so that the outer rail of a curve is longer than the inner one.
 * Exactness:  lengths of pieces and gaps add up to the gauge lines of the trackwork within 1e-6 mm.
 * Outcome:    all of it, with what could not be had as problems. Never throws.
 */
function railsOf(derived: Derived, constructions: Constructions): RailWork {
  const { plan, network } = derived
  const { railway } = plan
  const { laying } = railway
  const gaps = new Map(gapsOf(derived).map((one) => [ownerKey(one.owner), one]))
  const works = new Map(featuresOf(derived).map((one) => [ownerKey(one.owner), one]))
  const curveEnds = new Map<Id, readonly number[]>()
  const lengthOf = new Map<Id, number>()
  for (const { track, alignment } of network.tracks.values()) {
    if (!alignment.ok) continue
    if (alignment.isClosed) lengthOf.set(track.id, alignment.path.lengthMm)
    curveEnds.set(
      track.id,
      alignment.corners.flatMap(({ tsMm, stMm }) => (stMm > tsMm ? [tsMm, stMm] : [])),
    )
  }
  const cuts: Cut[] = []
  const zonesByChain = new Map<Cut['chain'], ReturnType<typeof zonesOf>>()
  for (const chain of chainsOf(linksOf(derived))) {
    zonesByChain.set(chain, zonesOf(chain, works, curveEnds, laying.joints))
    cuts.push(...chainCuts(chain, gaps, laying.cutting.kerfMm))
  }
  const joints = jointPlan(
    cuts,
    ({ chain }) => zonesByChain.get(chain) ?? [],
    railway,
    Object.values(plan.stocks),
    Object.values(plan.railJoints),
    lengthOf,
  )
  const expansion = expansionOf(laying.climate)
  const sticksOf = (key: string): TurnoutConstruction['sticks'] => constructions.get(key)?.made.sticks ?? []
  const rough: Rough[] = []
  const runs: Omit<RailRun, 'pieces'>[] = []
  const lines: RailLine[] = []
  const met: { readonly joint: Omit<RailJoint, 'pieces'>; readonly before: Rough; readonly behind: Rough }[] = []
  joints.planned.forEach((planned, i) => {
    const { cut } = planned
    if (planned.longestMm === null && isJointed(cut)) return
    const id = `run-${i + 1}`
    const laid = piecesOf(planned, id, derived, laying.cutting.jointAllowanceMm, expansion.closesPart, sticksOf)
    rough.push(...laid.pieces)
    runs.push(runOf(id, cut))
    lines.push(lineOf(id, cut, zonesByChain.get(cut.chain) ?? []))
    met.push(...laid.joints)
  })
  const named = namesOf(rough, shortNames(plan, network.crossings.keys()))
  const order = orderOf(rough, derived)
  const pieces = rough.map((one): RailPiece => ({ ...one.piece, id: named.get(one) ?? '', order: (order.get(one) ?? 0) + 1 }))
  const sticks = longestSticks(Object.values(plan.stocks))
  return {
    runs: runs.map((run) => ({ ...run, pieces: pieces.filter((piece) => piece.run === run.id).map(({ id }) => id) })),
    lines,
    pieces,
    joints: met.map(({ joint, before, behind }) => ({ ...joint, pieces: [named.get(before) ?? '', named.get(behind) ?? ''] })),
    order: pieces.toSorted((a, b) => a.order - b.order).map(({ id }) => id),
    spiking: spikingOf(derived, rough, constructions),
    curves: [...network.tracks.values()].flatMap(curveRows),
    expansion,
    sections: sectionsOf(derived),
    problems: [...joints.problems, ...pieceProblems(pieces, sticks, laying.joints.leastPieceMm)],
    isProven: joints.isProven,
  }
}

function runOf(id: string, cut: Cut): Omit<RailRun, 'pieces'> {
  const { chain, fromMm, toMm, kind, code, isClosed, start, end } = cut
  const stretches = linksBetween(cut, fromMm, toMm).map((one) => {
    const [from, to] = [Math.max(fromMm, one.fromMm), Math.min(toMm, one.toMm)]
    return {
      fromMm: from - fromMm,
      toMm: to - fromMm,
      owner: one.link.owner,
      from: chainPlaces(chain, from)[0] ?? null,
      to: chainPlaces(chain, to - 1e-7)[0] ?? null,
    }
  })
  return { id, kind, code, lengthMm: toMm - fromMm, isClosed, start, end, stretches }
}

type Met = { readonly joint: Omit<RailJoint, 'pieces'>; readonly before: Rough; readonly behind: Rough }

/** Pieces of a run between its joints and breaks, each shorter by its share of the gaps at its ends. */
function piecesOf(
  { cut, joints }: Planned,
  run: string,
  derived: Derived,
  allowanceMm: number,
  closesPart: number,
  sticksOf: (key: string) => TurnoutConstruction['sticks'],
): { readonly pieces: readonly Rough[]; readonly joints: readonly Met[] } {
  const isRing = cut.isClosed && joints.length > 0
  const slips = joints.map(({ atMm }) => !isCurvedAt(cut, atMm))
  const gapAt = slipGaps(
    cut,
    joints.map(({ atMm }) => atMm),
    slips,
    closesPart,
  )
  const ends = [
    ...(isRing ? [] : [{ atMm: cut.fromMm, gapMm: cut.start.gapMm, kind: cut.start.kind as RailPiece['startsAt'] }]),
    ...joints.map(({ atMm }, i) => ({ atMm, gapMm: gapAt[i] ?? 0, kind: 'joint' as RailPiece['startsAt'] })),
    ...(isRing ? [] : [{ atMm: cut.toMm, gapMm: cut.end.gapMm, kind: cut.end.kind as RailPiece['startsAt'] }]),
  ]
  const first = ends[0]
  if (isRing && first) ends.push({ ...first, atMm: first.atMm + cut.toMm - cut.fromMm })
  const pieces = ends.slice(1).flatMap((to, i): Rough[] => {
    const from = ends[i]
    if (!from) return []
    const [fromMm, toMm] = [from.atMm + from.gapMm / 2, to.atMm - to.gapMm / 2]
    const jointEnds = [from, to].filter(({ kind }) => kind === 'joint').length
    return [
      {
        cut,
        run,
        fromMm,
        toMm,
        piece: roughPiece(cut, run, fromMm, toMm, from.kind, to.kind, (jointEnds * allowanceMm) / 2, derived, sticksOf),
      },
    ]
  })
  const shift = isRing ? 0 : 1
  const metAt = joints.flatMap(({ atMm, isOwn }, i): Met[] => {
    const before = pieces[i - 1 + shift] ?? pieces.at(-1)
    const behind = pieces[i + shift] ?? pieces[0]
    const place = chainPlaceNear(cut.chain, atMm)
    if (!before || !behind || !place) return []
    const joint = {
      run,
      atMm: atMm - cut.fromMm,
      place,
      kind: slips[i] === true ? ('slip' as const) : ('solder' as const),
      gapMm: gapAt[i] ?? 0,
      isOwn,
    }
    return [{ joint, before, behind }]
  })
  return { pieces, joints: metAt }
}

/** Clear width that each slip joint needs: half of what the soldered rail on either side of it grows by. Solder leaves none. */
function slipGaps(cut: Cut, at: readonly number[], slips: readonly boolean[], closesPart: number): readonly number[] {
  const lengthMm = cut.toMm - cut.fromMm
  const open = at.filter((_, i) => slips[i] === true)
  const ring = cut.isClosed && open.length > 0
  return at.map((atMm, i) => {
    if (slips[i] !== true) return 0
    const n = open.indexOf(atMm)
    const before = open[n - 1] ?? (ring ? (open.at(-1) ?? 0) - lengthMm : cut.fromMm)
    const behind = open[n + 1] ?? (ring ? (open[0] ?? 0) + lengthMm : cut.toMm)
    return (closesPart * (behind - before)) / 2
  })
}

function roughPiece(
  cut: Cut,
  run: string,
  fromMm: number,
  toMm: number,
  startsAt: RailPiece['startsAt'],
  endsAt: RailPiece['endsAt'],
  allowanceMm: number,
  derived: Derived,
  sticksOf: (key: string) => TurnoutConstruction['sticks'],
): Rough['piece'] {
  const lap = cut.chain.lengthMm
  const held = (at: number): number => (cut.chain.isClosed && at >= 2 * lap ? at - lap : at)
  const middle = held((fromMm + toMm) / 2)
  const at = cut.kind === 'plain' ? chainLinkAt(cut.chain, middle) : cut.main
  const owner = at?.link.owner ?? cut.main.link.owner
  const place = chainPlaceNear(cut.chain, middle)
  const links = linksBetween(cut, fromMm, toMm)
  const isCurved = links.some((one) => {
    const from = Math.max(fromMm, one.fromMm)
    const to = Math.min(toMm, one.toMm)
    const [a, b] = [alongLink(one, from), alongLink(one, to)].toSorted((p, q) => p - q)
    return one.link.path.elements.some(
      ({ k0, k1, startStationMm, lengthMm }) =>
        Math.max(Math.abs(k0), Math.abs(k1)) > 1e-7 && startStationMm < (b ?? 0) && startStationMm + lengthMm > (a ?? 0),
    )
  })
  return {
    run,
    kind: cut.kind,
    code: cut.code,
    owner,
    rail: sideOfPiece(cut, place),
    lengthMm: toMm - fromMm + allowanceMm,
    laidMm: toMm - fromMm,
    fromMm: fromMm - cut.fromMm,
    toMm: toMm - cut.fromMm,
    from: chainPlaces(cut.chain, held(fromMm))[0] ?? null,
    to: chainPlaces(cut.chain, held(toMm) - 1e-7)[0] ?? null,
    startsAt,
    endsAt,
    isCurved,
    marks: marksBetween(derived, cut, fromMm, toMm, sticksOf),
    ties: tiesBetween(derived, cut, fromMm, toMm),
  }
}

function sideOfPiece(cut: Cut, place: RailPlace | null): RailSide {
  if (place) return place.rail
  return cut.main.link.headSide === 1 ? 'left' : 'right'
}

const partLetter: Readonly<Record<RailPiece['kind'], string>> = {
  plain: '',
  stock: 'S',
  point: 'P',
  closure: 'C',
  frog: 'F',
  wing: 'W',
  guard: 'G',
  elbow: 'E',
  check: 'K',
}

/** Marks: plain rail by track and side, numbered along the track; special work by its part, numbered as the work names its rails. */
function namesOf(rough: readonly Rough[], names: ShortNames): ReadonlyMap<Rough, string> {
  const groups = new Map<string, { readonly one: Rough; readonly sort: number }[]>()
  for (const one of rough) {
    const { kind, owner, rail, from, to } = one.piece
    const place = from ?? to ?? chainPlaceNear(one.cut.chain, (one.fromMm + one.toMm) / 2)
    const home: RailOwner = kind === 'plain' && place ? { kind: 'track', track: place.track } : owner
    const short = shortOf(names, home)
    const group = `${short}-${kind === 'plain' ? (rail === 'left' ? 'L' : 'R') : partLetter[kind]}`
    const middle = [from, to].flatMap((end) => (end && place && end.track === place.track ? [end.stationMm] : []))
    const sort =
      kind === 'plain' ? middle.reduce((sum, at) => sum + at, 0) / Math.max(1, middle.length) : one.cut.main.link.index * 1e6 + one.fromMm
    groups.set(group, [...(groups.get(group) ?? []), { one, sort }])
  }
  const found = new Map<Rough, string>()
  for (const [group, members] of groups) {
    members.toSorted((a, b) => a.sort - b.sort).forEach(({ one }, i) => found.set(one, `${group}${i + 1}`))
  }
  return found
}

const shortOf = ({ tracks, turnouts, crossings }: ShortNames, owner: RailOwner): string =>
  (owner.kind === 'track'
    ? tracks.get(owner.track)
    : owner.kind === 'turnout'
      ? turnouts.get(owner.turnout)
      : crossings.get(owner.crossing)) ?? '?'

const workOrder: readonly RailPiece['kind'][] = ['frog', 'elbow', 'closure', 'wing', 'point', 'guard', 'check']

/**
 * Special work first, frogs before what leads to them and guards last, as gauge is taken from the frog on. Then the tracks: one rail all along to
 * the line, then the other by gauge.
 */
function orderOf(rough: readonly Rough[], { network }: Derived): ReadonlyMap<Rough, number> {
  const tracks = [...network.tracks.keys()]
  const sortOf = (one: Rough): readonly number[] => {
    const { kind, owner, rail, from, to } = one.piece
    const place = from ?? to
    const track = place ? tracks.indexOf(place.track) : tracks.length
    if (kind !== 'plain') {
      const work =
        owner.kind === 'turnout'
          ? [...network.turnouts.keys()].indexOf(owner.turnout)
          : owner.kind === 'crossing'
            ? [...network.crossings.keys()].indexOf(owner.crossing)
            : 0
      return [0, owner.kind === 'turnout' ? 0 : 1, work, workOrder.indexOf(kind), one.cut.main.link.index, one.fromMm]
    }
    return [1, track, rail === 'left' ? 0 : 1, Math.min(from?.stationMm ?? Infinity, to?.stationMm ?? Infinity), 0, 0]
  }
  const keyed = rough.map((one) => ({ one, key: sortOf(one) }))
  keyed.sort((a, b) => {
    for (const [i, value] of a.key.entries()) {
      const off = value - (b.key[i] ?? 0)
      if (off !== 0 && !Number.isNaN(off)) return off
    }
    return 0
  })
  return new Map(keyed.map(({ one }, i) => [one, i]))
}

function spikingOf({ network, trackwork, plan }: Derived, rough: readonly Rough[], constructions: Constructions): SpikePlan {
  const rules = plan.railway.laying.spiking
  const byTrack = new Map<Id, SpikeTie[]>()
  for (const one of rough) {
    for (const { link, fromMm, toMm } of linksBetween(one.cut, one.fromMm, one.toMm)) {
      const near = link.abreast[0]
      if (link.owner.kind !== 'track' || !near) continue
      const alignment = network.tracks.get(near.track)?.alignment
      if (alignment?.ok !== true) continue
      const chainLink = one.cut.chain.links.find((each) => each.link === link && each.fromMm === fromMm)
      if (!chainLink) continue
      const ends = [Math.max(fromMm, one.fromMm), Math.min(toMm, one.toMm)].map((at) => near.stationAt(alongLink(chainLink, at)))
      const [low, high] = [Math.min(...ends), Math.max(...ends)]
      const stations = (trackwork.tracks.get(near.track)?.ties ?? [])
        .map(({ stationMm }) => stationMm)
        .filter((at) => at >= low && at <= high)
      const isRising = chainLink.isForward
      const startsHere = one.piece.startsAt === 'joint' && one.fromMm >= fromMm
      const endsHere = one.piece.endsAt === 'joint' && one.toMm <= toMm
      const jointAt = isRising ? { start: startsHere, end: endsHere } : { start: endsHere, end: startsHere }
      const ties = spikedTies(
        alignment.path,
        stations.toSorted((a, b) => a - b),
        near.side,
        jointAt,
        rules,
      )
      byTrack.set(near.track, [...(byTrack.get(near.track) ?? []), ...ties])
    }
  }
  const tracks = [...byTrack].map(([track, ties]) => ({
    track,
    ties: ties.toSorted((a, b) => a.stationMm - b.stationMm),
    spikes: ties.length * spikesAtTie,
    firstPass: ties.filter(({ pass }) => pass === 1).length * spikesAtTie,
  }))
  const works = [...constructions.values()].map(({ owner, made }) => ({ owner, spikes: made.spikes.length }))
  const plainSpikes = tracks.reduce((sum, { spikes }) => sum + spikes, 0)
  const workSpikes = works.reduce((sum, { spikes }) => sum + spikes, 0)
  return { tracks, works, plainSpikes, workSpikes, spikes: plainSpikes + workSpikes }
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
