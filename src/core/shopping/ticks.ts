import type { Tick } from '../plan/types.ts'
import type { RailPiece } from '../rails/types.ts'
import type { FillerStrip, RoadbedTurnoutPiece, StripPiece } from '../roadbed/types.ts'
import type { TieLine } from '../ties/types.ts'
import type { LayingLists } from './types.ts'

/*
 * A mark is a number in a row, and the row is counted anew when a joint comes between; so a tick hangs on what the piece is: whose it is,
 * where it begins and how long it is. Gaps for heat and damp shift both a little when a neighbour changes, and nobody cuts a rail again for
 * that: so a piece is known again within these. Common practice, no source.
 */
const PLACE_SLACK_MM = 2
const LENGTH_SLACK_MM = 0.5

/** What can be ticked off: its list, its mark in it, and what a tick of it says. */
export interface Tickable {
  readonly list: Tick['list']
  /** Of ties a line of the saw list, by its place in it. */
  readonly mark: string
  /** To be kept in the tick. */
  readonly key: string
}

/** Everything on the lists that can be ticked off, in the order of the lists. */
export function tickablesOf({ rails, roadbed, ties }: LayingLists): readonly Tickable[] {
  return [
    ...rails.pieces.map((piece) => ({ list: 'rail', mark: piece.id, key: railKey(piece) }) as const),
    ...roadbed.runs.flatMap(({ owner, pieces }) => {
      const line = owner.kind === 'track' ? owner.track : `${owner.turnout}:${owner.route}`
      return pieces.map((piece) => ({ list: 'roadbed', mark: piece.id, key: stripKey(line, piece) }) as const)
    }),
    ...roadbed.turnoutPieces.flatMap((card) =>
      card.strips.map((strip) => ({ list: 'roadbed', mark: strip.id, key: fillerKey(card, strip) }) as const),
    ),
    ...ties.list.lines.map((line, i) => ({ list: 'tie', mark: String(i), key: tieKey(line) }) as const),
  ]
}

/** Which ticks belong to what is on the lists. */
export interface TicksMatched {
  /** By mark. */
  readonly of: { readonly [L in Tick['list']]: ReadonlyMap<string, Tick> }
  /** What they stand for was cut and is on no list any more: something else is needed now. */
  readonly idle: readonly Tick[]
}

/** Gives every tick to the piece that it was set at, or to none if that has become another. A piece has one tick at most. */
export function ticksMatch(ticks: readonly Tick[], tickables: readonly Tickable[]): TicksMatched {
  const of = { rail: new Map<string, Tick>(), roadbed: new Map<string, Tick>(), tie: new Map<string, Tick>() }
  const byHead = new Map<string, Tickable[]>()
  for (const tickable of tickables) {
    const head = `${tickable.list} ${partsOf(tickable.key).head}`
    const alike = byHead.get(head)
    if (alike === undefined) byHead.set(head, [tickable])
    else alike.push(tickable)
  }
  const idle = ticks.filter((tick) => {
    const { head, atMm, lengthMm } = partsOf(tick.piece)
    const near = (byHead.get(`${tick.list} ${head}`) ?? []).flatMap(({ mark, key }) => {
      const other = partsOf(key)
      const off = Math.abs(other.atMm - atMm)
      const isSame = off <= PLACE_SLACK_MM && Math.abs(other.lengthMm - lengthMm) <= LENGTH_SLACK_MM
      return isSame && !of[tick.list].has(mark) ? [{ mark, off }] : []
    })
    const [nearest] = near.toSorted((a, b) => a.off - b.off)
    if (nearest !== undefined) of[tick.list].set(nearest.mark, tick)
    return nearest === undefined
  })
  return { of, idle }
}

/** A key ends with a place and a length, mm; what is no key of ours is like no piece. */
function partsOf(key: string): { readonly head: string; readonly atMm: number; readonly lengthMm: number } {
  const words = key.split(' ')
  return { head: words.slice(0, -2).join(' '), atMm: Number(words.at(-2)), lengthMm: Number(words.at(-1)) }
}

const keyOf = (head: readonly (string | number)[], atMm: number, lengthMm: number): string =>
  [...head, atMm.toFixed(1), lengthMm.toFixed(1)].join(' ')

function railKey({ id, owner, kind, rail, from, fromMm, lengthMm, code }: RailPiece): string {
  const place = owner.kind === 'track' ? (from?.track ?? owner.track) : owner.kind === 'turnout' ? owner.turnout : owner.crossing
  // Two legs of a frog are alike in all but their number, and that is the work's own: no joint counts it anew.
  const number = kind === 'plain' ? [] : [id.split('-').at(-1) ?? '']
  return keyOf([place, kind, rail, code, ...number], from?.stationMm ?? fromMm, lengthMm)
}

const stripKey = (line: string, { strip, fromMm, lengthMm, widthMm }: StripPiece): string =>
  keyOf([line, strip, widthMm.toFixed(1)], fromMm, lengthMm)

function fillerKey({ owner, route }: RoadbedTurnoutPiece, { strip, number, lengthMm, widthMm }: FillerStrip): string {
  const place = owner.kind === 'turnout' ? owner.turnout : owner.crossing
  return keyOf([place, route, strip, widthMm.toFixed(1)], number, lengthMm)
}

const tieKey = ({ material, lengthMm, widthMm, thicknessMm }: TieLine): string =>
  keyOf([material, widthMm.toFixed(1), thicknessMm.toFixed(1)], 0, lengthMm)
