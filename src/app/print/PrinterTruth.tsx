import type { ReactNode } from 'react'
import type { PaperPrinter } from '../../store/types.ts'
import { usePrefs } from '../context.ts'
import { LengthField, NameField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import { Act } from '../particulars/acts.tsx'

const isTrue: PaperPrinter = { bar100X: 100, bar100Y: 100 }

/** How true each printer is: what its bars measure is kept with its name, and its sheets make up for it. */
export function PrinterTruth(): ReactNode {
  const { paperPrinter: name, paperPrinters: kept, bar100X, bar100Y, setPrefs } = usePrefs((state) => state)
  const printers = { ...kept, [name]: { bar100X, bar100Y } }
  const choose = (next: string): void => setPrefs({ paperPrinter: next, paperPrinters: printers, ...(printers[next] ?? isTrue) })
  const measure = (change: Partial<PaperPrinter>): void => {
    const own = { bar100X, bar100Y, ...change }
    setPrefs({ ...own, paperPrinters: { ...printers, [name]: own } })
  }
  return (
    <section className="record-list">
      <h2>How true the printer is</h2>
      <p className="lead">
        Print one sheet and measure its check square first: a side that is far from 10 mm was fitted to the page. Then enter what the ruler
        says of the 100 mm bars. The sheets make up for it, and say so.
      </p>
      <div className="fields">
        <ChoiceField
          label="Printer"
          value={name}
          choices={Object.keys(printers).map((one) => ({ value: one, text: one }))}
          onChoose={choose}
        />
        <NameField
          label="Its name"
          value={name}
          keep={{
            commit: (typed) => {
              if (typed === name) return null
              if (printers[typed] !== undefined) return 'Another printer has this name already; two of a name cannot be told apart.'
              if (typed.length > 60) return 'A name of up to 60 letters belongs here.'
              const { [name]: own = isTrue, ...others } = printers
              setPrefs({ paperPrinter: typed, paperPrinters: { ...others, [typed]: own } })
              return null
            },
          }}
        />
        <BarField label="Bar along the short side" value={bar100X} onBar={(mm) => measure({ bar100X: mm })} />
        <BarField label="Bar along the long side" value={bar100Y} onBar={(mm) => measure({ bar100Y: mm })} />
      </div>
      <div className="acts">
        <Act onClick={() => choose(freeName(printers))}>Add a printer</Act>
        {Object.keys(kept).length < 2 ? null : (
          <Act
            onClick={() => {
              const { [name]: _gone, ...others } = printers
              const [next = 'Printer 1'] = Object.keys(others)
              setPrefs({ paperPrinter: next, paperPrinters: others, ...(others[next] ?? isTrue) })
            }}
          >
            Forget this printer
          </Act>
        )}
      </div>
    </section>
  )
}

function freeName(printers: { readonly [name: string]: PaperPrinter }): string {
  let number = Object.keys(printers).length + 1
  while (printers[`Printer ${number}`] !== undefined) number++
  return `Printer ${number}`
}

/** Off by more than this many mm is no printer out of true. */
const mostOffMm = 5

/** A bar is always 100 mm, whatever the units of the desk. */
function BarField({
  label,
  value,
  onBar,
}: {
  readonly label: string
  readonly value: number
  readonly onBar: (mm: number) => void
}): ReactNode {
  return (
    <LengthField
      label={label}
      kind="bar"
      value={value}
      origin={value === 100 ? 'true' : 'made up for'}
      keep={{
        commit: (mm) => {
          if (Math.abs(mm - 100) > mostOffMm)
            return 'A 100 mm bar that is off by more than a twentieth was printed to fit the page, or read wrong. Print again at 100 % and measure once more.'
          onBar(mm)
          return null
        },
      }}
    />
  )
}
