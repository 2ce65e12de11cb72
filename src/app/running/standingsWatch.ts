import type { StoreApi } from 'zustand/vanilla'
import { foulingPoints, standingFound, standingKeepCreate } from '../../core/clearance/index.ts'
import type { FoulingPoint, Standing } from '../../core/clearance/index.ts'
import type { Network } from '../../core/network/index.ts'
import { legHolders, recordFind } from '../../core/plan/index.ts'
import type { Id, Plan } from '../../core/plan/types.ts'
import type { Selection, Viewport } from '../../store/types.ts'
import { trackOfSelection } from '../chart/trackOfSelection.ts'
import { detailAt } from '../canvas/detail.ts'
import { isMany, tracksIn } from '../canvas/tracksDrawn.ts'
import { viewBoxInPlan } from '../canvas/viewport.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'

/** Where cars can stand, and the fouling points that bound it, as found so far. */
export interface Standings {
  readonly rooms: ReadonlyMap<Id, readonly Standing[]>
  readonly points: readonly FoulingPoint[]
}

/** The page may be kept from moving for so long at once, ms. */
const sliceMs = 5

/** What an edit changes on the screen is shown first, ms; what hangs on a turnout in the hand follows at once. */
const afterMs = 60

/** What a selection asks of rooms to stand. boundBy: of these only the rooms that end at one of those records; null: all. */
export interface RoomQuestion {
  readonly track: Id
  readonly boundBy: readonly Id[] | null
}

/** The tracks that a selection is about: of a turnout what hangs on it and its host beside that, of a maker what it made. */
export function roomQuestions(selection: Selection, plan: Plan): readonly RoomQuestion[] {
  const all = (track: Id): RoomQuestion => ({ track, boundBy: null })
  if (selection.kind === 'record' && selection.table === 'makers')
    return recordFind(plan, 'makers', selection.id)?.made.tracks.map(all) ?? []
  const host = trackOfSelection(selection, plan)
  if (host === null || recordFind(plan, 'tracks', host) === null) return []
  if (selection.kind !== 'record' || selection.table !== 'turnouts') return [all(host)]
  const guests = [...new Set((legHolders(plan).get(selection.id) ?? []).map(({ track }) => track))]
  return [...guests.map(all), { track: host, boundBy: [...guests, selection.id] }]
}

/** All tracks; of a railway of many only those that the page can show. */
function tracksInSight({ tracks }: Network, viewport: Viewport): readonly Id[] {
  if (!isMany(tracks)) return [...tracks.keys()]
  return tracksIn(tracks, viewBoxInPlan({ ...viewport, size: { width: window.innerWidth, height: window.innerHeight } }))
}

/**
 * Finds where cars can stand whenever the plan has come to rest, in slices between which the page moves: first on the tracks in question,
 * then on all others unless they are seen from too far for their marks. While a turnout is dragged its own tracks follow.
 */
export function standingsWatch(stores: Stores, desk: StoreApi<DeskState>): () => void {
  const keep = standingKeepCreate()
  const rooms = new Map<Id, readonly Standing[]>()
  /** For what network each was found. */
  const foundFor = new Map<Id, Network>()
  let timer: ReturnType<typeof setTimeout> | null = null
  let work: Generator<undefined> | null = null

  function* find(network: Network, question: readonly Id[], others: readonly Id[]): Generator<undefined> {
    for (const id of question) yield* findOn(network, id)
    if (question.length > 0) publish(network)
    for (const id of others) {
      // What is for the rest can wait for the next rest.
      if (stores.derived.getState().derived.network !== network) return
      yield* findOn(network, id)
    }
    if (others.length > 0) publish(network)
  }
  function* findOn(network: Network, id: Id): Generator<undefined> {
    rooms.set(id, yield* standingFound(network, id, keep))
    foundFor.set(id, network)
  }
  function publish(network: Network): void {
    for (const id of rooms.keys()) if (!network.tracks.has(id)) rooms.delete(id)
    desk.getState().set({ standings: { rooms: new Map(rooms), points: foulingPoints(network, [...rooms.values()].flat()) } })
  }

  /** In a drag of anything but a turnout nothing is looked for: its end wakes again. */
  function isResting(): boolean {
    const { selection } = stores.session.getState()
    const isTurnout = selection.kind === 'record' && selection.table === 'turnouts'
    return stores.plan.getState().transaction !== null && !isTurnout
  }

  function next(): Generator<undefined> | null {
    const { plan, transaction } = stores.plan.getState()
    const { selection, viewport } = stores.session.getState()
    const { network } = stores.derived.getState().derived
    if (isResting()) return null
    const isOld = (id: Id): boolean => foundFor.get(id) !== network
    const isWanted = (id: Id): boolean => network.tracks.has(id) && isOld(id)
    const question = roomQuestions(selection, plan)
      .map(({ track }) => track)
      .filter(isWanted)
    const isFar = detailAt(viewport.pxPerMm, plan.railway, null) === 'far'
    // What is not looked for any more must not stay as it was found on another plan.
    if (transaction === null && isFar && [...rooms.keys()].some((id) => !question.includes(id) && isOld(id))) {
      for (const id of rooms.keys()) if (isOld(id)) rooms.delete(id)
      publish(network)
    }
    const others =
      transaction !== null || isFar ? [] : tracksInSight(network, viewport).filter((id) => isWanted(id) && !question.includes(id))
    return question.length + others.length === 0 ? null : find(network, question, others)
  }
  function wake(): void {
    if (isResting()) return
    timer ??= setTimeout(slice, stores.plan.getState().transaction === null ? afterMs : 0)
  }
  function slice(): void {
    timer = null
    const until = performance.now() + sliceMs
    do {
      work ??= next()
      if (work === null) return
      if (work.next().done === true) work = null
    } while (performance.now() < until)
    timer = setTimeout(slice)
  }

  wake()
  const stops = [stores.derived.subscribe(wake), stores.plan.subscribe(wake), stores.session.subscribe(wake)]
  return () => {
    for (const stop of stops) stop()
    if (timer !== null) clearTimeout(timer)
  }
}
