import { act, cleanup } from '@testing-library/react'
import type { ReactNode } from 'react'
import { afterEach, describe, expect, it, vi } from 'vitest'
import type { OwnKeys } from '../../src/app/commands/keyMap.ts'
import { useKeys } from '../../src/app/commands/useKeys.ts'
import type { ToolName } from '../../src/store/types.ts'
import { renderOnDesk } from './desk.tsx'

/* What each key does without keys of one's own, with what is held and wherever the focus is: found by pressing every one of them. */

const done = vi.hoisted(() => ({ last: null as string | null }))
const withThese = vi.hoisted(() => (these: object) => async (load: () => Promise<object>) => ({ ...(await load()), ...these }))
const does = vi.hoisted(() => (what: string) => () => {
  done.last = what
})
vi.mock('../../src/app/file/planFile.ts', withThese({ planSave: does('save'), planChoose: does('open') }))
vi.mock('../../src/app/print/planPrint.ts', withThese({ planPrint: does('print') }))
vi.mock('../../src/app/several/severalActs.ts', withThese({ stageSelect: does('all of the stage'), selectedCopyBeside: does('copy') }))
vi.mock('../../src/app/commands/selectionRemove.ts', withThese({ selectionRemove: does('remove') }))
vi.mock('../../src/app/viewportShow.ts', withThese({ viewportFit: does('whole'), viewportShow: () => undefined }))

// In the app these come when they are first asked for; here they are there from the start.
await Promise.all([
  import('../../src/app/file/planFile.ts'),
  import('../../src/app/print/planPrint.ts'),
  import('../../src/app/several/severalActs.ts'),
  import('../../src/app/commands/selectionRemove.ts'),
  import('../../src/app/commands/actions.ts'),
])

/** As the store answers: something was taken back. */
function said(what: string): boolean {
  does(what)()
  return true
}

afterEach(cleanup)

const holds = ['', 'Shift', 'Ctrl', 'Ctrl Shift', 'Meta', 'Meta Shift', 'Alt', 'Ctrl Alt', 'Alt Shift'] as const
type Held = (typeof holds)[number]

const named = [
  'Delete',
  'Backspace',
  'Home',
  'End',
  'Enter',
  'Tab',
  ' ',
  'Insert',
  'PageUp',
  'F1',
  'ArrowLeft',
  '/',
  '?',
  '.',
  ',',
  '-',
  '+',
]
const keys = [...'abcdefghijklmnopqrstuvwxyz0123456789', ...named]

/** Where the focus is when a key is pressed. */
const places = {
  desk: () => document.createElement('button'),
  field: () => Object.assign(document.createElement('input'), { value: '12 in' }),
  'half typed': () => {
    const field = document.createElement('input')
    field.dataset['draft'] = 'true'
    return field
  },
  menu: () => {
    const menu = document.createElement('div')
    menu.setAttribute('role', 'menu')
    menu.tabIndex = -1
    return menu
  },
}
type Place = keyof typeof places

function Keyed(): ReactNode {
  useKeys()
  return (
    <div className="table">
      <div className="canvas" />
    </div>
  )
}

/** Presses every key with all that can be held, and gives those of which something came. */
async function pressedAll(
  place: Place,
  { tool = 'select', own = {} }: { readonly tool?: ToolName; readonly own?: OwnKeys } = {},
): Promise<readonly string[]> {
  const { stores, desk } = renderOnDesk(<Keyed />)
  act(() => {
    stores.session.getState().setTool(tool)
    stores.prefs.getState().setPrefs({ keys: own })
  })
  const target = document.body.appendChild(places[place]())
  stores.plan.setState({ undo: () => said('undo'), redo: () => said('redo') })
  const found: string[] = []
  for (const held of holds) {
    for (const key of keys) {
      done.last = null
      const has = (word: string): boolean => held.split(' ').includes(word)
      const event = new KeyboardEvent('keydown', {
        key: has('Shift') && /^[a-z]$/.test(key) ? key.toUpperCase() : key,
        ctrlKey: has('Ctrl'),
        metaKey: has('Meta'),
        shiftKey: has('Shift'),
        altKey: has('Alt'),
        bubbles: true,
        cancelable: true,
      })
      act(() => void target.dispatchEvent(event))
      // What comes late needs a moment all the same.
      if (event.defaultPrevented) await vi.waitFor(() => expect(doneNow(desk.getState())).not.toBeNull())
      const what = doneNow(desk.getState())
      if (what !== null) found.push(`${[held, key.length === 1 ? key.toUpperCase() : key].join(' ').trim()}: ${what}`)
      act(() => desk.getState().set({ dialog: null, bands: null, push: null }))
    }
  }
  target.remove()
  return found
}

function doneNow({
  dialog,
  bands,
  push,
}: {
  readonly dialog: string | null
  readonly bands: unknown
  readonly push: unknown
}): string | null {
  if (dialog !== null) return dialog
  if (bands !== null) return 'bands'
  return push === null ? done.last : 'push'
}

const withHeld = (helds: readonly Held[], what: readonly string[]): readonly string[] =>
  helds.flatMap((held) => what.map((words) => `${held} ${words}`.trim()))
const sorted = (words: readonly string[]): readonly string[] => words.toSorted()

/** With Shift only what goes forth instead of back is another thing. */
const always = [...withHeld(['Ctrl', 'Ctrl Shift', 'Meta', 'Meta Shift'], ['K: finder', 'O: open', 'P: print', 'S: save'])]
const back = [...withHeld(['Ctrl', 'Meta'], ['Z: undo', 'Y: redo']), ...withHeld(['Ctrl Shift', 'Meta Shift'], ['Z: redo', 'Y: redo'])]
const chosen = withHeld(['Ctrl', 'Ctrl Shift', 'Meta', 'Meta Shift'], ['A: all of the stage', 'D: copy'])
const bare = withHeld(['', 'Shift'], ['/: finder', 'Delete: remove', 'Backspace: remove', 'Home: whole'])
const letters = withHeld(['', 'Shift'], ['B: bands', 'P: push'])

describe('the usual keys', () => {
  it('on the desk', async () => {
    expect(sorted(await pressedAll('desk'))).toEqual(sorted([...always, ...back, ...chosen, ...bare, ...letters]))
  })

  it('with a tool in the hand: letters are the tool’s own', async () => {
    expect(sorted(await pressedAll('desk', { tool: 'track' }))).toEqual(sorted([...always, ...back, ...chosen, ...bare]))
  })

  it('in a field: what is typed is typed', async () => {
    expect(sorted(await pressedAll('field'))).toEqual(sorted([...always, ...back]))
  })

  it('in a field with something half typed: it has its own way back', async () => {
    expect(sorted(await pressedAll('half typed'))).toEqual(sorted(always))
  })

  it('in a menu: letters go through its lines', async () => {
    expect(sorted(await pressedAll('menu'))).toEqual(sorted([...always, ...back, ...chosen]))
  })

  it('given up for keys of one’s own do nothing any more, with Shift neither', async () => {
    const own = { save: 'Ctrl M', bands: 'Ctrl E' }
    const isGivenUp = (words: string): boolean => /: (save|bands)$/.test(words)
    const left = [...always, ...back, ...chosen, ...bare, ...letters].filter((words) => !isGivenUp(words))
    const theirs = withHeld(['Ctrl', 'Meta'], ['M: save', 'E: bands'])
    expect(sorted(await pressedAll('desk', { own }))).toEqual(sorted([...left, ...theirs]))
  })
})
