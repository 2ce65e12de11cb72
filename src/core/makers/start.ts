import { angleBetween, assertNever, pathNearest, pathPoseAt } from '../geom/index.ts'
import type { Network } from '../network/types.ts'
import { planNextId, recordFind } from '../plan/index.ts'
import type { Id, LineClass, Maker, MakerNumbers, Plan, Track, TrackEndName, VehicleFrame } from '../plan/types.ts'
import { clearHeightOver } from '../standards/index.ts'
import { besidesOf } from './crossover.ts'
import { makerCure } from './cure.ts'
import { makerExpand } from './expand.ts'
import { makerRounded } from './round.ts'
import { freeEnd } from './loop.ts'
import { siteOpen } from './site.ts'
import type { Host, Site, Straight } from './site.ts'

type Units = 'imperial' | 'metric'
export type MakerKind = MakerNumbers['kind']

const kindWords: { readonly [K in MakerKind]: string } = {
  crossover: 'Crossover',
  siding: 'Siding',
  spur: 'Spur',
  yard: 'Yard',
  wye: 'Wye',
  loop: 'Loop',
  turnback: 'Turnback',
  helix: 'Helix',
}

/** Class that the tracks of each kind usually have, where the plan has it; else that of the host. */
const usualClass: { readonly [K in MakerKind]: Id | null } = {
  crossover: null,
  siding: 'siding',
  spur: 'yard',
  yard: 'yard',
  wye: null,
  loop: null,
  turnback: null,
  helix: null,
}

/** Lengths to begin with, of the track centres: a spur of a few cars, a yard of a few more. */
const spurCentres = 12
const bodyCentres = 15
const tailCentres = 12

/** Turns of a helix to begin with; half an inch of plywood with roadbed and ties on it, mm: common practice, no source. */
const helixTurns = 3
const helixDeckMm = 20

/** A problem may name a value that leads to another one; after so many nothing will come of it. */
const mostCures = 4

/**
 * A maker to begin with on a track: usual numbers, round in a rule, on its longest straight, changed as far as the problems themselves say what would do.
 *
 * Outcome:   a maker that fits if one is found this way, else one to be mended by hand; null where there is nothing to stand on: no solved
 *            track, or for a kind between two tracks no second one.
 * Exactness: depends on the plan alone.
 */
export function makerStart(plan: Plan, network: Network, kind: MakerKind, trackId: Id | null, units: Units): Maker | null {
  const tracks = trackId === null ? Object.keys(plan.tracks) : [trackId, ...Object.keys(plan.tracks).filter((id) => id !== trackId)]
  const starts = tracks.flatMap((id): Maker[] => {
    const track = recordFind(plan, 'tracks', id)
    const maker = track === null ? null : startOn(plan, network, kind, track, units)
    return maker === null ? [] : [maker]
  })
  // The track that was asked for counts before one that fits better.
  const candidates = trackId !== null && starts[0]?.numbers.track === trackId ? starts.slice(0, 1) : starts
  return candidates.find((maker) => makerExpand(plan, network, maker).ok) ?? candidates[0] ?? null
}

function startOn(plan: Plan, network: Network, kind: MakerKind, track: Track, units: Units): Maker | null {
  const wanted = usualClass[kind]
  const classId = wanted !== null && recordFind(plan, 'lineClasses', wanted) !== null ? wanted : track.lineClass
  const count = Object.values(plan.makers).filter(({ numbers }) => numbers.kind === kind).length
  const draft = {
    id: planNextId(plan, 'makers'),
    name: `${kindWords[kind]} ${count + 1}`,
    lineClass: classId,
    made: { tracks: [], turnouts: [] },
  }
  // A site needs a maker, of which it looks at class and what was made; the numbers come after.
  const site = siteOpen(plan, network, { ...draft, numbers: blank(track.id) })
  if (!site.ok) return null
  const host = site.value.host(track.id)
  if (!host.ok) return null
  const numbers = numbersFor(site.value, kind, host.value)
  if (numbers === null) return null
  let maker: Maker = { ...draft, numbers }
  for (let i = 0; i < mostCures; i++) {
    const result = makerExpand(plan, network, maker)
    const cured = result.ok ? null : makerCure(maker.numbers, result.problem)
    if (cured === null) break
    maker = { ...maker, numbers: cured }
  }
  const fitting = curvesFitting(plan, network, maker, site.value)
  const fits = (trial: MakerNumbers): boolean => makerExpand(plan, network, { ...fitting, numbers: trial }).ok
  return { ...fitting, numbers: makerRounded(fitting.numbers, units, fits) }
}

