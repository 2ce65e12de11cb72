import type { ReactNode } from 'react'
import type { MakerKind } from '../../core/makers/index.ts'
import { planHasAny } from '../../core/plan/index.ts'
import { upperFirst } from '../../words/names.ts'
import { usePlan, useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import { RecordList } from '../stages/RecordList.tsx'
import { kindWords } from './makerText.ts'

// Makers come when the first one is asked for.
const makerSteps = (): Promise<typeof import('./makerSteps.ts')> => import('./makerSteps.ts')

/** What can be made from a few numbers, each as a word; and what has been made so. */
export function MakerActs({ kinds }: { readonly kinds: readonly MakerKind[] }): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const makers = usePlan((state) => state.committed.makers)
  const hasTracks = usePlan((state) => planHasAny(state.committed, 'tracks'))
  const here = Object.values(makers).filter(({ numbers }) => kinds.includes(numbers.kind))
  return (
    <>
      {hasTracks ? (
        <section className="maker-words">
          <h2>Made from a few numbers</h2>
          <div className="acts">
            {kinds.map((kind) => (
              <button
                key={kind}
                type="button"
                className="act"
                title={kindWords[kind].about}
                onClick={() => void makerSteps().then(({ makerBegin }) => makerBegin(stores, desk, kind))}
              >
                {upperFirst(kindWords[kind].word)}
              </button>
            ))}
          </div>
        </section>
      ) : null}
      <RecordList
        table="makers"
        title="Makers"
        records={here.map((maker) => ({ id: maker.id, name: maker.name, note: kindWords[maker.numbers.kind].word }))}
      />
    </>
  )
}
