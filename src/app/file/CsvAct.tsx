import type { ReactNode } from 'react'
import { csvWrite } from '../../formats/csv.ts'
import { planFileName } from '../../formats/planjson.ts'
import { useStores } from '../context.ts'
import { Act } from '../particulars/acts.tsx'
import { fileSave } from './planFile.ts'

/** Takes a table away for a spreadsheet, in a file called by the plan and by what it is `of`. The rows are made when they are wanted. */
export function CsvAct({ of, rows }: { readonly of: string; readonly rows: () => readonly (readonly string[])[] }): ReactNode {
  const stores = useStores()
  function save(): void {
    const name = `${planFileName(stores.plan.getState().committed).replace(/(?:\.\w+)+$/, '')}-${of}.csv`
    fileSave(name, csvWrite(rows()), 'text/csv;charset=utf-8')
    stores.session.getState().setNotice(`Saved as ${name}, in the folder of your downloads.`)
  }
  return <Act onClick={save}>Save as CSV</Act>
}
