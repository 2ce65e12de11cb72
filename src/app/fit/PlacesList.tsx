import { useState } from 'react'
import type { ReactNode } from 'react'
import { boxOfPoints } from '../../core/geom/index.ts'
import type { TraceResidual, TraceVerdict } from '../../core/alignment/index.ts'
import { lengthText } from '../../words/measure.ts'
import { offsetText } from '../../words/traceText.ts'
import { usePrefs, useStores } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import type { Keep } from '../fields/ValueField.tsx'
import { Act, Fields } from '../particulars/parts.tsx'
import { viewportShow } from '../viewportShow.ts'
import { surveyJudged, surveyMoved, surveyOnly, surveyWithout } from './survey.ts'
import type { Place, Survey } from './survey.ts'
import type { Fitted } from './useFit.ts'

type Change = (to: (now: Survey) => Survey) => void

/** Rows shown at first, and at each wish for more. */
const rowsShown = 40

/** Every measured place with its offset from the line; each can be left out, made to count, mended or taken out. */
export function PlacesList(props: { readonly survey: Survey; readonly fitted: Fitted | null; readonly change: Change }): ReactNode {
  const { survey, fitted, change } = props
  const stores = useStores()
  const [order, setOrder] = useState<'worst' | 'given'>('worst')
  const [shown, setShown] = useState(rowsShown)
  const { places, verdicts, pointed } = survey
  // Offsets of other places would stand at the wrong rows.
  const residuals = fitted?.answer.ok === true && fitted.places === places ? fitted.answer.trace.residuals : null
  const indices =
    order === 'given' || residuals === null
      ? [...places.keys()]
      : residuals.toSorted((a, b) => Math.abs(b.offsetMm) - Math.abs(a.offsetMm)).map(({ index }) => index)
  const listed =
    pointed === null || indices.slice(0, shown).includes(pointed) ? indices.slice(0, shown) : [pointed, ...indices.slice(0, shown)]

  function point(index: number, place: Place): void {
    change((now) => ({ ...now, pointed: now.pointed === index ? null : index }))
    viewportShow(stores, boxOfPoints([place]))
  }

  return (
    <Fields title={places.length === 1 ? 'One point' : `${places.length} points`}>
      {places.length < 3 ? null : (
        <ChoiceField
          label="Listed"
          value={order}
          choices={[
            { value: 'worst', text: 'worst first' },
            { value: 'given', text: 'in order' },
          ]}
          onChoose={setOrder}
        />
      )}
      <ul className="places">
        {listed.map((index) => {
          const place = places[index]
          return place === undefined ? null : (
            <PlaceRow
              key={index}
              index={index}
              place={place}
              residual={residuals?.[index] ?? null}
              verdict={verdicts.get(index) ?? null}
              isPointed={index === pointed}
              onPoint={() => point(index, place)}
              change={change}
            />
          )
        })}
      </ul>
      {shown >= places.length ? null : (
        <button type="button" className="word" onClick={() => setShown(shown + rowsShown)}>
          Show {Math.min(rowsShown, places.length - shown)} more of {places.length}
        </button>
      )}
      <div className="acts">
        {verdicts.size === 0 ? null : (
          <Act onClick={() => change((now) => ({ ...now, verdicts: new Map() }))}>Let the fit decide on all</Act>
        )}
        <Act onClick={() => change((now) => surveyOnly(now, []))}>Clear all points</Act>
      </div>
    </Fields>
  )
}

interface RowProps {
  readonly index: number
  readonly place: Place
  readonly residual: TraceResidual | null
  readonly verdict: TraceVerdict | null
  readonly isPointed: boolean
  readonly onPoint: () => void
  readonly change: Change
}

function PlaceRow({ index, place, residual, verdict, isPointed, onPoint, change }: RowProps): ReactNode {
  const prefs = usePrefs((state) => state)
  const number = index + 1
  const counts = verdict === 'counts' || (verdict === null && residual?.isOutlier !== true)
  const keep = (to: (value: number) => { readonly x: number; readonly y: number }): Keep<number> =>
    keepIn((value) => change((now) => surveyMoved(now, index, to(value))))
  return (
    <li data-counts={counts} aria-current={isPointed ? 'true' : undefined}>
      <input
        type="checkbox"
        aria-label={`Point ${number} counts`}
        title={counts ? 'Leave this point out' : 'Let this point count'}
        checked={counts}
        onChange={() => change((now) => surveyJudged(now, index, counts ? 'leftOut' : 'counts'))}
      />
      <button type="button" aria-expanded={isPointed} onClick={onPoint}>
        <span className="place-number">{number}</span>
        <span className="place-offset">{residual === null ? placeText(place, prefs) : offsetText(residual.offsetMm, prefs)}</span>
        <span className="place-note">{noteOf(residual, verdict)}</span>
      </button>
      <button
        type="button"
        className="place-out"
        aria-label={`Take point ${number} out`}
        title="Take this point out"
        onClick={() => change((now) => surveyWithout(now, index))}
      >
        −
      </button>
      {isPointed ? (
        <div className="place-fields">
          <LengthField label="Right" kind="room" range="any" value={place.x} keep={keep((x) => ({ x, y: place.y }))} />
          <LengthField
            label="Up"
            kind="room"
            range="any"
            value={place.y}
            origin={place.line === null ? null : `line ${place.line}`}
            keep={keep((y) => ({ x: place.x, y }))}
          />
        </div>
      ) : null}
    </li>
  )
}

const placeText = ({ x, y }: Place, prefs: Parameters<typeof lengthText>[1]): string =>
  `${lengthText(x, prefs, 'room')}, ${lengthText(y, prefs, 'room')}`

function noteOf(residual: TraceResidual | null, verdict: TraceVerdict | null): string {
  if (verdict === 'leftOut') return 'left out'
  if (verdict === 'counts') return 'held to'
  return residual?.isOutlier === true ? 'too far off' : ''
}
