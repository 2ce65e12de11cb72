import { useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { frogsThere } from '../../core/network/index.ts'
import type { FrogThere } from '../../core/network/index.ts'
import type { Id } from '../../core/plan/types.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { LengthField } from '../fields/fields.tsx'
import { planEdit } from '../planEdit.ts'
import { frogText, lengthText } from '../../words/measure.ts'
import { placementProblemText } from '../../words/problemText.ts'
import { Act, Fields } from './parts.tsx'

/** Every usual frog number at this place: what radius and length it gives, and what a parallel track would take from it. */
export function WhatFits({ id }: { readonly id: Id }): ReactNode {
  const [isOpen, setOpen] = useState(false)
  return isOpen ? <FitsTable id={id} /> : <Act onClick={() => setOpen(true)}>What fits here</Act>
}

function FitsTable({ id }: { readonly id: Id }): ReactNode {
  const stores = useStores()
  const prefs = usePrefs((state) => state)
  const turnout = usePlan((state) => state.plan.turnouts[id])
  const host = useDerived((state) => (turnout === undefined ? undefined : state.derived.network.tracks.get(turnout.track)))
  const [centresMm, setCentres] = useState<number | null>(null)
  const asked = centresMm ?? host?.lineClass.trackCentresMm ?? null
  const rows = useMemo(
    () =>
      turnout === undefined || host === undefined || asked === null
        ? []
        : frogsThere(turnout, host, { centresMm: asked, radiusMm: host.lineClass.usualRadiusMm }),
    [turnout, host, asked],
  )
  if (turnout === undefined || host === undefined || asked === null) return null
  const least = host.lineClass.minRadiusMm
  return (
    <section className="what-fits">
      <Fields title="What fits here">
        <LengthField
          label="Parallel at"
          value={asked}
          origin="centres"
          keep={{
            commit: (mm) => {
              setCentres(mm)
              return null
            },
          }}
        />
      </Fields>
      <table className="fit-rows" aria-label="Frog numbers that fit here">
        <thead>
          <tr>
            <th scope="col">Frog</th>
            <th scope="col">Sharpest</th>
            <th scope="col">Over all</th>
            <th scope="col">To parallel</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <FitRow
              key={row.frog}
              row={row}
              isChosen={row.frog === turnout.frog}
              leastRadiusMm={least}
              lengthOf={(mm) => lengthText(mm, prefs)}
              problemOf={(problem) => placementProblemText(problem, prefs)}
              onChoose={() => planEdit(stores, { kind: 'turnout.set', id, change: { frog: row.frog } })}
            />
          ))}
        </tbody>
      </table>
    </section>
  )
}

interface FitRowProps {
  readonly row: FrogThere
  readonly isChosen: boolean
  readonly leastRadiusMm: number
  readonly lengthOf: (mm: number) => string
  readonly problemOf: (problem: Extract<FrogThere['result'], { ok: false }>['problem']) => string
  readonly onChoose: () => void
}

function FitRow({ row, isChosen, leastRadiusMm, lengthOf, problemOf, onChoose }: FitRowProps): ReactNode {
  const { frog, result, parallel } = row
  const number = (
    <th scope="row">
      <button type="button" aria-pressed={isChosen} disabled={!result.ok} onClick={onChoose}>
        {frogText(frog)}
      </button>
    </th>
  )
  if (!result.ok) {
    return (
      <tr>
        {number}
        <td colSpan={3} className="is-misfit">
          {problemOf(result.problem)}
        </td>
      </tr>
    )
  }
  const { divergences, overallMm } = result.geometry
  const radiusMm = Math.min(...divergences.map((one) => one.radiusMm))
  return (
    <tr className={isChosen ? 'is-chosen' : undefined}>
      {number}
      <td className={radiusMm < leastRadiusMm ? 'is-over' : undefined}>R {lengthOf(radiusMm)}</td>
      <td>{lengthOf(overallMm)}</td>
      <td>{parallel === null ? '–' : `${lengthOf(parallel.lengthMm)}, R ${lengthOf(parallel.radiusMm)}`}</td>
    </tr>
  )
}
