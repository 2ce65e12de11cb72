import type { ReactNode } from 'react'
import type { ToolOffer } from '../../tools/index.ts'
import { readingWords } from '../../words/readingText.ts'
import { useCanvas } from '../canvas/canvasContext.ts'
import { EndPair } from '../canvas/EndPair.tsx'

type Kind = Extract<ToolOffer, { kind: 'measure' }>['of']

const kinds = Object.entries(readingWords) as readonly (readonly [Kind, (typeof readingWords)[Kind]])[]

/** What is measured, and whether it is pinned. */
export default function MeasureStrip({ offer }: { readonly offer: Extract<ToolOffer, { kind: 'measure' }> }): ReactNode {
  const { host } = useCanvas()
  return (
    <div className="tool-strip is-row" data-own-pointer="" role="toolbar" aria-label="Measuring">
      <div className="choice" role="radiogroup" aria-label="What is measured, key M">
        {kinds.map(([kind, { word, about }]) => (
          <button
            key={kind}
            type="button"
            role="radio"
            aria-checked={kind === offer.of}
            title={about}
            onClick={() => host.send({ kind: 'option', change: { kind: 'measure', of: kind } })}
          >
            {word}
          </button>
        ))}
      </div>
      <span className="soft small">{offer.isDone ? 'Kept, it is pinned.' : readingWords[offer.of].how}</span>
      <EndPair tool="measure" isAny={offer.places > 0} canKeep={offer.isDone} />
    </div>
  )
}
