import type { ReactNode } from 'react'
import type { Silence } from '../../core/plan/types.ts'
import { findingPlace, findingText } from '../../words/findingText.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { findingShow } from '../findings.ts'
import { planEdit } from '../planEdit.ts'

/** What the builder lives with, and why; each can be told again. */
export default function Silenced(): ReactNode {
  const stores = useStores()
  const silenced = useDerived((state) => state.silenced)
  const idle = useDerived((state) => state.idle)
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  const remove = ({ id }: Silence): void => void planEdit(stores, { kind: 'remove', table: 'silences', id })
  return (
    <section className="findings is-silenced">
      <h2>
        Silenced <span className="count">{silenced.length + idle.length}</span>
      </h2>
      <ul>
        {silenced.map(({ finding, silence }) => {
          const { title } = findingText(finding, plan, prefs)
          return (
            <li key={finding.id} className="finding">
              <button type="button" className="finding-go is-plain" onClick={() => findingShow(stores, finding)}>
                <strong>{title}</strong>
                <span className="finding-body">{silence.reason}</span>
                <span className="soft small">{findingPlace(finding, plan)}</span>
              </button>
              <button type="button" className="act is-plain" aria-label={`Say it again: ${title}`} onClick={() => remove(silence)}>
                Say it again
              </button>
            </li>
          )
        })}
        {idle.map((silence) => (
          <li key={silence.id} className="finding">
            <p className="finding-body">{silence.reason}</p>
            <p className="soft small">Nothing is wrong there any more.</p>
            <button type="button" className="act is-plain" aria-label={`Forget: ${silence.reason}`} onClick={() => remove(silence)}>
              Forget it
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}
