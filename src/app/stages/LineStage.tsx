import { lazy, Suspense, useState } from 'react'
import type { ReactNode } from 'react'
import { planRecords } from '../../core/plan/index.ts'
import { AidsListed } from '../aids/AidsListed.tsx'
import { useDerivedAtRest } from '../atRest.ts'
import { usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { fitToggle } from '../fit/survey.ts'
import { MakerActs } from '../makers/MakerActs.tsx'
import { lengthText } from '../../words/measure.ts'
import { LayCentreline } from './LayCentreline.tsx'
import { RecordList } from './RecordList.tsx'

export function LineStage(): ReactNode {
  const plan = usePlan((state) => state.committed)
  const { lineClasses: classes, vehicles } = plan
  const tracks = planRecords(plan, 'tracks')
  const solved = useDerivedAtRest().network.tracks
  const prefs = usePrefs((state) => state)
  const stores = useStores()
  const desk = useDeskStore()
  const isFitting = useDesk((state) => state.lineAct?.kind === 'fit')
  const isEmpty = tracks.length === 0
  return (
    <>
      <p className="lead">
        {isEmpty
          ? 'A centreline is a chain of straights that meet in corners (PIs, points of intersection). Each corner gets its curve and easements from the line class; all of it can be changed later.'
          : 'Drag a corner, or select it and type its radius. The chart below shows every curve of the track against its limit.'}
      </p>
      <div className="acts is-column">
        <LayCentreline />
        <button type="button" className="act" aria-pressed={isFitting} onClick={() => fitToggle(stores, desk)}>
          Fit to measured points…
        </button>
      </div>
      <MakerActs kinds={['siding', 'turnback', 'loop', 'helix']} />
      <RecordList
        table="tracks"
        title="Tracks"
        records={tracks}
        noteOf={(id) => {
          const alignment = solved.get(id)?.alignment
          if (alignment === undefined) return undefined
          return alignment.ok ? lengthText(alignment.path.lengthMm, prefs, 'room') : 'not solved'
        }}
      />
      <RecordList
        table="lineClasses"
        title="Line classes"
        records={Object.values(classes)
          .toSorted((a, b) => b.minRadiusMm - a.minRadiusMm)
          .map(({ id, name, minRadiusMm, usualRadiusMm }) => ({
            id,
            name,
            note: `least ${lengthText(minRadiusMm, prefs)}, usual ${lengthText(usualRadiusMm, prefs)}`,
          }))}
      />
      <RecordList
        table="vehicles"
        title="Cars and engines"
        records={Object.values(vehicles).map((car) => ({ id: car.id, name: car.name, note: lengthText(car.overCouplersMm, prefs) }))}
      />
      <AddCar />
      <AidsListed />
    </>
  )
}

// Kinds of cars and engines come when one is asked for.
const VehicleAdd = lazy(() => import('../vehicles/VehicleAdd.tsx'))

function AddCar(): ReactNode {
  const [isOpen, setOpen] = useState(false)
  if (!isOpen) {
    return (
      <button type="button" className="act" onClick={() => setOpen(true)}>
        Add a car or engine…
      </button>
    )
  }
  return (
    <Suspense fallback={null}>
      <VehicleAdd onDone={() => setOpen(false)} />
    </Suspense>
  )
}
