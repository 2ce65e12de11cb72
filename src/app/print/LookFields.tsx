import type { ReactNode } from 'react'
import { layerChoices, lookUsual } from '../../core/deliver/index.ts'
import type { SheetLook } from '../../core/deliver/types.ts'
import { useDesk } from '../desk.ts'
import { ChoiceField } from '../fields/ValueField.tsx'

/** What is on the sheets, and how they look. In the PDF each layer can be hidden as well, where the viewer shows layers. */
export function LookFields(): ReactNode {
  const look = useDesk((desk) => desk.sheetLook) ?? lookUsual
  const setDesk = useDesk((desk) => desk.set)
  const set = (change: Partial<SheetLook>): void => setDesk({ sheetLook: { ...look, ...change } })
  return (
    <details className="sheet-look">
      <summary>What is drawn, and how</summary>
      <div className="acts">
        <button type="button" className="act" onClick={() => set({ without: lookUsual.without })}>
          As usual
        </button>
        <button type="button" className="act" onClick={() => set({ without: [] })}>
          All of it
        </button>
        <button type="button" className="act" onClick={() => set({ without: layerChoices.map(({ name }) => name) })}>
          Nothing but the frame
        </button>
      </div>
      <ul className="ticks">
        {layerChoices.map(({ name: layer, title }) => (
          <li key={layer}>
            <label>
              <input
                type="checkbox"
                checked={!look.without.includes(layer)}
                onChange={(event) =>
                  set({ without: event.currentTarget.checked ? look.without.filter((one) => one !== layer) : [...look.without, layer] })
                }
              />
              {title}
            </label>
          </li>
        ))}
      </ul>
      <div className="fields">
        <ChoiceField<SheetLook['lines']>
          label="Lines"
          value={look.lines}
          choices={[
            { value: 'hairline', text: 'hairline, 0.1 mm' },
            { value: 'usual', text: 'as usual' },
            { value: 'bold', text: 'bold, to be seen from afar' },
          ]}
          onChoose={(lines) => set({ lines })}
        />
        <ChoiceField<SheetLook['ink']>
          label="Ink"
          value={look.ink}
          choices={[
            { value: 'black', text: 'black' },
            { value: 'grey', text: 'grey, to glue ties on' },
          ]}
          onChoose={(ink) => set({ ink })}
        />
        <ChoiceField<'right' | 'mirror'>
          label="Way round"
          value={look.isMirrored ? 'mirror' : 'right'}
          choices={[
            { value: 'right', text: 'as it lies on the bench' },
            { value: 'mirror', text: 'mirror image, for tape' },
          ]}
          onChoose={(way) => set({ isMirrored: way === 'mirror' })}
        />
      </div>
    </details>
  )
}
