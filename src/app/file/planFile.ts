import type { StoreApi } from 'zustand/vanilla'
import type { Box } from '../../core/geom/types.ts'
import type { Plan } from '../../core/plan/types.ts'
import { planFileName, planFileRead, planWrite } from '../../formats/planjson.ts'
import type { Stores } from '../context.ts'
import type { History, NextPlan } from '../../store/index.ts'
import type { DeskState } from '../desk.ts'
import { planBoxNow } from '../planBox.ts'
import { viewportFit } from '../viewportShow.ts'
import { demoPlanRead } from './demoPlan.ts'
import { planFileProblemText, planNoteText } from '../../words/fileText.ts'

/** What is looked at while nothing is drawn: a sheet of plywood, 4 by 8 ft, beside the origin. */
const emptyRoom: Box = { minX: 0, minY: 0, maxX: 2438.4, maxY: 1219.2 }

/** A plan for the desk. */
interface PlanToPut {
  readonly plan: Plan
  /** The steps that can be undone and redone in it. */
  readonly history?: History
  /** What it is to the shelf; without it, a new plan. */
  readonly is?: NextPlan
  /** What there is to say of it; what becomes of the plan before it is said with that. */
  readonly notice: string | null
}

/** Puts another plan on the desk. The one before is laid aside, to be taken back while the page is open. */
export function planPut(stores: Stores, desk: StoreApi<DeskState>, { plan, history, is, notice }: PlanToPut): void {
  const { keeper, set } = desk.getState()
  const { committed, undoStack: undo, redoStack: redo } = stores.plan.getState()
  const before = is?.kind === 'version' && is.id === keeper?.planId() ? null : planBeforeText(desk)
  set({
    laidAside: { plan: committed, history: { undo, redo }, planId: keeper?.planId() ?? '' },
    sheetSubject: null,
    dialog: null,
    bench: null,
  })
  if (is !== undefined) keeper?.nextIs(is)
  const session = stores.session.getState()
  session.setTool('select')
  session.select({ kind: 'none' })
  session.setHidden([])
  stores.plan.getState().load(plan, history)
  viewportFit(stores, planBoxNow(stores) ?? emptyRoom)
  session.setNotice(notice === null ? null : [notice, before].filter((text) => text !== null).join(' '))
}

/** What becomes of the plan on the desk when another one comes. */
export function planBeforeText(desk: StoreApi<DeskState>): string {
  const status = desk.getState().keeper?.status.getState()
  switch (status?.kind) {
    case 'kept':
    case 'waiting':
      return 'The plan before it stands on the shelf (File, Plans in this browser).'
    case 'fresh':
      return 'The demo railway before it was not changed, so it is not kept; File, Load the demo railway brings it again.'
    case 'elsewhere':
      return status.hasOwn
        ? 'The plan before it is kept by the other page; what was changed of it here can be taken back while this page is open.'
        : 'The plan before it is kept by the other page.'
    case 'failed':
    case undefined:
      return 'The plan before it is not kept in this browser; it can be taken back while this page is open.'
  }
}

/** Brings back the plan that was laid aside, and lays aside the one that was open. */
export function planTakeBack(stores: Stores, desk: StoreApi<DeskState>): void {
  const { laidAside } = desk.getState()
  if (laidAside === null) return
  const { plan, history, planId: id } = laidAside
  planPut(stores, desk, { plan, history, is: { kind: 'before', id }, notice: 'The plan from before is back on the desk.' })
}

/** Opens a file that the person chose or dropped. If it is no good, the open plan stays as it is. */
export async function planOpen(stores: Stores, desk: StoreApi<DeskState>, file: File): Promise<void> {
  const result = await planFileRead(file)
  if (!result.ok) {
    stores.session
      .getState()
      .setNotice(`${file.name} was not opened. ${planFileProblemText(result.problem)} The plan on the desk is untouched.`)
    return
  }
  const notes = result.notes.map(planNoteText)
  planPut(stores, desk, { plan: result.plan, notice: [`${file.name} is open.`, ...notes].join(' ') })
}

/** Asks for a file with the system's own dialog. */
export function planChoose(stores: Stores, desk: StoreApi<DeskState>): void {
  fileChoose('.json,application/json', (file) => void planOpen(stores, desk, file))
}

/** Asks for one file with the system's own dialog. */
export function fileChoose(accept: string, use: (file: File) => void): void {
  const input = document.createElement('input')
  input.type = 'file'
  input.accept = accept
  input.addEventListener('change', () => {
    const file = input.files?.[0]
    if (file !== undefined) use(file)
  })
  input.click()
}

/** Hands a file to the browser to be saved. */
export function fileSave(name: string, bytes: BlobPart, type: string): void {
  const address = URL.createObjectURL(new Blob([bytes], { type }))
  const link = document.createElement('a')
  link.href = address
  link.download = name
  link.click()
  // The browser has taken hold of it by then; some are slow to begin.
  setTimeout(() => URL.revokeObjectURL(address), 60_000)
}

export function planSave(stores: Stores): void {
  const { committed } = stores.plan.getState()
  fileSave(planFileName(committed), planWrite(committed), 'application/json')
  stores.session.getState().setNotice(`Saved as ${planFileName(committed)}, in the folder of your downloads.`)
}

export async function demoLoad(stores: Stores, desk: StoreApi<DeskState>): Promise<void> {
  const plan = await demoPlanRead()
  if (plan === null) stores.session.getState().setNotice('The demo railway could not be fetched. The plan on the desk is untouched.')
  else {
    planPut(stores, desk, {
      plan,
      is: { kind: 'example' },
      notice: 'The demo railway is on the desk. It is kept once you change something in it.',
    })
    desk.getState().set({ example: plan })
  }
}
