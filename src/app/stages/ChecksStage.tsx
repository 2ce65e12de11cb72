import { Suspense, lazy } from 'react'
import type { ReactNode } from 'react'
import type { Finding } from '../../core/checks/types.ts'
import { planHasAny } from '../../core/plan/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import { isChecking } from '../../store/index.ts'
import { findingPlace, findingText } from '../../words/findingText.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { FindingActs } from '../findings/FindingActs.tsx'
import { LastLine } from '../findings/LastLine.tsx'
import { findingShow } from '../findings.ts'
import { ReportAct } from '../report/ReportAct.tsx'
import { LayCentreline } from './LayCentreline.tsx'
import { findingsOfStage, stageOrder } from './stageWords.ts'

const Silenced = lazy(() => import('../findings/Silenced.tsx'))

/** Rooms and wood are checked before there is a track. */
const hasAnyRoom = ({ plan }: { readonly plan: Plan }): boolean => planHasAny(plan, 'walls') || planHasAny(plan, 'benchworks')

const comingText =
  'Once a centreline is laid, every breach of a limit stands here: what was measured, what is asked, and the smallest change that cures it, or what a hand would do.'

/** Every breach of a limit, by the stage in which it is cured. */
export function ChecksStage(): ReactNode {
  const findings = useDerived((state) => state.findings)
  const hasTracks = usePlan((state) => planHasAny(state.plan, 'tracks'))
  const hasRoom = usePlan(hasAnyRoom)
  const hasSilences = useDerived((state) => state.silenced.length + state.idle.length > 0)
  return (
    <>
      <Head hasTracks={hasTracks} hasRoom={hasRoom} />
      {hasTracks ? null : <LayCentreline />}
      {stageOrder.map(({ name, word }) => {
        if (name === 'checks' || name === 'sheets') return null
        const here = findingsOfStage(findings, name)
        return here.length === 0 ? null : (
          <section key={name} className="findings">
            <h2>
              {word} <span className="count">{here.length}</span>
            </h2>
            <ol>
              {here.map((finding) => (
                <FindingRow key={finding.id} finding={finding} />
              ))}
            </ol>
          </section>
        )
      })}
      {hasSilences ? (
        <Suspense fallback={null}>
          <Silenced />
        </Suspense>
      ) : null}
      {hasTracks || hasRoom ? <ReportAct /> : null}
    </>
  )
}

/** How things stand on the whole; while the checks are at work, what was found before stays. */
function Head({ hasTracks, hasRoom }: { readonly hasTracks: boolean; readonly hasRoom: boolean }): ReactNode {
  const isEmpty = useDerived((state) => state.findings.length === 0)
  const isWorking = useDerived(isChecking)
  const trouble = useDerived((state) => state.checksTrouble)
  if (trouble !== null)
    return (
      <p className="lead" role="alert">
        The checks cannot look through the plan; what is listed is of an older one. They try again with the next change. ({trouble})
      </p>
    )
  const words = !isEmpty
    ? 'Each breach with what was measured, what was asked, and the smallest change that cures it; where none is safe, what a hand would do.'
    : isWorking
      ? 'Looking through the plan.'
      : hasTracks
        ? 'Everything keeps within its limits: radii, easements, clearances, edges and frogs.'
        : `${hasRoom ? 'Nothing stands in the way in the room.' : 'There is nothing to check yet.'} ${comingText}`
  return (
    <p className="lead">
      {words}
      {isWorking && !isEmpty ? <span className="checks-at-work"> The last change is being looked through.</span> : null}
    </p>
  )
}

/** One finding; its number is that of its mark on the plan. */
export function FindingRow({ finding }: { readonly finding: Finding }): ReactNode {
  const stores = useStores()
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const number = useDerived((state) => state.findings.indexOf(finding) + 1)
  const words = findingText(finding, plan, prefs)
  return (
    <li className={`finding is-${finding.severity}`}>
      <button type="button" className="finding-go" onClick={() => findingShow(stores, finding)}>
        <span className="finding-number" aria-hidden="true">
          {number}
        </span>
        <strong>{words.title}</strong>
        <span className="finding-body">
          {words.body} <LastLine finding={finding} />
        </span>
        <span className="soft small">
          {finding.severity === 'error' ? 'Error' : 'Warning'} · {findingPlace(finding, plan)}
        </span>
      </button>
      <FindingActs finding={finding} words={words} />
    </li>
  )
}