/**
 * A loop closes, and a wye has its turns, with a radius that leaves easements room to turn in: the usual one, or the next larger one that does.
 */
function curvesFitting(plan: Plan, network: Network, maker: Maker, { lineClass }: Site): Maker {
  const { numbers } = maker
  if (numbers.kind !== 'loop' && numbers.kind !== 'wye') return maker
  const trials = radiusParts.map((part): MakerNumbers => {
    const radius = part === 1 ? numbers.radius : lineClass.usualRadiusMm * part
    return { ...numbers, radius }
  })
  const fits = (trial: MakerNumbers): boolean => {
    const result = makerExpand(plan, network, { ...maker, numbers: trial })
    return result.ok || (result.problem.kind !== 'noLoop' && result.problem.kind !== 'easementsTooLong')
  }
  return { ...maker, numbers: trials.find(fits) ?? numbers }
}

/** Of the usual radius. */
const radiusParts = [1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.75, 2, 2.5, 3]

const blank = (track: Id): MakerNumbers => ({ kind: 'turnback', track, end: 'end', otherTrack: track, otherEnd: 'end' })

function numbersFor(site: Site, kind: MakerKind, host: Host): MakerNumbers | null {
  const { lineClass, plan } = site
  const straight = longest(host)
  const frog = Math.max(host.lineClass.usualFrog, lineClass.usualFrog)
  const centresMm = lineClass.trackCentresMm
  const track = host.id
  const middleMm = straight === null ? 0 : (straight.fromMm + straight.toMm) / 2
  const thirdMm = straight === null ? 0 : straight.fromMm + (straight.toMm - straight.fromMm) / 3
  switch (kind) {
    case 'crossover': {
      const pair = pairFor(site, host)
      return pair === null ? null : { kind, track, ...pair, hand: 'left', frog, layout: 'single' }
    }
    case 'siding': {
      if (straight === null) return null
      const marginMm = (straight.toMm - straight.fromMm) / 20
      const fromMm = Math.max(0, straight.fromMm) + marginMm
      return {
        kind,
        track,
        fromMm,
        toMm: straight.toMm - marginMm,
        side: 'left',
        centresMm,
        curveCentresMm: centresMm,
        frogFrom: frog,
        frogTo: frog,
      }
    }
    case 'spur':
      return {
        kind,
        track,
        stationMm: thirdMm,
        facing: 'rising',
        side: 'left',
        frog,
        course: { kind: 'parallel', centresMm },
        lengthMm: spurCentres * centresMm,
      }
    case 'yard':
      return {
        kind,
        track,
        stationMm: thirdMm,
        facing: 'rising',
        side: 'left',
        frog,
        tracks: 3,
        leadCentresMm: centresMm,
        centresMm,
        bodyMm: bodyCentres * centresMm,
        ladder: 'straight',
        ends: 'stub',
      }
    case 'wye':
      return {
        kind,
        track,
        stationMm: middleMm,
        side: 'left',
        frog,
        tailFrog: lineClass.usualFrog,
        radius: 'class',
        tailMm: tailCentres * centresMm,
      }
    case 'loop': {
      const end = endFree(site, host)
      return end === null ? null : { kind, track, end, hand: 'left', frog, radius: 'class', straightMm: carLength(plan, lineClass) }
    }
    case 'turnback':
      return turnbackFor(site, host)
    case 'helix': {
      const end = endFree(site, host)
      if (end === null) return null
      const clearMm = clearHeightOver(plan.railway.ratio)
      return {
        kind,
        track,
        end,
        hand: 'left',
        size: { kind: 'radius', radius: 'class' },
        climbMm: Math.round(helixTurns * (clearMm + helixDeckMm)),
        rise: { kind: 'clear', clearMm },
        deckMm: helixDeckMm,
        exit: { kind: 'asClimb' },
        straightMm: carLength(plan, lineClass),
      }
    }
    default:
      return assertNever(kind)
  }
}

