import { planFileName, planWrite } from '../../formats/planjson.ts'
import type { Stores } from '../context.ts'

/** As much of the File System Access draft as is used here; the language's own types do not know it. */
interface FileHandle {
  readonly name: string
  createWritable(): Promise<{ write(text: string): Promise<void>; close(): Promise<void> }>
}
interface PickerPage {
  showSaveFilePicker?(options: {
    readonly suggestedName: string
    readonly types: readonly { readonly description: string; readonly accept: { readonly [type: string]: readonly string[] } }[]
  }): Promise<FileHandle>
}

/** This browser lets a page write into a file that the person chose. */
export const canSameFile = (): boolean => 'showSaveFilePicker' in window

let held: { readonly stores: Stores; readonly file: FileHandle; readonly stop: () => void } | null = null

/** The file that the plan on the desk goes into; null: none was chosen for it. */
export const sameFileName = (stores: Stores): string | null => (held?.stores === stores ? held.file.name : null)

/** Writes the plan into its file, which is asked for the first time. A file is never written with another plan than its own. */
export async function sameFileSave(stores: Stores): Promise<void> {
  const { setNotice } = stores.session.getState()
  const { committed } = stores.plan.getState()
  try {
    if (held?.stores !== stores) hold(stores, await fileAsk(planFileName(committed)))
    const file = held?.file
    if (file === undefined) return
    const writing = await file.createWritable()
    await writing.write(planWrite(committed))
    // The file changes here and not before: what fails on the way leaves it as it was.
    await writing.close()
    setNotice(`Saved into ${file.name}.`)
  } catch (error) {
    // AbortError: the person chose no file.
    if (error instanceof DOMException && error.name === 'AbortError') return
    letGo()
    const why = error instanceof Error ? error.message : String(error)
    setNotice(`It was not saved into the file: ${why} Save plan to a file puts one among your downloads.`)
  }
}

async function fileAsk(suggestedName: string): Promise<FileHandle> {
  const ask = (window as PickerPage).showSaveFilePicker
  if (ask === undefined) throw new Error('this browser does not let a page write into files.')
  return ask({ suggestedName, types: [{ description: 'Plan', accept: { 'application/json': ['.json'] } }] })
}

function hold(stores: Stores, file: FileHandle): void {
  letGo()
  const stop = stores.plan.subscribe((state, before) => {
    // The file is not another plan's own.
    if (state.loaded !== before.loaded) letGo()
  })
  held = { stores, file, stop }
}

function letGo(): void {
  held?.stop()
  held = null
}
