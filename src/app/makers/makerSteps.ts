import { makerSound } from '../../core/checks/index.ts'
import { boxOfPoints } from '../../core/geom/index.ts'
import type { StoreApi } from 'zustand/vanilla'
import { editLabel } from '../../words/editLabel.ts'
import { makerExpand, makerStart } from '../../core/makers/index.ts'
import type { MakerKind } from '../../core/makers/index.ts'
import type { Id, Maker } from '../../core/plan/types.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'
import type { Keep } from '../fields/ValueField.tsx'
import { planEdit } from '../planEdit.ts'
import { viewportShow } from '../viewportShow.ts'
import { editProblemText } from '../../words/problemText.ts'
import { makerOnFreeSide } from './freeSide.ts'
import { makerPreview } from './makerPreview.ts'
import { kindWords } from './makerText.ts'
import { makerProblemText } from '../../words/makerText.ts'

/** The track that is selected, by itself, by one of its corners or ends, or by a turnout on it. */
function selectedTrack(stores: Stores): Id | null {
  const { selection } = stores.session.getState()
  if (selection.kind === 'corner' || selection.kind === 'trackEnd') return selection.track
  if (selection.kind !== 'record') return null
  if (selection.table === 'tracks') return selection.id
  return selection.table === 'turnouts' ? (stores.plan.getState().plan.turnouts[selection.id]?.track ?? null) : null
}

/** Takes a maker in hand: numbers to begin with, drawn on the plan, not in it yet. */
export function makerBegin(stores: Stores, desk: StoreApi<DeskState>, kind: MakerKind): void {
  const { plan } = stores.plan.getState()
  const { network } = stores.derived.getState().derived
  const session = stores.session.getState()
  const usual = makerStart(plan, network, kind, selectedTrack(stores), stores.prefs.getState().units)
  if (usual === null) {
    const isPair = kind === 'crossover' || kind === 'turnback'
    session.setNotice(
      isPair
        ? `A ${kindWords[kind].word} lies between two tracks that run side by side; the plan has no such pair yet.`
        : `A ${kindWords[kind].word} stands on a track; lay a centreline with a straight first.`,
    )
    return
  }
  const maker = makerOnFreeSide(network, usual, (one) => makerSound({ plan, network }, one))
  session.setNotice(null)
  session.setTool('select')
  desk.getState().set({ makerDraft: maker, lineAct: null, trial: null, drawer: 'particulars' })
  const preview = makerPreview(network, maker)
  if (preview.ok) viewportShow(stores, boxOfPoints(preview.tracks.flatMap(({ alignment }) => alignment.polygon)))
}

/** Puts what is in hand into the plan, as one step. */
export function makerFinish(stores: Stores, desk: StoreApi<DeskState>): void {
  const maker = desk.getState().makerDraft
  if (maker === null || makerWrite(stores, maker) !== null) return
  desk.getState().set({ makerDraft: null })
  stores.session.getState().select({ kind: 'record', table: 'makers', id: maker.id })
}

/** Writes a maker as one step; what hinders it comes back in words. */
function makerWrite(stores: Stores, maker: Maker): string | null {
  const { plan } = stores.plan.getState()
  const result = makerExpand(plan, stores.derived.getState().derived.network, maker)
  if (!result.ok) return makerProblemText(result.problem, plan, stores.prefs.getState())
  return planEdit(stores, result.command).problem
}

/** How a field of a maker in the plan keeps its value: all that it makes follows, as one step; a held arrow is one step together. */
export function makerKeep(stores: Stores, id: Id): <V>(change: (maker: Maker, value: V) => Maker) => Keep<V> {
  const store = stores.plan
  return (change) => ({
    commit: (value) => {
      const maker = store.getState().plan.makers[id]
      return maker === undefined ? null : makerWrite(stores, change(maker, value))
    },
    nudge: (value) => {
      const { plan } = store.getState()
      const maker = plan.makers[id]
      if (maker === undefined) return null
      const result = makerExpand(plan, stores.derived.getState().derived.network, change(maker, value))
      if (!result.ok) return makerProblemText(result.problem, plan, stores.prefs.getState())
      if (store.getState().transaction === null) store.getState().begin(editLabel(result.command, plan))
      const edited = store.getState().replace(result.command)
      return edited.ok ? null : editProblemText(edited.problem, plan)
    },
    settle: () => {
      if (store.getState().transaction !== null) store.getState().commit()
    },
  })
}
