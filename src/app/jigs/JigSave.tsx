import { useState } from 'react'
import type { ReactNode } from 'react'
import type { Jig, JigKind } from '../../core/jigs/index.ts'
import type { JigFileKind } from '../../formats/solid/jigFile.ts'
import { jigNames } from '../../words/jigText.ts'
import { usePrefs, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { fileSave } from '../file/planFile.ts'
import type { Solids } from './useSolids.ts'

const files = [
  { value: '3mf', text: '3MF for the printer', type: 'model/3mf', isFlat: false },
  { value: 'stl', text: 'STL for the printer', type: 'model/stl', isFlat: false },
  { value: 'svg', text: 'SVG outline to cut', type: 'image/svg+xml', isFlat: true },
  { value: 'dxf', text: 'DXF outline to cut', type: 'image/vnd.dxf', isFlat: true },
] as const satisfies readonly { readonly value: JigFileKind; readonly text: string; readonly type: string; readonly isFlat: boolean }[]

/** Saves what is shown. */
export function JigSave(props: {
  readonly kind: JigKind
  readonly title: string
  readonly jig: Jig | null
  readonly solids: Solids
}): ReactNode {
  const { kind, title, jig, solids } = props
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  const units = usePrefs((prefs) => prefs.units)
  const [wanted, setWanted] = useState<JigFileKind>('3mf')
  const choices = files.filter(({ isFlat }) => !isFlat || jig?.flatAtMm !== null)
  const chosen = choices.find(({ value }) => value === wanted) ?? files[0]

  async function save(): Promise<void> {
    if (solids.kind !== 'made') return
    const { jigFiles } = await import('../../formats/solid/jigFile.ts')
    const name = jigNames[kind].toLowerCase().replaceAll(/[^a-z]+/g, '-')
    const made = jigFiles(chosen.value, name, title, solids.pieces, units === 'imperial' ? 'in' : 'mm')
    for (const file of made) fileSave(file.name, new Uint8Array(file.bytes), chosen.type)
    const names = made.map((file) => file.name).join(', ')
    stores.session.getState().setNotice(`Saved as ${names}, in the folder of your downloads.`)
    setDesk({ dialog: null })
  }

  return (
    <div className="jigs-save">
      <ChoiceField label="File" value={chosen.value} choices={choices} onChoose={setWanted} />
      <button type="button" className="act is-main" disabled={solids.kind !== 'made'} onClick={() => void save()}>
        Save the jig
      </button>
    </div>
  )
}
