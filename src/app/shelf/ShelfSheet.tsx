import { useEffect, useState } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import { useStore } from 'zustand'
import type { Plan } from '../../core/plan/types.ts'
import { historyRestored } from '../../store/index.ts'
import type { KeptPlan } from '../../store/index.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { usePlan, useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import { fileSave, planPut } from '../file/planFile.ts'
import { useKeeper } from '../keeper.ts'
import { Act } from '../particulars/acts.tsx'
import { CompareView } from './CompareView.tsx'
import { dateText, planRenamed, shelfList, versionList } from './shelfList.ts'
import type { ShelfEntry, VersionEntry } from './shelfList.ts'
import { Thumb } from './Thumb.tsx'
import './shelf.css'

type Shown =
  | { readonly kind: 'plans' }
  | { readonly kind: 'versions'; readonly of: Kept; readonly plan: Plan; readonly list: readonly VersionEntry[] }
  | { readonly kind: 'compare'; readonly before: Plan; readonly after: Plan; readonly words: string; readonly back: Shown }

/** Where a plan stands on the shelf. */
type Kept = Pick<KeptPlan, 'id' | 'revision'>

/** All plans of this browser and how they were before. */
export default function ShelfSheet(): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const keeper = useKeeper()
  const { library } = keeper
  const isFresh = useStore(keeper.status).kind === 'fresh'
  const onDesk = usePlan((state) => state.committed)
  const [others, setOthers] = useState<readonly ShelfEntry[]>([])
  const [shown, setShown] = useState<Shown>({ kind: 'plans' })
  const [failed, setFailed] = useState<string | null>(null)
  const shut = (): void => desk.getState().set({ dialog: null })

  /** Does something with the shelf and shows it as it is then; a shelf that fails says so and changes nothing. */
  async function act(job: () => Promise<unknown>): Promise<void> {
    try {
      await job()
      await keeper.flush()
      setOthers(await shelfList(keeper))
      setFailed(null)
    } catch (error) {
      setFailed(`The shelf of this browser cannot be used: ${error instanceof Error ? error.message : String(error)} Save plans to files.`)
    }
  }
  useEffect(() => {
    void act(async () => undefined)
    // Once, when it is opened.
    // oxlint-disable-next-line react/exhaustive-deps
  }, [])

  const open = ({ id, revision, savedAtMs, history }: KeptPlan, plan: Plan): void => {
    const is = { kind: 'kept', id, revision, savedAtMs } as const
    planPut(stores, desk, { plan, history: historyRestored(plan, history), is, notice: `${plan.railway.title} is on the desk.` })
  }
  const bringBack = ({ id, revision }: Kept, { plan, savedAtMs }: VersionEntry): void => {
    const notice = `${plan.railway.title} is on the desk as of ${dateText(savedAtMs)}.`
    planPut(stores, desk, { plan, is: { kind: 'version', id, revision }, notice })
  }
  const versionsShow = (of: Kept, plan: Plan): Promise<void> =>
    act(async () => setShown({ kind: 'versions', of, plan, list: await versionList(library, of.id) }))
  const compare = (before: Plan, after: Plan, words: string): void => setShown({ kind: 'compare', before, after, words, back: shown })
  const duplicate = (plan: Plan): Promise<void> => act(() => library.add(planRenamed(plan, `${plan.railway.title}, second`), Date.now()))

  if (shown.kind === 'compare') {
    return (
      <Sheet onShut={shut} look="shelf">
        <Heading slot="title">{shown.words}</Heading>
        <CompareView before={shown.before} after={shown.after} />
        <div className="acts">
          <Act onClick={() => setShown(shown.back)}>Back</Act>
        </div>
      </Sheet>
    )
  }
  if (shown.kind === 'versions') {
    const { of, plan, list } = shown
    return (
      <Sheet onShut={shut} look="shelf">
        <Heading slot="title">{plan.railway.title}: earlier versions</Heading>
        <p className="soft small">
          One a minute of the last hour, then one an hour for a day, one a day for a month, one a week. What is brought back is the plan
          from then on; how it is now becomes a version.
        </p>
        {list.length === 0 ? <p>There are none yet.</p> : null}
        <ul className="versions">
          {list.map((version) => (
            <li key={version.savedAtMs}>
              <Thumb plan={version.plan} />
              <b>{dateText(version.savedAtMs)}</b>
              <div className="acts">
                <Act onClick={() => bringBack(of, version)}>Bring back</Act>
                <Act onClick={() => compare(version.plan, plan, `First: ${dateText(version.savedAtMs)}. Second: now`)}>
                  Compare with now
                </Act>
              </div>
            </li>
          ))}
        </ul>
        <div className="acts">
          <Act onClick={() => setShown({ kind: 'plans' })}>Back</Act>
        </div>
      </Sheet>
    )
  }
  return (
    <Sheet onShut={shut} look="shelf">
      <Heading slot="title">Plans in this browser</Heading>
      {failed === null ? null : <p role="alert">{failed}</p>}
      <ul className="plans" aria-label="Plans">
        <li className="is-on-desk">
          <Thumb plan={onDesk} />
          <Name
            title={onDesk.railway.title}
            onRename={(title) => void stores.plan.getState().apply({ kind: 'railway.set', change: { title } })}
          />
          <span className="soft small">{isFresh ? 'On the desk; it is kept once you change something in it' : 'On the desk'}</span>
          <div className="acts">
            <Act isDisabled={isFresh} onClick={() => void versionsShow({ id: keeper.planId(), revision: 0 }, onDesk)}>
              Versions
            </Act>
            <Act onClick={() => void duplicate(onDesk)}>Duplicate</Act>
          </div>
        </li>
        {others
          .filter(({ kept }) => kept.awayAtMs === null)
          .map((entry) => (
            <Shelved
              key={entry.kept.id}
              entry={entry}
              onOpen={(plan) => open(entry.kept, plan)}
              onRename={(plan, title) =>
                void act(() => library.change(entry.kept.id, { document: planRenamed(plan, title), savedAtMs: Date.now() }))
              }
              onDuplicate={(plan) => void duplicate(plan)}
              onVersions={(plan) => void versionsShow(entry.kept, plan)}
              onCompare={(plan) => compare(plan, onDesk, `First: ${plan.railway.title}. Second: on the desk`)}
              onPutAway={() => void act(() => library.change(entry.kept.id, { awayAtMs: Date.now() }))}
            />
          ))}
      </ul>
      <PutAway
        entries={others.filter(({ kept }) => kept.awayAtMs !== null)}
        onTakeBack={(id) => void act(() => library.change(id, { awayAtMs: null }))}
        onThrowAway={(id) => void act(() => library.remove(id))}
      />
      <div className="acts">
        <Act onClick={shut}>Close</Act>
      </div>
    </Sheet>
  )
}

