import type { ReactNode } from 'react'
import { pointsOrder } from '../../core/alignment/index.ts'
import type { TraceProblem, TraceSolution } from '../../core/alignment/index.ts'
import { planNextId } from '../../core/plan/index.ts'
import type { CurveElement } from '../../core/geom/types.ts'
import type { LineClass, Plan } from '../../core/plan/types.ts'
import { nextName } from '../../tools/index.ts'
import { fineText, lengthText } from '../../words/measure.ts'
import { offsetText, pieceText, traceProblemText, traceShortText } from '../../words/traceText.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { ChoiceField, FactRow } from '../fields/ValueField.tsx'
import { traverseTrack } from '../lineActs/parallelAsk.ts'
import { Act, Fields } from '../particulars/parts.tsx'
import { planEdit } from '../planEdit.ts'
import { surveyOnly } from './survey.ts'
import type { Survey } from './survey.ts'
import type { Fit, Fitted } from './useFit.ts'

type Change = (to: (now: Survey) => Survey) => void

interface OutcomeProps {
  readonly survey: Survey
  readonly fit: Fit
  readonly change: Change
  readonly onShut: () => void
}

/** What came of the fit: how far it is, or the line and how the places lie to it, or why there is none. */
export function FitOutcome({ survey, fit, change, onShut }: OutcomeProps): ReactNode {
  const { fitted, running, failed } = fit
  const prefs = usePrefs((state) => state)
  return (
    <section aria-label="Fitted line" className={running === null ? undefined : 'is-of-before'}>
      {running === null ? null : (
        <div className="fit-run" role="status">
          <progress aria-label="Fitting" />
          <p>
            {running.progress === null
              ? 'Looking at the points.'
              : `${curves(running.progress.corners)} tried, worst ${fineText(running.progress.worstMm, prefs)} so far`}
          </p>
          <Act onClick={fit.stop}>Stop with the best so far</Act>
        </div>
      )}
      {failed === null ? null : (
        <div className="problems" role="alert">
          <p>{failed}</p>
          <Act onClick={fit.again}>Try again</Act>
        </div>
      )}
      {fitted === null ? null : fitted.answer.ok ? (
        <Line trace={fitted.answer.trace} survey={survey} fit={fit} change={change} onShut={onShut} />
      ) : running === null ? (
        <Trouble problem={fitted.answer.problem} fitted={fitted} change={change} />
      ) : null}
    </section>
  )
}

const curves = (count: number): string => (count === 1 ? '1 curve' : `${count} curves`)

/** Why there is no line, on which line of the list it shows, and what can be done about it at once. */
function Trouble({
  problem,
  fitted,
  change,
}: {
  readonly problem: TraceProblem
  readonly fitted: Fitted
  readonly change: Change
}): ReactNode {
  const prefs = usePrefs((state) => state)
  const { places } = fitted
  if (problem.kind === 'tooFewPoints') return <p className="lead fit-lead">{traceProblemText(problem, prefs)}</p>
  const index = 'index' in problem ? problem.index : null
  const line = index === null ? null : (places[index]?.line ?? null)
  return (
    <div className="problems fit-trouble" role="status">
      <p>
        {traceProblemText(problem, prefs)}
        {line === null ? '' : ` It stood on line ${line} of the list.`}
      </p>
      {index === null ? null : <Act onClick={() => change((now) => ({ ...now, pointed: index }))}>Show point {index + 1}</Act>}
      {problem.kind === 'unordered' ? (
        <Act onClick={() => change((now) => surveyOnly(now, pointsOrder(now.places)))}>Put them in order</Act>
      ) : null}
      {problem.kind === 'tooManyPoints' ? (
        <Act onClick={() => change((now) => surveyOnly(now, everyNth(now.places.length, Math.ceil(problem.have / problem.most))))}>
          Keep one in {Math.ceil(problem.have / problem.most)}
        </Act>
      ) : null}
      {problem.kind === 'notClosed' ? <Act onClick={() => change((now) => ({ ...now, isClosed: false }))}>Take it as open</Act> : null}
    </div>
  )
}

const everyNth = (count: number, n: number): readonly number[] => Array.from({ length: Math.ceil(count / n) }, (_, i) => i * n)

