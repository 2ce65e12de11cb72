import { trackAlignment } from '../alignment/index.ts'
import type { Alignment } from '../alignment/types.ts'
import { assertNever } from '../geom/index.ts'
import type { Pose } from '../geom/types.ts'
import { turnoutSet } from '../network/index.ts'
import type { Network, NetworkTrack } from '../network/types.ts'
import { plainKind, planNextId, railwayOfClass, recordFind } from '../plan/index.ts'
import type { Corner, Id, LineClass, Maker, Plan, TableName, Track, TrackEnd, Turnout } from '../plan/types.ts'
import { crossoverMake } from './crossover.ts'
import { helixMake } from './helix.ts'
import { loopMake } from './loop.ts'
import { sidingMake } from './siding.ts'
import { fail, numbersFinite, siteOpen, standardBuild } from './site.ts'
import type { Site } from './site.ts'
import { spurMake } from './spur.ts'
import { turnbackMake } from './turnback.ts'
import type { MakerProblem, MakerResult, Outcome, PartEnd, Parts, TrackPart, TurnoutPart } from './types.ts'
import { wyeMake } from './wye.ts'
import { yardMake } from './yard.ts'

/**
 * The command that writes what a maker makes: its record, and every track and turnout of it.
 *
 * Domain:    a maker of this plan or a new one; the network is that of the plan (what the maker made before is not looked at, only what it
 *            stands on).
 * Exactness: depends on plan and numbers alone. The n-th part keeps the id of the n-th part from before, with the name and the build that
 *            the builder gave it; a further one takes the next free id. The same numbers give the same command.
 * Outcome:   the command with what came out in figures; or what hinders it, with the value that would do. Every part that is written
 *            solves: turnouts find their straights, legs meet, curves fit.
 * Throws:    never, for a network derived from this plan.
 */
export function makerExpand(plan: Plan, network: Network, maker: Maker): MakerResult {
  const unfit = numbersFinite(maker.numbers)
  if (unfit !== null) return fail(unfit)
  const site = siteOpen(plan, network, maker)
  if (!site.ok) return site
  const made = makerMake(site.value, maker)
  if (!made.ok) return made
  const written = partsWrite(plan, maker, made.value)
  const hindered = partsProblem(plan, network, site.value.lineClass, made.value, written)
  if (hindered !== null) return fail(hindered)
  const { made: _made, ...record } = maker
  return { ok: true, command: { kind: 'maker.write', record, ...written }, facts: made.value.facts }
}

function makerMake(site: Site, { numbers }: Maker): Outcome<Parts> {
  switch (numbers.kind) {
    case 'crossover':
      return crossoverMake(site, numbers)
    case 'siding':
      return sidingMake(site, numbers)
    case 'spur':
      return spurMake(site, numbers)
    case 'yard':
      return yardMake(site, numbers)
    case 'wye':
      return wyeMake(site, numbers)
    case 'loop':
      return loopMake(site, numbers)
    case 'turnback':
      return turnbackMake(site, numbers)
    case 'helix':
      return helixMake(site, numbers)
    default:
      return assertNever(numbers)
  }
}

interface Written {
  readonly tracks: readonly Track[]
  readonly turnouts: readonly Turnout[]
}

