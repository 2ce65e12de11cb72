import '@testing-library/jest-dom/vitest'
import { act, cleanup, screen, waitFor } from '@testing-library/react'
import type { ReactNode } from 'react'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { keysOfPress } from '../../src/app/commands/keyMap.ts'
import { keysReserved } from '../../src/app/commands/keysReserved.ts'
import KeysSheet from '../../src/app/commands/KeysSheet.tsx'
import { useKeys } from '../../src/app/commands/useKeys.ts'
import { useDesk } from '../../src/app/desk.ts'
import { hand, renderOnDesk } from './desk.tsx'

beforeEach(() => localStorage.clear())
afterEach(cleanup)

/** The desk's keys, with the sheet of them on top when it is asked for. */
function Keyed(): ReactNode {
  useKeys()
  return useDesk((desk) => desk.dialog) === 'keys' ? <KeysSheet /> : null
}

function keyed() {
  const { stores, desk } = renderOnDesk(<Keyed />)
  const open = (): void => act(() => desk.getState().set({ dialog: 'keys' }))
  const shut = (): void => act(() => desk.getState().set({ dialog: null }))
  const give = async (words: RegExp, keys: string): Promise<void> => {
    await hand.click(screen.getByRole('button', { name: words }))
    await hand.keyboard(keys)
  }
  return { stores, desk, open, shut, give }
}

describe('keys', () => {
  it('pressed for an action become its own, do it, and the usual ones do nothing any more', async () => {
    const { stores, desk, open, shut, give } = keyed()
    open()
    await give(/^Show swept bands and clearances/, 'g')
    expect(screen.getByRole('button', { name: /^Show swept bands/ })).toHaveTextContent(/G$/)
    expect(stores.prefs.getState().keys).toEqual({ bands: 'G' })
    shut()
    await hand.keyboard('b')
    expect(desk.getState().bands).toBeNull()
    await hand.keyboard('g')
    await waitFor(() => expect(desk.getState().bands).not.toBeNull())
    open()
    await hand.click(screen.getByRole('button', { name: 'All as usual' }))
    expect(stores.prefs.getState().keys).toEqual({})
    shut()
    await hand.keyboard('b')
    expect(desk.getState().bands).toBeNull()
  })

  it('of another action, or reserved, are not taken and say why', async () => {
    const { stores, open, give } = keyed()
    open()
    await give(/^Gallery of turnouts/, '{Control>}s{/Control}')
    expect(screen.getByRole('status')).toHaveTextContent(/Ctrl S is for “Save plan to a file”/)
    await hand.keyboard('7')
    expect(screen.getByRole('status')).toHaveTextContent(/7 begins a measure/)
    await hand.keyboard('{Escape}')
    expect(screen.getByRole('status')).toHaveTextContent('Left as it was')
    expect(stores.prefs.getState().keys).toEqual({})
  })

  it('come back one by one, unless another has taken them', async () => {
    const { stores, open, give } = keyed()
    open()
    await hand.type(screen.getByRole('searchbox'), 'swept')
    await give(/^Show swept bands/, 'g')
    await hand.clear(screen.getByRole('searchbox'))
    await give(/^Gallery of turnouts/, 'b')
    await hand.click(screen.getByRole('button', { name: /^As usual: Show swept/ }))
    expect(screen.getByRole('status')).toHaveTextContent(/^B is for “Gallery of turnouts and crossings” now/)
    await hand.click(screen.getByRole('button', { name: /^As usual: Gallery/ }))
    expect(screen.getByRole('status')).toHaveTextContent(/has no keys/)
    await hand.click(screen.getByRole('button', { name: /^As usual: Show swept/ }))
    expect(screen.getByRole('status')).toHaveTextContent(/^B is for “Show swept bands and clearances” again/)
    expect(stores.prefs.getState().keys).toEqual({})
  })

  it('of one letter are not heard while something is typed (WCAG 2.1.4)', async () => {
    const { stores, desk } = keyed()
    const field = document.body.appendChild(document.createElement('input'))
    act(() => stores.prefs.getState().setPrefs({ keys: { gallery: 'G' } }))
    await hand.type(field, 'gb/p')
    expect(field).toHaveValue('gb/p')
    expect(desk.getState().dialog).toBeNull()
    expect(desk.getState().bands).toBeNull()
    field.remove()
  })

  it('are left to a drawing tool in hand', async () => {
    const { stores, desk } = keyed()
    act(() => {
      stores.prefs.getState().setPrefs({ keys: { gallery: 'G' } })
      stores.session.getState().setTool('track')
    })
    await hand.keyboard('g')
    act(() => stores.session.getState().setTool('select'))
    expect(desk.getState().dialog).toBeNull()
    await hand.keyboard('g')
    await waitFor(() => expect(desk.getState().dialog).toBe('gallery'))
  })

  it('are told in the words of a keyboard', () => {
    const plain = { shiftKey: false, ctrlKey: false, metaKey: false, altKey: false }
    expect(keysOfPress({ ...plain, key: 'z', ctrlKey: true, shiftKey: true })).toBe('Ctrl Shift Z')
    expect(keysOfPress({ ...plain, key: '?', shiftKey: true })).toBe('?')
    expect(keysOfPress({ ...plain, key: 'Shift', shiftKey: true })).toBeNull()
    expect(keysReserved('Ctrl W')).toMatch(/browser/)
    expect(keysReserved('Ctrl G')).toMatch(/browser/)
    expect(keysReserved('Ctrl M')).toBeNull()
    expect(keysReserved('G')).toBeNull()
  })
})
