import { Suspense, lazy, useLayoutEffect, useRef } from 'react'
import type { ComponentType, ReactNode } from 'react'
import type { StageName } from '../../store/types.ts'
import { isChecking } from '../../store/index.ts'
import { useDerived, useSession } from '../context.ts'
import { useDesk } from '../desk.ts'
import { ChecksStage, LineStage, RoomStage, TurnoutsStage } from '../lateParts.ts'
import { ExampleCard } from './ExampleCard.tsx'
import { findingsOfStage, stageOrder } from './stageWords.ts'

// What to cut and to lay, and the sheets, come when they are asked for.
const RoadbedStage = lazy(() => import('../laying/RoadbedStage.tsx'))
const TrackStage = lazy(() => import('../laying/TrackStage.tsx'))
const SheetsStage = lazy(() => import('../print/SheetsStage.tsx'))

const bodies: { readonly [S in StageName]: ComponentType } = {
  room: RoomStage,
  line: LineStage,
  turnouts: TurnoutsStage,
  roadbed: RoadbedStage,
  track: TrackStage,
  checks: ChecksStage,
  sheets: SheetsStage,
}

/** The stages as words, and beneath them what there is to do in the one at hand. The words never move. */
export function StageColumn(): ReactNode {
  const stage = useSession((session) => session.stage)
  const Body = bodies[stage]
  return (
    <>
      <nav className="stages" aria-label="Stages">
        <ul>
          {stageOrder.map(({ name, word }) => (
            <li key={name}>
              <StageWord name={name} word={word} isOpen={name === stage} />
            </li>
          ))}
        </ul>
      </nav>
      <section className="stage-body" aria-label={stageOrder.find(({ name }) => name === stage)?.word} tabIndex={-1}>
        <FromTheTop key={stage} />
        <ExampleCard />
        <Suspense fallback={null}>
          <Body />
        </Suspense>
      </section>
    </>
  )
}

/** Each stage begins at its top; a form of it that opens by itself comes after this and goes where it must. */
function FromTheTop(): ReactNode {
  const place = useRef<HTMLSpanElement>(null)
  useLayoutEffect(() => {
    if (place.current?.parentElement) place.current.parentElement.scrollTop = 0
  }, [])
  return <span ref={place} hidden />
}

function StageWord({ name, word, isOpen }: { readonly name: StageName; readonly word: string; readonly isOpen: boolean }): ReactNode {
  const setStage = useSession((session) => session.setStage)
  const setDesk = useDesk((desk) => desk.set)
  // By what is told: in a drag the checks find the same again and again.
  const open = useDerived(({ findings }) => findingsOfStage(findings, name).length)
  const hasError = useDerived(({ findings }) => findingsOfStage(findings, name).some(({ severity }) => severity === 'error'))
  const isOld = useDerived(isChecking)
  return (
    <button
      type="button"
      className="stage-word"
      aria-current={isOpen ? 'step' : undefined}
      onClick={() => {
        setStage(name)
        setDesk({ drawer: 'stage' })
      }}
    >
      {word}
      {open === 0 ? null : (
        <span className={`count${hasError ? ' has-error' : ''}${isOld ? ' is-old' : ''}`}>
          {open}
          <span className="visually-hidden"> open</span>
        </span>
      )}
    </button>
  )
}
