import { useEffect, useState } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import type { Plan } from '../../core/plan/types.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { usePlan, useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import { planPut } from '../file/planFile.ts'
import { useKeeper } from '../keeper.ts'
import { Act } from '../particulars/acts.tsx'
import { CompareView } from './CompareView.tsx'
import { dateText, planRenamed, shelfList, versionList } from './shelfList.ts'
import type { ShelfEntry, VersionEntry } from './shelfList.ts'
import { Thumb } from './Thumb.tsx'
import './shelf.css'

type Shown =
  | { readonly kind: 'plans' }
  | { readonly kind: 'versions'; readonly id: string; readonly plan: Plan; readonly list: readonly VersionEntry[] }
  | { readonly kind: 'compare'; readonly before: Plan; readonly after: Plan; readonly words: string; readonly back: Shown }

type Listed = Awaited<ReturnType<typeof shelfList>>

/** All plans of this browser and how they were before. */
export default function ShelfSheet(): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const keeper = useKeeper()
  const { library } = keeper
  const onDesk = usePlan((state) => state.committed)
  const [listed, setListed] = useState<Listed | null>(null)
  const [shown, setShown] = useState<Shown>({ kind: 'plans' })
  const [failed, setFailed] = useState<string | null>(null)
  const deskId = listed?.deskId ?? null
  const shut = (): void => desk.getState().set({ dialog: null })

  /** Does something with the shelf and shows it as it is then; a shelf that fails says so and changes nothing. */
  async function act(job: () => Promise<unknown>): Promise<void> {
    try {
      await job()
      await keeper.flush()
      setListed(await shelfList(library))
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

  const open = (id: string, plan: Plan, notice: string): void => {
    keeper.nextIs(id)
    planPut(stores, desk, plan, notice)
  }
  const versionsShow = (id: string, plan: Plan): Promise<void> =>
    act(async () => setShown({ kind: 'versions', id, plan, list: await versionList(library, id) }))
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
    const { id, plan, list } = shown
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
                <Act onClick={() => open(id, version.plan, `${plan.railway.title} is on the desk as of ${dateText(version.savedAtMs)}.`)}>
                  Bring back
                </Act>
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
          <span className="soft small">On the desk</span>
          <div className="acts">
            <Act isDisabled={deskId === null} onClick={() => void (deskId === null ? undefined : versionsShow(deskId, onDesk))}>
              Versions
            </Act>
            <Act onClick={() => void duplicate(onDesk)}>Duplicate</Act>
          </div>
        </li>
        {(listed?.others ?? [])
          .filter(({ isAway }) => !isAway)
          .map((entry) => (
            <Shelved
              key={entry.id}
              entry={entry}
              onOpen={(plan) => open(entry.id, plan, `${plan.railway.title} is on the desk; the plan before it stands on the shelf.`)}
              onRename={(plan, title) =>
                void act(() => library.change(entry.id, { document: planRenamed(plan, title), savedAtMs: Date.now() }))
              }
              onDuplicate={(plan) => void duplicate(plan)}
              onVersions={(plan) => void versionsShow(entry.id, plan)}
              onCompare={(plan) => compare(plan, onDesk, `First: ${plan.railway.title}. Second: on the desk`)}
              onPutAway={() => void act(() => library.change(entry.id, { awayAtMs: Date.now() }))}
            />
          ))}
      </ul>
      <PutAway
        entries={(listed?.others ?? []).filter(({ isAway }) => isAway)}
        onTakeBack={(id) => void act(() => library.change(id, { awayAtMs: null }))}
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
  const { plan, savedAtMs } = props.entry
  if (plan === null) {
    return (
      <li>
        <p>A plan of {dateText(savedAtMs)} that cannot be read: it is damaged or of a newer version. It stays here, unharmed.</p>
      </li>
    )
  }
  return (
    <li>
      <Thumb plan={plan} />
      <Name title={plan.railway.title} onRename={(title) => props.onRename(plan, title)} />
      <span className="soft small">{dateText(savedAtMs)}</span>
      <div className="acts">
        <Act isMain onClick={() => props.onOpen(plan)}>
          Open
        </Act>
        <Act onClick={() => props.onVersions(plan)}>Versions</Act>
        <Act onClick={() => props.onCompare(plan)}>Compare</Act>
        <Act onClick={() => props.onDuplicate(plan)}>Duplicate</Act>
        <Act onClick={props.onPutAway}>Put away</Act>
      </div>
    </li>
  )
}

function PutAway({
  entries,
  onTakeBack,
}: {
  readonly entries: readonly ShelfEntry[]
  readonly onTakeBack: (id: string) => void
}): ReactNode {
  if (entries.length === 0) return null
  return (
    <details>
      <summary>Put away: {entries.length}</summary>
      <ul>
        {entries.map(({ id, plan, savedAtMs }) => (
          <li key={id}>
            {plan?.railway.title ?? 'A plan that cannot be read'}, {dateText(savedAtMs)}{' '}
            <button type="button" className="word" onClick={() => onTakeBack(id)}>
              Take back
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