function Line({ trace, survey, fit, change, onShut }: OutcomeProps & { readonly trace: TraceSolution }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const classes = usePlan((state) => state.plan.lineClasses)
  const lineClass = classes[survey.lineClass ?? ''] ?? classKept(classes, trace)
  const { traverse, path, worstMm, rmsMm, isWithin, residuals, ended } = trace
  const worst = residuals.find(({ offsetMm, isOutlier }) => !isOutlier && Math.abs(offsetMm) === worstMm)
  const isNow = fit.running === null
  const short = traceShortText(trace, survey.toleranceMm, prefs)

  function lay(asked: LineClass): void {
    const { plan } = stores.plan.getState()
    const id = planNextId(plan, 'tracks')
    const add = traverseTrack(traverse, asked.id, nextName('Track', Object.values(plan.tracks)))
    if (add?.kind !== 'track.add') return
    if (planEdit(stores, { ...add, record: { ...add.record, id } }).problem !== null) return
    onShut()
    stores.session.getState().select({ kind: 'record', table: 'tracks', id })
  }

  return (
    <>
      <Fields title="How the points lie to it">
        <FactRow
          label="Worst"
          value={fineText(worstMm, prefs)}
          origin={worst === undefined ? '' : `point ${worst.index + 1}`}
          isOver={!isWithin}
        />
        <FactRow label="Mean" value={fineText(rmsMm, prefs)} origin="r.m.s." />
        <FactRow label="Length" value={lengthText(path.lengthMm, prefs, 'room')} />
      </Fields>
      {short === null ? null : (
        <p className="problems fit-trouble" role="status">
          {short}
        </p>
      )}
      {ended === 'stopped' && isNow ? (
        <p className="soft small">
          Stopped before it settled.{' '}
          <button type="button" className="word" onClick={fit.again}>
            Go on
          </button>
        </p>
      ) : null}
      <Pieces trace={trace} lineClass={lineClass} />
      {lineClass === undefined ? (
        <p className="problems">A track needs a line class; the plan has none left.</p>
      ) : (
        <>
          <Fields>
            <ChoiceField
              label="Line class"
              value={lineClass.id}
              choices={Object.values(classes).map(({ id, name }) => ({ value: id, text: name }))}
              onChoose={(id) => change((now) => ({ ...now, lineClass: id }))}
            />
          </Fields>
          <div className="acts is-column">
            <Act isMain isDisabled={!isNow} onClick={() => lay(lineClass)}>
              Lay it as a track
            </Act>
          </div>
        </>
      )}
    </>
  )
}

/** The most demanding class that the line keeps; the least demanding where it keeps none. */
function classKept(classes: Plan['lineClasses'], { path }: TraceSolution): LineClass | undefined {
  const sharpest = Math.max(...path.elements.flatMap(({ k0, k1 }) => [Math.abs(k0), Math.abs(k1)]))
  const byRadius = Object.values(classes).toSorted((a, b) => b.minRadiusMm - a.minRadiusMm)
  return byRadius.find(({ minRadiusMm }) => minRadiusMm * sharpest <= 1 + SAME) ?? byRadius.at(-1)
}

/** The pieces of the line in their order; an arc sharper than the class allows is marked. */
function Pieces({ trace, lineClass }: { readonly trace: TraceSolution; readonly lineClass: LineClass | undefined }): ReactNode {
  const prefs = usePrefs((state) => state)
  const leastMm = lineClass?.minRadiusMm ?? 0
  return (
    <Fields title="Its pieces">
      <ol className="fit-pieces">
        {trace.path.elements.filter(isPiece).map((element) => {
          const { word, note } = pieceText(element, prefs)
          const sharpest = Math.max(Math.abs(element.k0), Math.abs(element.k1))
          const isSharp = element.k0 === element.k1 && sharpest * leastMm > 1 + SAME
          return (
            <li key={element.startStationMm} className={isSharp ? 'is-over' : undefined}>
              <span>{word}</span>
              <span className="fit-turn">{isSharp ? `class ≥ ${lengthText(leastMm, prefs)}` : note}</span>
              <span className="fit-length">{lengthText(element.lengthMm, prefs, 'room')}</span>
            </li>
          )
        })}
      </ol>
      {trace.outliers.length === 0 ? null : (
        <p className="soft small fit-strays">
          {trace.outliers.length === 1 ? 'One point lies' : `${trace.outliers.length} points lie`} so far off that the line was not drawn to{' '}
          {trace.outliers.length === 1 ? 'it' : 'them'}: {strays(trace, prefs)}.
        </p>
      )}
    </Fields>
  )
}

/** Where a curve begins at the very first point, the tangent before it is only rounding. */
const isPiece = ({ lengthMm }: CurveElement): boolean => lengthMm > 0.01

/** A radius at the limit of its class is not under it for rounding. */
const SAME = 1e-9

/** Strays named one by one; more are a number. */
const straysNamed = 4

function strays({ outliers, residuals }: TraceSolution, prefs: Parameters<typeof offsetText>[1]): string {
  const named = outliers.slice(0, straysNamed).map((index) => `${index + 1} (${offsetText(residuals[index]?.offsetMm ?? 0, prefs)})`)
  return outliers.length > straysNamed ? `${named.join(', ')} and ${outliers.length - straysNamed} more` : named.join(', ')
}