interface ShelvedProps {
  readonly entry: ShelfEntry
  readonly onOpen: (plan: Plan) => void
  readonly onRename: (plan: Plan, title: string) => void
  readonly onDuplicate: (plan: Plan) => void
  readonly onVersions: (plan: Plan) => void
  readonly onCompare: (plan: Plan) => void
  readonly onPutAway: () => void
}

function Shelved(props: ShelvedProps): ReactNode {
  const { plan, kept, isElsewhere } = props.entry
  if (plan === null) {
    return (
      <li>
        <p>A plan of {dateText(kept.savedAtMs)} that cannot be read: it is damaged or of a newer version. It stays here, unharmed.</p>
        <div className="acts">
          <Act onClick={() => fileSave('unread.json', JSON.stringify(kept.document), 'application/json')}>Save it as it is</Act>
          <Act onClick={props.onPutAway}>Put away</Act>
        </div>
      </li>
    )
  }
  return (
    <li>
      <Thumb plan={plan} />
      {isElsewhere ? <b>{plan.railway.title}</b> : <Name title={plan.railway.title} onRename={(title) => props.onRename(plan, title)} />}
      <span className="soft small">
        {dateText(kept.savedAtMs)}
        {isElsewhere ? ', open in another page' : ''}
      </span>
      <div className="acts">
        <Act isMain onClick={() => props.onOpen(plan)}>
          Open
        </Act>
        <Act onClick={() => props.onVersions(plan)}>Versions</Act>
        <Act onClick={() => props.onCompare(plan)}>Compare</Act>
        <Act onClick={() => props.onDuplicate(plan)}>Duplicate</Act>
        {isElsewhere ? null : <Act onClick={props.onPutAway}>Put away</Act>}
      </div>
    </li>
  )
}

function PutAway(props: {
  readonly entries: readonly ShelfEntry[]
  readonly onTakeBack: (id: string) => void
  readonly onThrowAway: (id: string) => void
}): ReactNode {
  const { entries, onTakeBack, onThrowAway } = props
  if (entries.length === 0) return null
  return (
    <details>
      <summary>Put away: {entries.length}</summary>
      <ul>
        {entries.map(({ kept, plan }) => (
          <li key={kept.id}>
            {plan?.railway.title ?? 'A plan that cannot be read'}, {dateText(kept.savedAtMs)}{' '}
            <button type="button" className="word" onClick={() => onTakeBack(kept.id)}>
              Take back
            </button>{' '}
            <button type="button" className="word soft" onClick={() => onThrowAway(kept.id)}>
              Throw away for good
            </button>
          </li>
        ))}
      </ul>
    </details>
  )
}

/** The name of a plan, changed where it stands: it holds when the field is left or by Enter. */
function Name({ title, onRename }: { readonly title: string; readonly onRename: (title: string) => void }): ReactNode {
  const [text, setText] = useState(title)
  const done = (): void => {
    if (text.trim() !== '' && text !== title) onRename(text)
    else setText(title)
  }
  return (
    <input
      aria-label={`Name of ${title}`}
      value={text}
      onChange={({ target }) => setText(target.value)}
      onBlur={done}
      onKeyDown={({ key }) => (key === 'Enter' ? done() : undefined)}
    />
  )
}
