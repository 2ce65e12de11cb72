import { useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import type { PlanCommand } from '../../core/edit/types.ts'
import { outlinesTakeIn, outlineUses } from '../../formats/intake/outlines.ts'
import type { OutlineUseKind } from '../../formats/intake/outlines.ts'
import { drawingUnits, foreignRead } from '../../formats/intake/read.ts'
import type { DrawingUnit } from '../../formats/intake/read.ts'
import { linesTakeIn } from '../../formats/intake/tracks.ts'
import type { LineIn } from '../../formats/line/types.ts'
import type { DrawingResult } from '../../formats/outline/types.ts'
import { drawingProblemText, lineFileProblemText, lineLeftOutText, outlinesLeftOutTexts } from '../../words/exchangeText.ts'
import { pointFaultText } from '../../words/pointsText.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import type { Incoming } from '../desk.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { planBoxNow } from '../planBox.ts'
import { viewportFit } from '../viewportShow.ts'

/** Of outlines on a layer that is looked at as part of a room. */
const usualMost = 40

type Drawing = Extract<DrawingResult, { ok: true }>

type Unit = DrawingUnit | 'asked'
const unitChoices = drawingUnits.map(({ unit, words }) => ({ value: unit, text: words }))

const useTexts: { readonly [U in OutlineUseKind]: string } = {
  benchwork: 'benchwork',
  wall: 'walls',
  obstacle: 'obstacles',
  track: 'tracks, their corners here',
}
const uses = outlineUses.map((value) => ({ value, text: useTexts[value] }))

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
  const read = useMemo(() => foreignRead(incoming.text, incoming.name), [incoming])
  if (!read.result.ok) {
    const says = read.kind === 'lines' ? lineFileProblemText(read.result.problem) : drawingProblemText(read.result.problem)
    return (
      <>
        <p role="alert">{says} The plan is untouched.</p>
        {read.kind === 'lines' ? null : <Notes notes={read.faults.slice(0, faultsShown).map(pointFaultText)} />}
        <div className="acts">
          <button type="button" className="act" onClick={onShut}>
            Shut
          </button>
        </div>
      </>
    )
  }
  return read.kind === 'lines' ? (
    <TakeLines lines={read.result.lines} onShut={onShut} />
  ) : (
    <TakeOutlines drawing={read.result} notes={read.faults.map(pointFaultText)} name={incoming.name} onShut={onShut} />
  )
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
    const { commands, refused } = linesTakeIn(lines, lineClass, size === 'model' ? 1 : 1 / ratio)
    const notes = refused.map((line) => lineLeftOutText(line, prefs))
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

interface OutlinesProps {
  readonly drawing: Drawing
  /** What of the file could not be read. */
  readonly notes: readonly string[]
  readonly name: string
  readonly onShut: () => void
}

function TakeOutlines(props: OutlinesProps): ReactNode {
  const { drawing, notes, onShut } = props
  const lineClass = usePlan((state) => Object.keys(state.plan.lineClasses)[0])
  const takeIn = useTakeIn(onShut)
  const layers = [...new Set(drawing.outlines.map(({ layer }) => layer))]
  const [unit, setUnit] = useState<Unit>('asked')
  const [use, setUse] = useState<OutlineUseKind>('benchwork')
  // A room has few outlines on a layer; hundreds are ties, furniture, hatching.
  const [off, setOff] = useState<ReadonlySet<string>>(
    () => new Set(layers.filter((layer) => drawing.outlines.filter((outline) => outline.layer === layer).length > usualMost)),
  )
  const mm = drawingUnits.find((known) => known.unit === unit)?.mm ?? drawing.unitMm
  const known = drawingUnits.find((one) => one.mm === drawing.unitMm)

  function take(): void {
    const outlineUse = use !== 'track' ? { kind: use } : lineClass === undefined ? null : { kind: use, lineClass }
    if (mm === null || outlineUse === null) return
    const { commands, open } = outlinesTakeIn(
      drawing.outlines.filter(({ layer }) => !off.has(layer)),
      mm,
      outlineUse,
    )
    takeIn(`Take in ${props.name}`, commands, [...outlinesLeftOutTexts(open, drawing.leftOut), ...notes])
  }

  return (
    <>
      <p>
        {drawing.outlines.length === 1 ? 'One line or outline' : `${drawing.outlines.length} lines and outlines`}.{' '}
        {drawing.unitMm === null ? 'The drawing does not say in what unit it measures; you have to.' : 'The drawing says its unit.'}
      </p>
      <div className="fields">
        <ChoiceField<Unit>
          label="Unit"
          value={unit}
          choices={[
            { value: 'asked', text: drawing.unitMm === null ? 'choose one' : `as it says: ${known?.words ?? `${drawing.unitMm} mm`}` },
            ...unitChoices,
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
      <Notes notes={notes} />
      <Acts
        isPossible={mm !== null && off.size < layers.length && (use !== 'track' || lineClass !== undefined)}
        onTake={take}
        onShut={onShut}
      />
    </>
  )
}

/** Rows of a list that are told when nothing could be made of it: a file of something else has thousands. */
const faultsShown = 4

function Notes({ notes }: { readonly notes: readonly string[] }): ReactNode {
  return notes.length === 0 ? null : (
    <ul className="problems">
      {notes.map((note) => (
        <li key={note}>{note}</li>
      ))}
    </ul>
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
