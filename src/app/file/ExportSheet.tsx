import { useState } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import { exchangeToleranceMm, exchangeWrite } from '../../formats/exchange.ts'
import type { ExchangeKind } from '../../formats/exchange.ts'
import { planFileName } from '../../formats/planjson.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { usePrefs, useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { fileSave } from './planFile.ts'

const kinds = [
  {
    value: 'dxf',
    text: 'DXF drawing',
    about: 'Lines, true arcs and outlines by layer. Easements are chains of points within 0.01 mm.',
    type: 'image/vnd.dxf',
  },
  {
    value: 'svg',
    text: 'SVG picture at true size',
    about: 'One user unit to the millimetre, a group for each layer.',
    type: 'image/svg+xml',
  },
  {
    value: 'landxml',
    text: 'LandXML 1.2 alignments',
    about: 'The centreline of every track by lines, curves and spirals.',
    type: 'application/xml',
  },
  {
    value: 'ifc',
    text: 'IFC 4.3 alignments',
    about: 'The centreline of every track by its horizontal segments.',
    type: 'application/x-step',
  },
] as const satisfies readonly { readonly value: ExchangeKind; readonly text: string; readonly about: string; readonly type: string }[]

const endings: { readonly [K in ExchangeKind]: string } = { dxf: 'dxf', svg: 'svg', landxml: 'xml', ifc: 'ifc' }

/** Hands the plan to other programs as a file. */
export default function ExportSheet(): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const units = usePrefs((prefs) => prefs.units)
  const [kind, setKind] = useState<ExchangeKind>('dxf')
  const [unit, setUnit] = useState<'mm' | 'in'>(units === 'imperial' ? 'in' : 'mm')
  const close = (): void => desk.getState().set({ dialog: null })
  const chosen = kinds.find(({ value }) => value === kind) ?? kinds[0]

  function save(): void {
    const { derived } = stores.derived.getState()
    const name = planFileName(derived.plan).replace(/(?:\.\w+)+$/, `.${endings[kind]}`)
    const { text } = exchangeWrite(kind, derived, { unit, toleranceMm: exchangeToleranceMm })
    fileSave(name, text, chosen.type)
    stores.session.getState().setNotice(`Saved as ${name}, in the folder of your downloads.`)
    close()
  }

  return (
    <Sheet onShut={close}>
      <Heading slot="title">For other programs</Heading>
      <p>{chosen.about}</p>
      <div className="fields">
        <ChoiceField label="File" value={kind} choices={kinds} onChoose={setKind} />
        {kind === 'dxf' ? (
          <ChoiceField
            label="Unit"
            value={unit}
            choices={[
              { value: 'mm', text: 'millimetres' },
              { value: 'in', text: 'inches' },
            ]}
            onChoose={setUnit}
          />
        ) : null}
      </div>
      <div className="acts">
        <button type="button" className="act is-main" onClick={save}>
          Save the file
        </button>
        <button type="button" className="act" onClick={close}>
          Leave it
        </button>
      </div>
    </Sheet>
  )
}