function longest({ straights }: Host): Straight | null {
  return straights.reduce<Straight | null>(
    (best, one) => (best === null || one.toMm - one.fromMm > best.toMm - best.fromMm ? one : best),
    null,
  )
}

const endFree = (site: Site, host: Host): TrackEndName | null =>
  freeEnd(site, host, 'end') !== null ? 'end' : freeEnd(site, host, 'start') !== null ? 'start' : null

function carLength(plan: Plan, { cars, trackCentresMm }: LineClass): number {
  const lengths = cars.flatMap((id) => recordFind(plan, 'vehicles', id)?.frames ?? []).map(frameLength)
  return Math.ceil((lengths.length === 0 ? spurCentres * trackCentresMm : Math.max(...lengths)) * 10) / 10
}

/** Two free ends that look the same way, the nearest such pair; else any two free ends, to be mended by hand. */
function turnbackFor(site: Site, host: Host): MakerNumbers | null {
  const ends = (one: Host): readonly TrackEndName[] => (['end', 'start'] as const).filter((end) => freeEnd(site, one, end) !== null)
  const pairs = Object.keys(site.plan.tracks).flatMap((otherId) => {
    const other = otherId === host.id ? null : site.host(otherId)
    if (other?.ok !== true) return []
    return ends(host).flatMap((end) =>
      ends(other.value).flatMap((otherEnd) => {
        const [from, to] = [freeEnd(site, host, end), freeEnd(site, other.value, otherEnd)]
        if (from === null || to === null) return []
        const askewRad = Math.abs(angleBetween(from.headingRad, to.headingRad))
        return [{ end, otherId, otherEnd, askewRad, apartMm: Math.hypot(from.x - to.x, from.y - to.y) }]
      }),
    )
  })
  const [best] = pairs.toSorted((a, b) => Math.round((a.askewRad - b.askewRad) * 1e6) || a.apartMm - b.apartMm)
  return best === undefined ? null : { kind: 'turnback', track: host.id, end: best.end, otherTrack: best.otherId, otherEnd: best.otherEnd }
}

/** The nearest straight beside one of the host; where there is none, the track that comes nearest to any of some places of the host. */
function pairFor(site: Site, host: Host): { readonly otherTrack: Id; readonly stationMm: number } | null {
  const others = Object.keys(site.plan.tracks).flatMap((id): Host[] => {
    const other = id === host.id ? null : site.host(id)
    return other?.ok === true ? [other.value] : []
  })
  const [best] = others
    .flatMap((other) => besidesOf(host, other).map((place) => ({ otherTrack: other.id, ...place })))
    .toSorted((a, b) => Math.abs(a.offsetMm) - Math.abs(b.offsetMm) || b.toMm - b.fromMm - (a.toMm - a.fromMm))
  if (best !== undefined) return { otherTrack: best.otherTrack, stationMm: Math.max(0, (best.fromMm + best.toMm) / 2) }
  const { path } = host.alignment
  const [near] = others
    .flatMap(({ id, alignment }) =>
      Array.from({ length: places }, (_, i) => {
        const stationMm = (path.lengthMm * (i + 1)) / (places + 1)
        const { distanceMm, stationMm: otherMm } = pathNearest(alignment.path, pathPoseAt(path, stationMm))
        const isBeside = otherMm > 0 && otherMm < alignment.path.lengthMm
        return { otherTrack: id, stationMm, apartMm: isBeside ? distanceMm : Infinity }
      }),
    )
    .filter(({ apartMm }) => apartMm < besideCentres * site.lineClass.trackCentresMm)
    .toSorted((a, b) => a.apartMm - b.apartMm)
  return near === undefined ? null : { otherTrack: near.otherTrack, stationMm: near.stationMm }
}

/** Places of a host at which another track is looked for, and what still counts as beside it, in track centres. */
const places = 15
const besideCentres = 3

const frameLength = (frame: VehicleFrame): number =>
  frame.kind === 'car'
    ? frame.lengthMm
    : Math.max(...frame.widths.map(({ aheadMm }) => aheadMm)) - Math.min(...frame.widths.map(({ aheadMm }) => aheadMm))
