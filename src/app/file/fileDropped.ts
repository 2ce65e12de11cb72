import type { StoreApi } from 'zustand/vanilla'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'
import { fitBegin } from '../fit/survey.ts'
import { fileChoose, planOpen } from './planFile.ts'

/** Lists of measured points; all else is taken for a plan, and told if it is none. */
const isList = ({ name, type }: File): boolean => /\.(csv|tsv|txt)$/i.test(name) || /^text\/(csv|plain|tab-separated-values)$/.test(type)

/** Drawings and lines of other programs. */
const isForeign = ({ name }: File): boolean => /\.(dxf|xml|landxml|ifc)$/i.test(name)

/** What is let fall on the page: a plan is opened, a drawing asks what it is to become, a list of points goes to the fit, which it begins when there is none. */
export async function fileDropped(stores: Stores, desk: StoreApi<DeskState>, file: File): Promise<void> {
  if (isForeign(file)) {
    desk.getState().set({ dialog: 'import', incoming: { name: file.name, text: await file.text() } })
    return
  }
  if (!isList(file)) return planOpen(stores, desk, file)
  if (desk.getState().lineAct?.kind !== 'fit') {
    stores.session.getState().setStage('line')
    fitBegin(stores, desk)
  }
  // What reads lists comes when the first one is read.
  const { surveyFile } = await import('../fit/surveyFile.ts')
  stores.session.getState().setNotice(await surveyFile(stores, desk, file))
}

/** Asks for a drawing or a file of lines with the system's own dialog. */
export function drawingChoose(stores: Stores, desk: StoreApi<DeskState>): void {
  fileChoose('.dxf,.xml,.landxml,.ifc', (file) => void fileDropped(stores, desk, file))
}
