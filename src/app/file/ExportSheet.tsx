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
import { pictureMake } from './pictureMake.ts'
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
  {
    value: 'png',
    text: 'PNG picture for a page',
    about:
      'Benchwork, walls and rails as seen from afar, for a club page or a letter. Not to scale on paper: for that there are the sheets.',
    type: 'image/png',
  },
] as const satisfies readonly {
  readonly value: ExchangeKind | 'png'
  readonly text: string
  readonly about: string
  readonly type: string
}[]

const endings: { readonly [K in ExchangeKind | 'png']: string } = { dxf: 'dxf', svg: 'svg', landxml: 'xml', ifc: 'ifc', png: 'png' }

const widths = ['1200', '2400', '4800'] as const

/** Hands the plan to other programs as a file. */
export default function ExportSheet(): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const units = usePrefs((prefs) => prefs.units)
  const [kind, setKind] = useState<ExchangeKind | 'png'>('dxf')
  const [unit, setUnit] = useState<'mm' | 'in'>(units === 'imperial' ? 'in' : 'mm')
  const [widthPx, setWidth] = useState<(typeof widths)[number]>('2400')
  const close = (): void => desk.getState().set({ dialog: null })
  const chosen = kinds.find(({ value }) => value === kind) ?? kinds[0]

  async function save(): Promise<void> {
    const { derived } = stores.derived.getState()
    const { setNotice } = stores.session.getState()
    const name = planFileName(derived.plan).replace(/(?:\.\w+)+$/, `.${endings[kind]}`)
    try {
      const content =
        kind === 'png'
          ? await pictureMake(derived, Number(widthPx))
          : exchangeWrite(kind, derived, { unit, toleranceMm: exchangeToleranceMm }).text
      fileSave(name, content, chosen.type)
      setNotice(`Saved as ${name}, in the folder of your downloads.`)
    } catch (error) {
      setNotice(`${name} was not saved: ${error instanceof Error ? error.message : String(error)}`)
    }
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
        {kind === 'png' ? (
          <ChoiceField
            label="Width"
            value={widthPx}
            choices={widths.map((value) => ({ value, text: `${value} pixels` }))}
            onChoose={setWidth}
          />
        ) : null}
      </div>
      <div className="acts">
        <button type="button" className="act is-main" onClick={() => void save()}>
          Save the file
        </button>
        <button type="button" className="act" onClick={close}>
          Leave it
        </button>
      </div>
    </Sheet>
  )
}
