import { useLayoutEffect, useMemo, useRef } from 'react'
import type { ReactNode } from 'react'
import { makerFrog, makerFrogTold } from '../../core/checks/index.ts'
import type { Id, Maker } from '../../core/plan/types.ts'
import { frogToldText } from '../../words/makerText.ts'
import { frogText } from '../../words/measure.ts'
import { liesThereText } from '../../words/parallelText.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import { Act, ParticularsHead } from '../particulars/parts.tsx'
import { makerOnTrack, makerTurned } from './freeSide.ts'
import { makerFinish } from './makerSteps.ts'
import { MakerFields } from './MakerFields.tsx'
import type { MakerKeep } from './fieldParts.tsx'
import { MakerFacts, MakerTrouble } from './MakerParticulars.tsx'
import { useMakerPreview } from './makerPreview.ts'
import { kindWords } from './makerText.ts'

/** A maker in hand: its numbers, and on the plan what they come to. Nothing is in the plan until it is made. */
export default function MakerDraftPanel({ maker }: { readonly maker: Maker }): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const plan = usePlan((state) => state.plan)
  const preview = useMakerPreview(maker)
  const network = useDerived((state) => state.derived.network)
  const there = useMemo(() => makerOnTrack(network, maker), [network, maker])
  const panel = useRef<HTMLDivElement>(null)
  const { word, about } = kindWords[maker.numbers.kind]
  const change = (next: Maker): null => {
    desk.getState().set({ makerDraft: next })
    return null
  }
  const keep: MakerKeep = (to) => ({
    commit: (value) => change(to(desk.getState().makerDraft ?? maker, value)),
  })
  const leave = (): void => desk.getState().set({ makerDraft: null })

  // The hand goes on where the numbers are: whoever came by keyboard need not look for them.
  useLayoutEffect(() => panel.current?.focus(), [])

  return (
    <div className="maker-draft" ref={panel} tabIndex={-1} role="group" aria-label={`New ${word}`}>
      <ParticularsHead title={`New ${word}`} sub={about} />
      <MakerFields maker={maker} plan={plan} keep={keep} />
      {/* Below what is typed: it comes and goes with every number. */}
      {there === null ? null : <LiesThere maker={maker} track={there} onTurn={change} />}
      {preview.ok ? <FrogNote maker={maker} onCure={change} /> : null}
      {preview.ok ? <MakerFacts facts={preview.facts} /> : <MakerTrouble maker={maker} problem={preview.problem} onCure={change} />}
      <div className="acts is-column">
        <Act isMain={there === null} isDisabled={!preview.ok} onClick={() => makerFinish(stores, desk)}>
          Make this {word}
        </Act>
        <Act onClick={leave}>Leave it</Act>
      </div>
    </div>
  )
}

/** On which track it would lie, and the way round to the other side of its host. */
function LiesThere(props: { readonly maker: Maker; readonly track: Id; readonly onTurn: (turned: Maker) => void }): ReactNode {
  const text = usePlan(({ plan }) => liesThereText(props.track, plan))
  const turned = makerTurned(props.maker)
  return (
    <section className="problems" role="status">
      <p>{text}</p>
      {turned === null ? null : (
        <div className="acts">
          <Act onClick={() => props.onTurn(turned)}>Lay it on the other side</Act>
        </div>
      )}
    </section>
  )
}

/** What the checks will tell of its frogs if it is made so, with the number that does without; a smaller one may be kept. */
function FrogNote({ maker, onCure }: { readonly maker: Maker; readonly onCure: (cured: Maker) => void }): ReactNode {
  const network = useDerived((state) => state.derived.network)
  const prefs = usePrefs((state) => state)
  const told = useMemo(() => makerFrogTold({ plan: network.plan, network }, maker), [network, maker])
  if (told === null) return null
  const { least } = told
  const isIn = makerFrog(maker.numbers) === told.frog
  return (
    <section className="fields-part" role="status">
      <p className={isIn && told.finding.severity === 'error' ? 'problems' : 'note'}>{frogToldText(told, prefs)}</p>
      {isIn && least !== null ? (
        <div className="acts">
          <Act onClick={() => onCure(least.maker)}>Take {frogText(least.frog)}</Act>
        </div>
      ) : null}
    </section>
  )
}
