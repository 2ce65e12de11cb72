import type { ReactNode } from 'react'
import { jigFields, jigValue, printerFields, printerProblems } from '../../core/jigs/index.ts'
import type { JigField, JigProblem, JigRequest, Printer } from '../../core/jigs/index.ts'
import { jigProblemText, jigValueNames } from '../../words/jigText.ts'
import { usePrefs } from '../context.ts'
import { AngleField, LengthField, NumberField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import type { Keep } from '../fields/ValueField.tsx'

/** The numbers of a jig. A number that will not do stays where it was typed; what would do is told beside the drawing. */
export function JigFields(props: {
  readonly request: JigRequest
  readonly typed: ReadonlyMap<string, number>
  readonly problems: readonly JigProblem[]
  readonly onType: (name: string, value: number) => void
  readonly onUsual: () => void
}): ReactNode {
  const { request, typed, problems, onType, onUsual } = props
  const fields: readonly JigField[] = jigFields[request.kind]
  return (
    <>
      <div className="fields">
        {fields.map((field) => (
          <JigNumber
            key={field.name}
            field={field}
            value={jigValue(request, field.name)}
            isOver={isNamed(problems, field)}
            origin={originOf(field, jigValue(request, field.name), typed.has(field.name))}
            keep={keepIn((value) => onType(field.name, value))}
          />
        ))}
      </div>
      {typed.size === 0 ? null : (
        <button type="button" className="word" onClick={onUsual}>
          Back to the usual numbers
        </button>
      )}
    </>
  )
}

/** What the printer can do; kept for the next jig. */
export function PrinterFields({ problems }: { readonly problems: readonly JigProblem[] }): ReactNode {
  const prefs = usePrefs((state) => state)
  const { printer, setPrefs } = prefs
  function take(change: Partial<Printer>): string | null {
    const next = { ...printer, ...change }
    const [problem] = printerProblems(next)
    if (problem !== undefined) return jigProblemText(problem, prefs)
    setPrefs({ printer: next })
    return null
  }
  return (
    <section aria-label="Printer">
      <h3>Printer</h3>
      <div className="fields">
        {printerFields.map((field) => (
          <JigNumber
            key={field.name}
            field={field}
            value={printer[field.name]}
            isOver={isNamed(problems, field)}
            origin={null}
            keep={{ commit: (value) => take({ [field.name]: value }) }}
          />
        ))}
      </div>
    </section>
  )
}

function originOf({ name, canBeNone }: JigField, value: number, isTyped: boolean): string | null {
  if (canBeNone && value === 0) return name === 'radiusMm' ? 'straight' : 'none'
  return isTyped ? null : 'as usual'
}

const isNamed = (problems: readonly JigProblem[], { name }: JigField): boolean =>
  problems.some((problem) => problem.kind === 'badValue' && problem.where === name)

function JigNumber(props: {
  readonly field: JigField
  readonly value: number
  readonly isOver: boolean
  readonly origin: ReactNode
  readonly keep: Keep<number>
}): ReactNode {
  const { field, ...rest } = props
  const common = { ...rest, label: jigValueNames[field.name] }
  switch (field.measure) {
    case 'shop':
    case 'fine':
      return <LengthField {...common} kind={field.measure} range={field.canBeNone ? 'zeroUp' : 'positive'} />
    case 'mm':
      return <LengthField {...common} kind="bar" range={field.canBeNone ? 'zeroUp' : 'positive'} />
    case 'angle':
      return <AngleField {...common} />
    case 'number':
      return <NumberField {...common} decimals={3} min={0} stepBy={0.25} />
    case 'frog':
      return <NumberField {...common} decimals={2} min={1} />
  }
}
