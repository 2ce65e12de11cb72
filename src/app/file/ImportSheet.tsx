import { useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import type { PlanCommand } from '../../core/edit/types.ts'
import { dxfRead } from '../../formats/dxf/read.ts'
import type { DxfResult } from '../../formats/dxf/read.ts'
import { outlinesTakeIn } from '../../formats/intake/outlines.ts'
import type { OutlineUse } from '../../formats/intake/outlines.ts'
import { linesTakeIn } from '../../formats/intake/tracks.ts'
import { ifcRead } from '../../formats/line/ifcRead.ts'
import { landXmlRead } from '../../formats/line/landXmlRead.ts'
import type { LineIn } from '../../formats/line/types.ts'
import { chainProblemText, dxfProblemText, lineFileProblemText } from '../../words/exchangeText.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import type { Incoming } from '../desk.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { planBoxNow } from '../places.ts'
import { viewportFit } from '../viewportShow.ts'

const usualMost = 40

type Drawing = Extract<DxfResult, { ok: true }>

const units = [
  { value: 'in', text: 'inches', mm: 25.4 },
  { value: 'ft', text: 'feet', mm: 304.8 },
  { value: 'mm', text: 'millimetres', mm: 1 },
  { value: 'cm', text: 'centimetres', mm: 10 },
  { value: 'm', text: 'metres', mm: 1000 },
] as const
type Unit = (typeof units)[number]['value'] | 'asked'

const uses: readonly { readonly value: OutlineUse; readonly text: string }[] = [
  { value: 'benchwork', text: 'benchwork' },
  { value: 'wall', text: 'walls' },
  { value: 'obstacle', text: 'obstacles' },
]

/** Takes a drawing or lines of another program into the plan; what is asked depends on what is in the file. */
export default function ImportSheet(): ReactNode {
  const desk = useDeskStore()
  const incoming = useDesk((state) => state.incoming)
  const close = (): void => desk.getState().set({ dialog: null, incoming: null })
  if (incoming === null) return null
  return (
    <Sheet onShut={close}>
      <Heading slot="title">Take in {incoming.name}</Heading>
      <Read incoming={incoming} onShut={close} />
    </Sheet>
  )
}

function Read({ incoming, onShut }: { readonly incoming: Incoming; readonly onShut: () => void }): ReactNode {
  const read = useMemo(() => readFile(incoming.text), [incoming])
  if (read.kind === 'refused') {
    return (
      <>
        <p role="alert">{read.says} The plan is untouched.</p>
        <div className="acts">
          <button type="button" className="act" onClick={onShut}>
            Shut
          </button>
        </div>
      </>
    )
  }
  return read.kind === 'lines' ? (
    <TakeLines lines={read.lines} onShut={onShut} />
  ) : (
    <TakeOutlines drawing={read.drawing} name={incoming.name} onShut={onShut} />
  )
}

type FileRead =
  | { readonly kind: 'refused'; readonly says: string }
  | { readonly kind: 'lines'; readonly lines: readonly LineIn[] }
  | { readonly kind: 'outlines'; readonly drawing: Drawing }

function readFile(text: string): FileRead {
  const isIfc = text.trimStart().startsWith('ISO-10303-21')
  if (isIfc || /<(?:\w+:)?LandXML/.test(text)) {
    const read = isIfc ? ifcRead(text) : landXmlRead(text)
    return read.ok ? { kind: 'lines', lines: read.lines } : { kind: 'refused', says: lineFileProblemText(read.problem) }
  }
  const read = dxfRead(text)
  return read.ok ? { kind: 'outlines', drawing: read } : { kind: 'refused', says: dxfProblemText(read.problem) }
}

/** One step of the plan for all that is taken in, and the whole in view. */
function useTakeIn(onShut: () => void): (label: string, commands: readonly PlanCommand[], notes: readonly string[]) => void {
  const stores = useStores()
  return (label, commands, notes) => {
    const result = stores.plan.getState().apply({ kind: 'group', label, commands })
    const said =
      commands.length === 0 ? ['Nothing in it can be taken in.'] : result.ok ? [`${label}.`] : ['It was not taken in: the plan refuses it.']
    const box = planBoxNow(stores)
    if (result.ok && box !== null) viewportFit(stores, box)
    stores.session.getState().setNotice([...said, ...notes].join(' '))
    onShut()
  }
}

function TakeLines({ lines, onShut }: { readonly lines: readonly LineIn[]; readonly onShut: () => void }): ReactNode {
  const classes = usePlan((state) => state.plan.lineClasses)
  const ratio = usePlan((state) => state.plan.railway.ratio)
  const prefs = usePrefs((state) => state)
  const takeIn = useTakeIn(onShut)
  const choices = Object.values(classes).map(({ id, name }) => ({ value: id, text: name }))
  const [lineClass, setLineClass] = useState(choices[0]?.value ?? '')
  const [size, setSize] = useState<'model' | 'full'>('model')

  function take(): void {
    const by = size === 'model' ? 1 : 1 / ratio
    const scaled = lines.map(({ name, elements }) => ({
      name,
      elements: elements.map(({ lengthMm, k0, k1, start }) => ({
        lengthMm: lengthMm * by,
        k0: k0 / by,
        k1: k1 / by,
        start: { ...start, x: start.x * by, y: start.y * by },
      })),
    }))
    const { commands, refused } = linesTakeIn(scaled, lineClass)
    const notes = refused.map(({ name, problem }) => `“${name}” was left out. ${chainProblemText(problem, prefs)}`)
    takeIn(commands.length === 1 ? 'Take in a track' : `Take in ${commands.length} tracks`, commands, notes)
  }

  return (
    <>
      <p>
        {lines.length === 1 ? 'One alignment' : `${lines.length} alignments`}: {lines.map(({ name }) => name || 'unnamed').join(', ')}.
      </p>
      <div className="fields">
        <ChoiceField label="Line class" value={lineClass} choices={choices} onChoose={setLineClass} />
        <ChoiceField
          label="Drawn"
          value={size}
          choices={[
            { value: 'model', text: 'as large as the model' },
            { value: 'full', text: `at full size, 1:${ratio} smaller here` },
          ]}
          onChoose={setSize}
        />
      </div>
      <Acts isPossible={lineClass !== ''} onTake={take} onShut={onShut} />
    </>
  )
}

function TakeOutlines(props: { readonly drawing: Drawing; readonly name: string; readonly onShut: () => void }): ReactNode {
  const { drawing, onShut } = props
  const takeIn = useTakeIn(onShut)
  const layers = [...new Set(drawing.outlines.map(({ layer }) => layer))]
  const [unit, setUnit] = useState<Unit>('asked')
  const [use, setUse] = useState<OutlineUse>('benchwork')
  // A room has few outlines on a layer; hundreds are ties, furniture, hatching.
  const [off, setOff] = useState<ReadonlySet<string>>(
    () => new Set(layers.filter((layer) => drawing.outlines.filter((outline) => outline.layer === layer).length > usualMost)),
  )
  const mm = units.find(({ value }) => value === unit)?.mm ?? drawing.unitMm
  const known = units.find((one) => one.mm === drawing.unitMm)

  function take(): void {
    if (mm === null) return
    const { commands, open } = outlinesTakeIn(
      drawing.outlines.filter(({ layer }) => !off.has(layer)),
      mm,
      use,
    )
    const left = [...drawing.leftOut].map(([kind, count]) => `${count} of kind ${kind} left out.`)
    const notes = [...(open > 0 ? [`${open} lines that bound nothing left out.`] : []), ...left]
    takeIn(`Take in ${props.name}`, commands, notes)
  }

  return (
    <>
      <p>
        {drawing.outlines.length} lines and outlines.{' '}
        {drawing.unitMm === null ? 'The drawing does not say in what unit it measures; you have to.' : 'The drawing says its unit.'}
      </p>
      <div className="fields">
        <ChoiceField<Unit>
          label="Unit"
          value={unit}
          choices={[
            { value: 'asked', text: drawing.unitMm === null ? 'choose one' : `as it says: ${known?.text ?? `${drawing.unitMm} mm`}` },
            ...units,
          ]}
          onChoose={setUnit}
        />
        <ChoiceField label="They become" value={use} choices={uses} onChoose={setUse} />
      </div>
      <fieldset className="layers">
        <legend>Layers</legend>
        {layers.map((layer) => (
          <label key={layer}>
            <input
              type="checkbox"
              checked={!off.has(layer)}
              onChange={({ target }) => setOff(new Set(target.checked ? [...off].filter((one) => one !== layer) : [...off, layer]))}
            />
            {layer}
          </label>
        ))}
      </fieldset>
      <Acts isPossible={mm !== null && off.size < layers.length} onTake={take} onShut={onShut} />
    </>
  )
}

function Acts(props: { readonly isPossible: boolean; readonly onTake: () => void; readonly onShut: () => void }): ReactNode {
  return (
    <div className="acts">
      <button type="button" className="act is-main" disabled={!props.isPossible} onClick={props.onTake}>
        Take it in
      </button>
      <button type="button" className="act" onClick={props.onShut}>
        Leave it
      </button>
    </div>
  )
}
