import type { StoreApi } from 'zustand/vanilla'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'
import { fitBegin } from '../fit/survey.ts'
import { fileChoose, planOpen } from './planFile.ts'

/** Lists of measured points; all else is taken for a plan, and told if it is none. */
const isList = ({ name, type }: File): boolean => /\.(csv|tsv|txt)$/i.test(name) || /^text\/(csv|plain|tab-separated-values)$/.test(type)

/** Drawings and lines of other programs. */
const isForeign = ({ name }: File): boolean => /\.(dxf|svg|xml|landxml|ifc)$/i.test(name)

/** What is let fall on the page: a plan is opened, a drawing asks what it is to become, a list of points goes to the fit, which it begins when there is none. */
export async function fileDropped(stores: Stores, desk: StoreApi<DeskState>, file: File): Promise<void> {
  if (/^image\/(png|jpeg|webp)$/.test(file.type)) return desk.getState().set({ dialog: 'underlay', picture: file })
  if (isForeign(file)) return drawingTakeIn(desk, file)
  if (!isList(file)) return planOpen(stores, desk, file)
  if (desk.getState().lineAct?.kind !== 'fit') {
    stores.session.getState().setStage('line')
    fitBegin(stores, desk)
  }
  // What reads lists comes when the first one is read.
  const { surveyFile } = await import('../fit/surveyFile.ts')
  stores.session.getState().setNotice(await surveyFile(stores, desk, file))
}

async function drawingTakeIn(desk: StoreApi<DeskState>, file: File): Promise<void> {
  desk.getState().set({ dialog: 'import', incoming: { name: file.name, text: await file.text() } })
}

/** Asks for a drawing, a file of lines or a list of corners with the system's own dialog. */
export function drawingChoose(desk: StoreApi<DeskState>): void {
  fileChoose('.dxf,.svg,.xml,.landxml,.ifc,.csv,.tsv,.txt', (file) => void drawingTakeIn(desk, file))
}
