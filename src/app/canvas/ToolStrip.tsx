import { Suspense, lazy, useEffect } from 'react'
import type { ReactNode } from 'react'
import type { Facing, Hand } from '../../core/plan/types.ts'
import { frogNumberFormat, frogNumberParse } from '../../core/units/index.ts'
import { openingWord } from '../../tools/index.ts'
import type { ToolOffer } from '../../tools/index.ts'
import { usePlan, useSession } from '../context.ts'
import { useDesk } from '../desk.ts'
import { escapeTaken } from '../escapeTaken.ts'
import { upperFirst } from '../../words/names.ts'
import { frogRangeText, isFrogBuilt, turnoutKindChoices } from '../../words/turnoutText.ts'
import { useCanvas } from './canvasContext.ts'
import { EndPair } from './EndPair.tsx'

const MeasureStrip = lazy(() => import('../aids/MeasureStrip.tsx'))

/** The choices of the tool in hand, along the upper edge; without a keyboard also its ends. */
export function ToolStrip({ offer }: { readonly offer: Exclude<ToolOffer, { kind: 'none' }> }): ReactNode {
  switch (offer.kind) {
    case 'measure':
      return (
        <Suspense fallback={null}>
          <MeasureStrip offer={offer} />
        </Suspense>
      )
    case 'box':
      return <BoxStrip />
    case 'chain':
      return <ChainStrip offer={offer} />
    case 'survey':
      return <SurveyStrip points={offer.points} />
    case 'opening':
      return <OpeningStrip offer={offer} />
    case 'turnout':
      return <TurnoutStrip offer={offer} />
  }
}

