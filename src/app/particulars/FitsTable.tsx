import { useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { frogsThere } from '../../core/network/index.ts'
import type { FrogThere } from '../../core/network/index.ts'
import { joinLimits, openEnds } from '../../core/pipeline/index.ts'
import type { Id } from '../../core/plan/types.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { CsvAct } from '../file/CsvAct.tsx'
import { joinKey, joinToText } from '../lineActs/joinEnds.ts'
import { planEdit } from '../planEdit.ts'
import { frogText, lengthText } from '../../words/measure.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { placementProblemText } from '../../words/problemText.ts'
import { Fields } from './parts.tsx'

/** Every usual frog number at this place: what radius and length it gives, and what a parallel track or a line to an open end would take from it. */
export default function FitsTable({ id }: { readonly id: Id }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const plan = usePlan((state) => state.plan)
  const turnout = plan.turnouts[id]
  const network = useDerived((state) => state.derived.network)
  const host = turnout === undefined ? undefined : network.tracks.get(turnout.track)
  const [centresMm, setCentres] = useState<number | null>(null)
  const [toKey, setTo] = useState('')
  const asked = centresMm ?? host?.lineClass.trackCentresMm ?? null
  const ends = useMemo(() => openEnds(network).filter(({ end }) => end.kind !== 'leg' || end.turnout !== id), [network, id])
  const to = ends.find(({ end }) => joinKey(end) === toKey) ?? null
  const rows = useMemo(() => {
    if (turnout === undefined || host === undefined || asked === null) return []
    const limits = joinLimits(network.plan, host.lineClass, { tangentMm: null, shortestMm: null })
    return frogsThere(
      turnout,
      host,
      { centresMm: asked, radiusMm: host.lineClass.usualRadiusMm },
      to === null ? null : { pose: to.pose, limits },
    )
  }, [turnout, host, asked, network, to])
  if (turnout === undefined || host === undefined || asked === null) return null
  const least = host.lineClass.minRadiusMm
  const heads = ['Frog', 'Sharpest', 'Over all', 'To parallel', ...(to === null ? [] : ['To the end'])]
  const textsOf = (row: FrogThere): readonly string[] => fitTexts(row, to !== null, prefs)
  return (
    <section className="what-fits">
      <Fields title="What fits here">
        <LengthField label="Parallel at" value={asked} origin="centres" keep={keepIn(setCentres)} />
        {ends.length === 0 ? null : (
          <ChoiceField
            label="Leg to reach"
            value={to === null ? '' : toKey}
            choices={[{ value: '', text: 'nothing' }, ...ends.map(({ end }) => ({ value: joinKey(end), text: joinToText(end, plan) }))]}
            onChoose={setTo}
          />
        )}
      </Fields>
      <table className="fit-rows" aria-label="Frog numbers that fit here">
        <thead>
          <tr>
            {heads.map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <FitRow
              key={row.frog}
              row={row}
              isChosen={row.frog === turnout.frog}
              leastRadiusMm={least}
              texts={textsOf(row)}
              columns={heads.length - 1}
              onChoose={() => planEdit(stores, { kind: 'turnout.set', id, change: { frog: row.frog } })}
            />
          ))}
        </tbody>
      </table>
      {rows.some(({ parallel }) => parallel !== null && 'why' in parallel && parallel.why === 'host-bends') ? (
        <p className="fit-note">To parallel is told on straight track only; here the track bends under the turnout.</p>
      ) : null}
      {rows.some(({ parallel }) => parallel !== null && 'why' in parallel && parallel.why === 'too-near') ? (
        <p className="fit-note">Too near: the leg already stands farther from the track than the parallel would.</p>
      ) : null}
      <div className="acts is-column">
        <CsvAct of={`${id}-fits`} rows={() => [heads, ...rows.map((row) => [frogText(row.frog), ...textsOf(row)])]} />
      </div>
    </section>
  )
}

function parallelText(parallel: NonNullable<FrogThere['parallel']>, lengthOf: (mm: number) => string): string {
  if (!('why' in parallel)) return `${lengthOf(parallel.lengthMm)}, R ${lengthOf(parallel.radiusMm)}`
  return parallel.why === 'host-bends' ? '–' : 'too near'
}

/** What a frog number comes to, cell by cell; one that does not fit has one cell, that says why. */
function fitTexts({ result, parallel, reached }: FrogThere, isReaching: boolean, prefs: MeasurePrefs): readonly string[] {
  if (!result.ok) return [placementProblemText(result.problem, prefs)]
  const lengthOf = (mm: number): string => lengthText(mm, prefs)
  const toEnd =
    reached === null
      ? 'no line'
      : `${lengthOf(reached.lengthMm)}, ${reached.radiusMm === null ? 'straight' : `R ${lengthOf(reached.radiusMm)}`}`
  return [
    `R ${lengthOf(sharpestOf(result.geometry))}`,
    lengthOf(result.geometry.overallMm),
    parallel === null ? '–' : parallelText(parallel, lengthOf),
    ...(isReaching ? [toEnd] : []),
  ]
}

function sharpestOf({ divergences }: Extract<FrogThere['result'], { ok: true }>['geometry']): number {
  return Math.min(...divergences.map((one) => one.radiusMm))
}

interface FitRowProps {
  readonly row: FrogThere
  /** Of the cells behind the number. */
  readonly texts: readonly string[]
  readonly columns: number
  readonly isChosen: boolean
  readonly leastRadiusMm: number
  readonly onChoose: () => void
}

function FitRow({ row, texts, columns, isChosen, leastRadiusMm, onChoose }: FitRowProps): ReactNode {
  const { frog, result, reached } = row
  const number = (
    <th scope="row">
      <button type="button" aria-pressed={isChosen} disabled={!result.ok} onClick={onChoose}>
        {frogText(frog)}
      </button>
    </th>
  )
  const [sharpest, overall, toParallel, toEnd] = texts
  if (!result.ok) {
    return (
      <tr>
        {number}
        <td colSpan={columns} className="is-misfit">
          {sharpest}
        </td>
      </tr>
    )
  }
  return (
    <tr className={isChosen ? 'is-chosen' : undefined}>
      {number}
      <td className={sharpestOf(result.geometry) < leastRadiusMm ? 'is-over' : undefined}>{sharpest}</td>
      <td>{overall}</td>
      <td>{toParallel}</td>
      {toEnd === undefined ? null : <td className={reached === null || !reached.meetsLimits ? 'is-over' : undefined}>{toEnd}</td>}
    </tr>
  )
}
