import { Suspense, lazy, useEffect } from 'react'
import type { DragEvent, ReactNode } from 'react'
import { Canvas } from './canvas/Canvas.tsx'
import { Menus } from './commands/Menus.tsx'
import { useKeys } from './commands/useKeys.ts'
import { usePlan, usePrefs, useSession, useStores } from './context.ts'
import { useDesk, useDeskStore } from './desk.ts'
import type { DeskState } from './desk.ts'
import { useFocusKept } from './focusKept.ts'
import { Foot } from './Foot.tsx'
import { TrackChart } from './lateParts.ts'
import { Notice } from './Notice.tsx'
import { Paced } from './Paced.tsx'
import { usePointed } from './pointed.ts'
import { Particulars } from './particulars/Particulars.tsx'
import { StageColumn } from './stages/StageColumn.tsx'
import { isLayingStage } from './stages/stageWords.ts'

// What is not needed to see the plan comes when it is first asked for.
const Finder = lazy(() => import('./commands/Finder.tsx'))
const ExportSheet = lazy(() => import('./file/ExportSheet.tsx'))
const GallerySheet = lazy(() => import('./gallery/GallerySheet.tsx'))
const ImportSheet = lazy(() => import('./file/ImportSheet.tsx'))
const JigsSheet = lazy(() => import('./jigs/JigsSheet.tsx'))
const KeysSheet = lazy(() => import('./commands/KeysSheet.tsx'))
const ListPages = lazy(() => import('./laying/ListPages.tsx'))
const NewRoom = lazy(() => import('./file/NewRoom.tsx'))
const RoomMeasured = lazy(() => import('./room/RoomMeasured.tsx'))
const UnderlaySheet = lazy(() => import('./underlay/UnderlaySheet.tsx'))
const ShareSheet = lazy(() => import('./share/ShareSheet.tsx'))
const SharedSheet = lazy(() => import('./share/SharedSheet.tsx'))
const ShelfSheet = lazy(() => import('./shelf/ShelfSheet.tsx'))
const StepsSheet = lazy(() => import('./steps/StepsSheet.tsx'))
const SheetPages = lazy(() => import('./print/SheetPages.tsx'))

export function App(): ReactNode {
  useKeys()
  useFocusKept()
  usePointed()
  useTheme()
  const stores = useStores()
  const desk = useDeskStore()
  const drawer = useDesk((state) => state.drawer)
  const shows = useTableShows()

  function onDrop(event: DragEvent): void {
    const file = event.dataTransfer.files[0]
    if (file === undefined) return
    event.preventDefault()
    void import('./file/fileDropped.ts').then(({ fileDropped }) => fileDropped(stores, desk, file))
  }

  return (
    <div className="desk" data-drawer={drawer ?? undefined} onDragOver={(event) => event.preventDefault()} onDrop={onDrop}>
      <div className="left">
        <Masthead />
        <Menus />
        <Paced>
          <StageColumn />
        </Paced>
        <Foot />
      </div>
      <main className="table" tabIndex={-1}>
        <Table shows={shows} />
        <Notice />
      </main>
      <aside className="right" aria-label="Particulars" tabIndex={-1}>
        <Paced>
          <Particulars />
        </Paced>
      </aside>
      {shows === 'plan' ? (
        <div className="below" tabIndex={-1}>
          <Paced>
            <TrackChart />
          </Paced>
        </div>
      ) : null}
      <Drawers />
      <Dialogs />
    </div>
  )
}

/** What lies on the table: the plan, or what is made of it to be taken to the bench. */
function useTableShows(): 'plan' | 'sheets' | 'lists' {
  const stage = useSession((session) => session.stage)
  const isLists = useDesk((desk) => desk.layingShows === 'lists')
  const isFraming = useDesk((desk) => desk.isFraming)
  if (stage === 'sheets') return isFraming ? 'plan' : 'sheets'
  return isLists && isLayingStage(stage) ? 'lists' : 'plan'
}

function Table({ shows }: { readonly shows: ReturnType<typeof useTableShows> }): ReactNode {
  switch (shows) {
    case 'plan':
      return <Canvas />
    case 'sheets':
      return (
        <Suspense fallback={<p className="lead loading">The sheets are being laid out.</p>}>
          <SheetPages />
        </Suspense>
      )
    case 'lists':
      return (
        <Suspense fallback={<p className="lead loading">The lists are being laid out.</p>}>
          <ListPages />
        </Suspense>
      )
  }
}

function Masthead(): ReactNode {
  const title = usePlan((state) => state.plan.railway.title)
  const scale = usePlan((state) => state.plan.railway.scaleKey)
  const select = useSession((session) => session.select)
  const setDesk = useDesk((desk) => desk.set)
  return (
    <header className="masthead">
      <h1>Waybench</h1>
      <button
        type="button"
        className="railway"
        title="Scale, gauge, rail and margins of the railway"
        onClick={() => {
          select({ kind: 'none' })
          setDesk({ drawer: 'particulars' })
        }}
      >
        <span>{title}</span> <span>· {scale === 'custom' ? 'own scale' : scale}</span>
      </button>
    </header>
  )
}

const drawers: readonly { readonly name: NonNullable<DeskState['drawer']>; readonly word: string }[] = [
  { name: 'stage', word: 'What to do' },
  { name: 'particulars', word: 'Particulars' },
  { name: 'chart', word: 'Track chart' },
]

/** On a narrow screen the columns come up from below, one at a time. */
function Drawers(): ReactNode {
  const drawer = useDesk((desk) => desk.drawer)
  const setDesk = useDesk((desk) => desk.set)
  return (
    <div className="drawer-words">
      {drawers.map(({ name, word }) => (
        <button key={name} type="button" aria-expanded={drawer === name} onClick={() => setDesk({ drawer: drawer === name ? null : name })}>
          {word}
        </button>
      ))}
    </div>
  )
}

const dialogs = {
  finder: Finder,
  newRoom: NewRoom,
  export: ExportSheet,
  import: ImportSheet,
  gallery: GallerySheet,
  jigs: JigsSheet,
  keys: KeysSheet,
  share: ShareSheet,
  shared: SharedSheet,
  shelf: ShelfSheet,
  steps: StepsSheet,
  roomMeasured: RoomMeasured,
  underlay: UnderlaySheet,
}

function Dialogs(): ReactNode {
  const dialog = useDesk((desk) => desk.dialog)
  if (dialog === null) return null
  const Shown = dialogs[dialog]
  return (
    <Suspense fallback={null}>
      <Shown />
    </Suspense>
  )
}

/** The chosen look, on the root of the page; more contrast also where the system asks for it. */
function useTheme(): void {
  const theme = usePrefs((prefs) => prefs.theme)
  useEffect(() => {
    const { dataset } = document.documentElement
    const wish = typeof matchMedia === 'undefined' ? null : matchMedia('(prefers-contrast: more)')
    const put = (): void => {
      if (theme === 'light' || theme === 'dark') dataset['theme'] = theme
      else delete dataset['theme']
      if (theme === 'contrast' || wish?.matches === true) dataset['contrast'] = 'more'
      else delete dataset['contrast']
    }
    put()
    wish?.addEventListener('change', put)
    return () => wish?.removeEventListener('change', put)
  }, [theme])
}
