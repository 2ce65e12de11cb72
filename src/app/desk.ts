import { createContext, useContext } from 'react'
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { StoreApi } from 'zustand/vanilla'
import { USUAL_MARGIN_MM, USUAL_OVERLAP_MM } from '../core/deliver/paperUsual.ts'
import type { SheetLook, SheetOptions, SheetSubject } from '../core/deliver/types.ts'
import type { Path, Pose } from '../core/geom/types.ts'
import type { JoinEnd } from '../core/pipeline/index.ts'
import type { Id, Maker, Plan, TrackEndName } from '../core/plan/types.ts'
import type { History } from '../store/types.ts'
import type { PushedTrain } from '../tools/push/push.ts'
import type { Survey } from './fit/survey.ts'
import type { Clearances } from '../core/clearance/index.ts'
import type { Keeper } from './keeper.ts'
import type { BenchHeld } from './room/benchAdd.ts'
import type { BenchGhost } from './room/benchGhost.ts'
import type { LegsDraft } from './room/LegsBySize.tsx'
import type { RoomDraft } from './room/RoomMeasured.tsx'
import type { Standings } from './running/standingsWatch.ts'

/** Something done to a line in a panel of its own, which takes the place of the particulars until it is done or given up. */
export type LineAct =
  | { readonly kind: 'join'; readonly from: JoinEnd }
  | { readonly kind: 'parallel'; readonly track: Id }
  /** A parallel to its host for a track that has just left it. */
  | { readonly kind: 'beside'; readonly track: Id }
  | { readonly kind: 'ease'; readonly track: Id }
  | { readonly kind: 'shape'; readonly track: Id }
  /** A line fitted to measured places. */
  | { readonly kind: 'fit' }

/** Lines held over the plan for a look; they are not in it. */
export interface Trial {
  readonly chosen: Path | null
  readonly others: readonly Path[]
  readonly ends: readonly TrialEnd[]
}

/** An end that is marked over the plan. onTake: it may be pointed at, and this takes it. */
export interface TrialEnd {
  readonly pose: Pose
  readonly isTaken: boolean
  readonly onTake: (() => void) | null
}

/** Swept bands held over the plan. cars: the key of the one that is held to run; null: the worst cars of each track's class. */
export interface BandsShown {
  readonly cars: string | null
  /** On all tracks; else on the one in question. */
  readonly isAll: boolean
}

/** A train in hand. lead: the key of what leads its cars, an engine say; null: nothing does. car: the key of the cars; null: what is at hand. It stands nowhere before it is placed. */
export interface Push {
  readonly lead: string | null
  readonly car: string | null
  readonly count: number
  readonly train: PushedTrain
  readonly isPlaced: boolean
}

/** A file of another program, waiting to be told what it is to become. */
export interface Incoming {
  readonly name: string
  readonly text: string
}

/** What the page itself remembers while it is open: which sheet of words lies on top. Nothing of the plan. */
export interface DeskState {
  readonly dialog:
    | 'finder'
    | 'newRoom'
    | 'export'
    | 'import'
    | 'gallery'
    | 'jigs'
    | 'steps'
    | 'roomMeasured'
    | 'underlay'
    | 'shelf'
    | 'share'
    | 'shared'
    | 'keys'
    | null
  /** What has been typed to find an action while its sheet is on its way. */
  readonly finderText: string
  /** The list of what is in sight lies open on the canvas. */
  readonly isSightOpen: boolean
  /** On a narrow screen: which column is drawn up from below. */
  readonly drawer: 'stage' | 'particulars' | 'chart' | null
  /** What the Sheets stage shows; null: it takes the selection. */
  readonly sheetSubject: SheetSubject | null
  /** A rectangle to be printed is about to be drawn on the plan, which lies on the table meanwhile. */
  readonly isFraming: boolean
  readonly overlapMm: number
  readonly marginMm: number
  readonly tiling: NonNullable<SheetOptions['tiling']>
  /** null: as usual. */
  readonly sheetLook: SheetLook | null
  readonly lineAct: LineAct | null
  /** Benchwork that is being made by its sizes: one form at a time. */
  readonly bySize: 'table' | 'legs' | 'shelf' | 'post' | null
  /** Benchwork made by its sizes that waits to be told where it stands. */
  readonly benchHeld: BenchHeld | null
  /** Benchwork over the plan while its sizes are typed. */
  readonly benchGhost: BenchGhost | null
  /** What had been typed into a form when something else was begun; null: nothing that waits. */
  readonly legsDraft: LegsDraft | null
  readonly roomDraft: RoomDraft | null
  /** What the bench needs of a track, turnout or crossing lies open. */
  readonly bench: { readonly kind: 'setout' | 'build'; readonly id: Id } | null
  readonly trial: Trial | null
  /** A track whose end, this one, is about to be taken up to be drawn on. */
  readonly drawOn: { readonly track: Id; readonly end: TrackEndName } | null
  readonly incoming: Incoming | null
  /** Puts the newer build that lies ready in place of this one; null: there is none. */
  readonly update: (() => void) | null
  /** A picture that is about to be laid under the plan. */
  readonly picture: File | null
  /** The demo railway as it was fetched: as long as it is the plan on the desk, nothing of the person's own is there. */
  readonly example: Plan | null
  /** The plan that was on the desk before the last one was opened, as it was left, and its name on the shelf. */
  readonly laidAside: { readonly plan: Plan; readonly history: History; readonly planId: string } | null
  /** Keeps the plan on the shelf of this browser; null before the page stands. */
  readonly keeper: Keeper | null
  /** Takes the last point of a drawing back; null: none stands. As long as one does, this is what undo means. */
  readonly pointBack: (() => void) | null
  /** A maker in hand whose numbers are tried on the plan before it is made. */
  readonly makerDraft: Maker | null
  /** Measured places, from when the fit was first opened. */
  readonly survey: Survey | null
  readonly bands: BandsShown | null
  readonly push: Push | null
  /** What the stages of laying show over the table. */
  readonly layingShows: 'plan' | 'lists'
  /** What runs sweeps and what is free beside it, once that is found; only while bands or a train are shown. */
  readonly clearances: Clearances | null
  /** Where cars can stand, as found so far. */
  readonly standings: Standings | null
  set(change: Partial<Omit<DeskState, 'set'>>): void
}

export function deskStoreCreate(): StoreApi<DeskState> {
  return createStore<DeskState>()((set) => ({
    dialog: null,
    finderText: '',
    isSightOpen: false,
    drawer: null,
    sheetSubject: null,
    isFraming: false,
    overlapMm: USUAL_OVERLAP_MM,
    marginMm: USUAL_MARGIN_MM,
    tiling: 'fewest',
    sheetLook: null,
    lineAct: null,
    bySize: null,
    benchHeld: null,
    benchGhost: null,
    legsDraft: null,
    roomDraft: null,
    bench: null,
    trial: null,
    drawOn: null,
    incoming: null,
    picture: null,
    update: null,
    example: null,
    laidAside: null,
    keeper: null,
    pointBack: null,
    makerDraft: null,
    survey: null,
    bands: null,
    push: null,
    layingShows: 'plan',
    clearances: null,
    standings: null,
    set: (change) => set(change),
  }))
}

export const DeskContext = createContext<StoreApi<DeskState> | null>(null)

export function useDeskStore(): StoreApi<DeskState> {
  const store = useContext(DeskContext)
  if (store === null) throw new Error('useDeskStore outside of DeskContext')
  return store
}

export function useDesk<T>(selector: (state: DeskState) => T): T {
  return useStore(useDeskStore(), selector)
}
