import type { ReactNode } from 'react'
import { cutProofText } from '../../words/railTables.ts'
import { lengthText } from '../../words/measure.ts'
import { recordName } from '../../words/names.ts'
import { usePrefs } from '../context.ts'
import { Stick } from './Stick.tsx'
import type { ListsNow } from './useLists.ts'

/** Every stick of rail that is cut, code by code, to scale. */
export function RailStrips({ lists }: { readonly lists: ListsNow }): ReactNode {
  const prefs = usePrefs((state) => state)
  return lists.lists.railCuts.map(({ code, stocks, result }) => {
    if (!result.ok) return null
    const { sticks } = result.plan
    const longestMm = Math.max(...sticks.map(({ lengthMm }) => lengthMm))
    return (
      <section key={code} className="cutting" aria-label={`Cutting strips of rail, code ${code}`}>
        <h3>Cutting strips, code {code}</h3>
        <p className="small">
          {cutProofText(result.plan, prefs)} Cut each stick from its left end; shorter than{' '}
          {lengthText(lists.plan.railway.laying.cutting.leastOffcutMm, prefs)} is waste.
        </p>
        <ol className="sticks">
          {sticks.map(({ stock, lengthMm, pieces, leftMm, isKept }, i) => (
            <Stick
              // The row is what a stick is called by; the pieces on it change with every cutting.
              key={`${i} ${pieces[0]?.id ?? ''}`}
              lists={lists}
              list="rail"
              title={`Stick ${i + 1} · ${recordName(lists.plan, 'stocks', stocks[stock] ?? '')}`}
              lengthMm={lengthMm}
              longestMm={longestMm}
              pieces={pieces}
              leftMm={leftMm}
              isKept={isKept}
            />
          ))}
        </ol>
      </section>
    )
  })
}

/** Every sheet of roadbed that is cut: its strips side by side, as long as they are, and what is left of its width. */
export function SheetStrips({ lists }: { readonly lists: ListsNow }): ReactNode {
  const prefs = usePrefs((state) => state)
  const { roadbedCut } = lists.lists
  if (!roadbedCut.ok) return null
  return roadbedCut.plan.sheets.map(({ stock, strips, leftWidthMm }, i) => {
    const of = lists.plan.stocks[stock]?.of
    const sheetMm = of?.kind === 'roadbed' ? of.lengthMm : Number.NaN
    return (
      <section key={`${i} ${stock}`} className="cutting" aria-label={`Cutting strips of sheet ${i + 1}`}>
        <h3>
          Sheet {i + 1} · {recordName(lists.plan, 'stocks', stock)}
        </h3>
        <p className="small">
          {strips.length} {strips.length === 1 ? 'strip' : 'strips'} along its length; {lengthText(leftWidthMm, prefs)} of its width is
          left.
        </p>
        <ol className="sticks">
          {strips.map(({ widthMm, acrossMm, pieces, leftMm, isKept }) => (
            <Stick
              key={acrossMm}
              lists={lists}
              list="roadbed"
              title={`${lengthText(widthMm, prefs)} wide, its edge at ${lengthText(acrossMm, prefs)}`}
              lengthMm={sheetMm}
              longestMm={sheetMm}
              pieces={pieces}
              leftMm={leftMm}
              isKept={isKept}
            />
          ))}
        </ol>
      </section>
    )
  })
}