function ChainStrip({ offer }: { readonly offer: Extract<ToolOffer, { kind: 'chain' }> }): ReactNode {
  const { host } = useCanvas()
  const lineClasses = usePlan((state) => state.plan.lineClasses)
  return (
    <div className="tool-strip" data-own-pointer="" role="toolbar" aria-label="Drawing">
      {offer.lineClass === null ? null : (
        <label>
          <span>Class</span>
          <select
            value={offer.lineClass}
            onChange={(event) => host.send({ kind: 'option', change: { kind: 'lineClass', lineClass: event.target.value } })}
          >
            {Object.values(lineClasses).map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        </label>
      )}
      <EndPair tool={host.view().tool} isAny={offer.points > 0} canKeep={offer.canEnd} />
      <BackOnePoint points={offer.points} />
    </div>
  )
}

/** Takes the last point back. So does undo, as long as one stands: the step before the drawing is not what is meant. */
function BackOnePoint({ points }: { readonly points: number }): ReactNode {
  const { host } = useCanvas()
  const setDesk = useDesk((desk) => desk.set)
  const isAny = points > 0
  useEffect(() => {
    if (!isAny) return undefined
    setDesk({ pointBack: () => host.send(backspace) })
    return () => setDesk({ pointBack: null })
  }, [isAny, host, setDesk])
  return (
    <button type="button" disabled={!isAny} onClick={() => host.send(backspace)}>
      Back one point
    </button>
  )
}

const backspace = { kind: 'key', key: 'Backspace', modifiers: { shift: false, alt: false } } as const

function BoxStrip(): ReactNode {
  const { host } = useCanvas()
  // A frame is no tool of the session: the desk would not know that there is something to put away.
  useEffect(() => escapeTaken(() => host.send({ kind: 'cancel' })), [host])
  return (
    <div className="tool-strip" data-own-pointer="" role="toolbar" aria-label="Choosing">
      <span>Draw a frame around what is to be chosen</span>
      <EndPair tool="select" isAny={false} canKeep={false} />
    </div>
  )
}

function SurveyStrip({ points }: { readonly points: number }): ReactNode {
  return (
    <div className="tool-strip" data-own-pointer="" role="toolbar" aria-label="Measured points">
      <EndPair tool="survey" isAny={points > 0} canKeep isKeptAnyway />
      <BackOnePoint points={points} />
    </div>
  )
}

function OpeningStrip({ offer }: { readonly offer: Extract<ToolOffer, { kind: 'opening' }> }): ReactNode {
  const { host } = useCanvas()
  return (
    <div className="tool-strip" data-own-pointer="" role="toolbar" aria-label="Opening in a wall">
      <Choice
        label="Kind, key K"
        options={openingKinds}
        value={offer.of}
        onChoose={(of) => host.send({ kind: 'option', change: { kind: 'leaf', of } })}
      />
      {offer.of === 'door' ? (
        <Choice
          label="Hinge, key H"
          options={hinges}
          value={offer.hinge}
          onChoose={(hinge) => host.send({ kind: 'option', change: { kind: 'hinge', hinge } })}
        />
      ) : null}
      <EndPair tool="opening" isAny={false} canKeep={false} />
    </div>
  )
}

const openingKinds = (['door', 'passage', 'window'] as const).map((of) => [of, openingWord[of]] as const)
const hinges: readonly (readonly ['from' | 'to', string])[] = [
  ['from', 'Hinged at its start'],
  ['to', 'At its end'],
]

const kinds = turnoutKindChoices.map(({ value, text }) => [value, upperFirst(text)] as const)
const hands: readonly (readonly [Hand, string])[] = [
  ['left', 'Left'],
  ['right', 'Right'],
]
const facings: readonly (readonly [Facing, string])[] = [
  ['rising', 'Facing on'],
  ['falling', 'Facing back'],
]

function TurnoutStrip({ offer }: { readonly offer: Extract<ToolOffer, { kind: 'turnout' }> }): ReactNode {
  const { host } = useCanvas()
  const setNotice = useSession((session) => session.setNotice)
  const isTaken = (typed: string): boolean => {
    if (typed === '' || (offer.frog !== null && typed === frogNumberFormat(offer.frog))) return true
    const frog = frogNumberParse(typed)
    if (frog.ok ? !isFrogBuilt(frog.frog) : frog.problem.kind === 'outOfRange') {
      setNotice(frogRangeText)
      return false
    }
    host.send(frog.ok ? { kind: 'option', change: { kind: 'frog', frog: frog.frog } } : { kind: 'entry', text: typed })
    return true
  }
  return (
    <div className="tool-strip" data-own-pointer="" role="toolbar" aria-label="Turnout">
      <Choice
        label="Kind, key K"
        options={kinds}
        value={offer.of}
        onChoose={(of) => host.send({ kind: 'option', change: { kind: 'kind', of } })}
      />
      <Choice
        label="Hand, key H"
        options={hands}
        value={offer.hand}
        onChoose={(hand) => host.send({ kind: 'option', change: { kind: 'hand', hand } })}
      />
      <Choice
        label="Facing, key F"
        options={facings}
        value={offer.facing}
        onChoose={(facing) => host.send({ kind: 'option', change: { kind: 'facing', facing } })}
      />
      <label>
        <span>Frog No.</span>
        <input
          key={offer.frog ?? 'class'}
          size={6}
          defaultValue={offer.frog === null ? '' : frogNumberFormat(offer.frog)}
          placeholder="by class"
          onBlur={({ target }) => {
            if (!isTaken(target.value.trim())) target.value = target.defaultValue
          }}
          onKeyDown={({ key, currentTarget: field }) => {
            if (key !== 'Enter') return
            // What was refused stays to be mended where it was typed.
            if (isTaken(field.value.trim())) field.blur()
            else field.select()
          }}
        />
      </label>
      <EndPair tool="turnout" isAny={false} canKeep={false} />
    </div>
  )
}

interface ChoiceProps<V extends string> {
  readonly label: string
  readonly options: readonly (readonly [V, string])[]
  readonly value: V
  readonly onChoose: (value: V) => void
}

function Choice<V extends string>({ label, options, value, onChoose }: ChoiceProps<V>): ReactNode {
  return (
    <div className="choice" role="radiogroup" aria-label={label} title={label}>
      {options.map(([option, word]) => (
        <button key={option} type="button" role="radio" aria-checked={option === value} onClick={() => onChoose(option)}>
          {word}
        </button>
      ))}
    </div>
  )
}