/** The parts as records, under the ids that they had or the next free ones. */
function partsWrite(plan: Plan, maker: Maker, { parts }: Parts): Written {
  const trackParts = parts.filter((part) => part.kind === 'track')
  const turnoutParts = parts.filter((part) => part.kind === 'turnout')
  const trackIds = idsFor(plan, 'tracks', maker.made.tracks, trackParts.length)
  const turnoutIds = idsFor(plan, 'turnouts', maker.made.turnouts, turnoutParts.length)
  const nameOf = (word: string): string => (word === '' ? maker.name : `${maker.name} ${word}`)
  const end = (place: PartEnd): Exclude<TrackEnd, { kind: 'closed' }> =>
    place.kind === 'free'
      ? { kind: 'free', x: place.x, y: place.y }
      : { kind: 'leg', turnout: turnoutIds[place.turnout] ?? '', leg: 'diverging' }
  const tracks = trackParts.map((part, i): Track => {
    const id = trackIds[i] ?? ''
    const before = recordFind(plan, 'tracks', id)
    const corners = part.corners.map((corner, k): Corner => ({ ...corner, id: `pi-${k + 1}` }))
    return {
      ...before,
      id,
      name: before?.name ?? nameOf(part.word),
      lineClass: maker.lineClass,
      start: end(part.start),
      corners,
      end: end(part.end),
    }
  })
  const turnouts = turnoutParts.map(({ word, host, stationMm, facing, hand, frog }, i): Turnout => {
    const id = turnoutIds[i] ?? ''
    const before = recordFind(plan, 'turnouts', id)
    const track = host.kind === 'plan' ? host.id : (trackIds[host.track] ?? '')
    const name = before?.name ?? nameOf(word)
    return { ...before, id, name, kind: plainKind, track, stationMm, facing, hand, frog, build: before?.build ?? standardBuild }
  })
  return { tracks, turnouts }
}

/** The ids from before, and free ones for what is more. */
function idsFor(plan: Plan, table: TableName & ('tracks' | 'turnouts'), before: readonly Id[], count: number): readonly Id[] {
  const ids = before.slice(0, count)
  const next = planNextId(plan, table)
  const dash = next.lastIndexOf('-') + 1
  const first = Number(next.slice(dash))
  return [...ids, ...Array.from({ length: count - ids.length }, (_, i) => `${next.slice(0, dash)}${first + i}`)]
}

/** Solves the written parts one after the other and tells the first that does not come out. */
function partsProblem(
  plan: Plan,
  network: Network,
  lineClass: LineClass,
  { parts }: Parts,
  { tracks, turnouts }: Written,
): MakerProblem | null {
  const legs = new Map<Id, Pose>()
  const made: NetworkTrack[] = []
  const next = { track: 0, turnout: 0 }
  for (const part of parts) {
    if (part.kind === 'track') {
      const track = tracks[next.track++]
      if (track === undefined) continue
      const alignment = trackAlignment(track, lineClass, (id) => legs.get(id) ?? null)
      if (!alignment.ok) return lineProblem(part, alignment)
      made.push({ track, lineClass, railway: railwayOfClass(plan.railway, lineClass), alignment })
      continue
    }
    const turnout = turnouts[next.turnout++]
    if (turnout === undefined) continue
    const host = hostOf(network, part, made)
    if (host === null) return { kind: 'place', part: part.word, problem: { kind: 'hostUnsolved' } }
    const placed = turnoutSet(turnout, host)
    if (!placed.ok) {
      const { problem } = placed
      return problem.kind === 'geometry'
        ? { kind: 'turnout', frog: part.frog, problem: problem.problem }
        : { kind: 'place', part: part.word, problem }
    }
    // What leaves a bent host does not lie where the figures of a straight one put it.
    const { request, extent } = placed.geometry
    if (request.host !== null && part.mayBend !== true)
      return { kind: 'turnout', frog: part.frog, problem: { kind: 'hostNotStraight', fromMm: extent.fromMm } }
    legs.set(turnout.id, placed.leg)
  }
  return null
}

function hostOf(network: Network, { host }: TurnoutPart, made: readonly NetworkTrack[]): NetworkTrack | null {
  return (host.kind === 'plan' ? network.tracks.get(host.id) : made[host.track]) ?? null
}

function lineProblem({ word }: TrackPart, { problems }: Extract<Alignment, { readonly ok: false }>): MakerProblem {
  const [problem] = problems
  return problem === undefined
    ? { kind: 'line', part: word, problem: { kind: 'notFinite', where: word } }
    : { kind: 'line', part: word, problem }
}
