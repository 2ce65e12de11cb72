import type { ReactNode } from 'react'
import type { JigResult } from '../../core/jigs/index.ts'
import { jigCautionText, jigFactText, jigProblemText, jigSizeText } from '../../words/jigText.ts'
import { numberText } from '../../words/measure.ts'
import { usePrefs } from '../context.ts'
import { JigDrawing } from './JigDrawing.tsx'
import { JigPicture } from './JigPicture.tsx'
import type { Solids } from './useSolids.ts'

const mm3PerCm3 = 1000
const mm3PerIn3 = 25.4 ** 3

/** A jig as it will be: from above with its measures, as it comes off the bed, and what follows from its numbers; or what will not do. */
export function JigView({ result, solids }: { readonly result: JigResult | null; readonly solids: Solids }): ReactNode {
  const prefs = usePrefs((state) => state)
  if (result === null) return null
  if (!result.ok) {
    return (
      <div className="jig-none" role="alert">
        {result.problems.map((problem) => (
          <p key={JSON.stringify(problem)}>{jigProblemText(problem, prefs)}</p>
        ))}
      </div>
    )
  }
  const { jig } = result
  const volume = solids.kind === 'made' ? solids.pieces.reduce((sum, { volumeMm3 }) => sum + volumeMm3, 0) : null
  const facts: readonly (readonly [string, string])[] = [
    ['Size', jigSizeText(jig, prefs)],
    ...jig.facts.map((fact) => jigFactText(fact, prefs)),
    ...(volume === null
      ? []
      : [
          [
            'Plastic, filled solid',
            prefs.units === 'metric' ? `${numberText(volume / mm3PerCm3, 1)} cm³` : `${numberText(volume / mm3PerIn3, 2)} cu in`,
          ] as const,
        ]),
  ]
  return (
    <>
      <JigDrawing jig={jig} />
      <JigPicture solids={solids} />
      <dl className="jig-facts">
        {facts.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <p className="small soft">{jigCautionText(jig.kind, jig.flatAtMm !== null)}</p>
    </>
  )
}
