import type { Derived } from '../pipeline/types.ts'
import type { ShortNames } from '../plan/index.ts'
import { chainPlaceNear } from './chains.ts'
import type { Rough } from './pieces.ts'
import type { RailOwner, RailPiece } from './types.ts'

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
export function namesOf(rough: readonly Rough[], names: ShortNames): ReadonlyMap<Rough, string> {
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
    const list = groups.get(group)
    if (list === undefined) groups.set(group, [{ one, sort }])
    else list.push({ one, sort })
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
export function orderOf(rough: readonly Rough[], { network }: Derived): ReadonlyMap<Rough, number> {
  const [tracks, turnouts, crossings] = [network.tracks, network.turnouts, network.crossings].map(turnsOf)
  const sortOf = (one: Rough): readonly number[] => {
    const { kind, owner, rail, from, to } = one.piece
    const place = from ?? to
    const track = (place ? tracks?.get(place.track) : null) ?? network.tracks.size
    if (kind !== 'plain') {
      const work = owner.kind === 'turnout' ? turnouts?.get(owner.turnout) : owner.kind === 'crossing' ? crossings?.get(owner.crossing) : 0
      return [0, owner.kind === 'turnout' ? 0 : 1, work ?? -1, workOrder.indexOf(kind), one.cut.main.link.index, one.fromMm]
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

const turnsOf = (table: ReadonlyMap<string, unknown>): ReadonlyMap<string, number> => new Map([...table.keys()].map((id, i) => [id, i]))
