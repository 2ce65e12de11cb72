import '@testing-library/jest-dom/vitest'
import { cleanup, screen } from '@testing-library/react'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { sameFileName, sameFileSave } from '../../src/app/file/sameFile.ts'
import SharedSheet from '../../src/app/share/SharedSheet.tsx'
import ShareSheet from '../../src/app/share/ShareSheet.tsx'
import { planLinkWrite } from '../../src/formats/planLink.ts'
import { planRead } from '../../src/formats/planjson.ts'
import { hand, renderOnDesk, roomPlan } from './desk.tsx'

afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
  history.replaceState(null, '', '/')
})

const other = { ...roomPlan(), railway: { ...roomPlan().railway, title: 'From afar <b>' } }

describe('a plan that comes by a link', () => {
  it('is opened when the person says so, and the address asks no more', async () => {
    location.hash = `#plan=${planLinkWrite(other)}`
    const { stores } = renderOnDesk(<SharedSheet />)
    expect(screen.getByRole('heading')).toHaveTextContent('From afar <b>')
    expect(stores.plan.getState().committed.railway.title).toBe('Test quay')
    await hand.click(screen.getByRole('button', { name: 'Open it' }))
    expect([stores.plan.getState().committed, location.hash]).toEqual([other, ''])
  })

  it('and is damaged is refused in words; the plan on the desk stays', () => {
    location.hash = `#plan=${planLinkWrite(other).slice(0, 90)}`
    const { stores } = renderOnDesk(<SharedSheet />)
    expect(screen.getByRole('alert')).toHaveTextContent(/not whole.*untouched/)
    expect(stores.plan.getState().committed.railway.title).toBe('Test quay')
  })
})

describe('a plan that goes by a link', () => {
  it('is in the link', () => {
    renderOnDesk(<ShareSheet />)
    expect(screen.getByRole('textbox', { name: 'Link' })).toHaveValue(`${location.href}#plan=${planLinkWrite(roomPlan())}`)
  })

  it('and is too large is told with its size and the limit', () => {
    // Letters without a pattern cannot be packed.
    let seed = 7
    const noise = Array.from({ length: 50_000 }, () => String.fromCharCode(97 + ((seed = (seed * 16_807) % 2_147_483_647) % 26))).join('')
    renderOnDesk(<ShareSheet />, { ...roomPlan(), railway: { ...roomPlan().railway, title: noise } })
    expect(screen.getByRole('alert')).toHaveTextContent(/link of [34]\d,\d{3} characters; links over 32,000/)
    expect(screen.getByRole('button', { name: 'Save plan to a file' })).toBeEnabled()
  })
})

describe('a file of the person', () => {
  it('is asked for once and written again, and never with another plan', async () => {
    const written: string[] = []
    const pick = vi.fn(async () => ({
      name: 'quay.json',
      createWritable: async () => ({ write: async (text: string) => void written.push(text), close: async () => undefined }),
    }))
    vi.stubGlobal('showSaveFilePicker', pick)
    const { stores } = renderOnDesk(<p />)
    await sameFileSave(stores)
    stores.plan.getState().apply({ kind: 'railway.set', change: { title: 'Pier' } })
    await sameFileSave(stores)
    expect([pick.mock.calls.length, sameFileName(stores)]).toEqual([1, 'quay.json'])
    expect(written.map((text) => planRead(text))).toMatchObject([
      { plan: { railway: { title: 'Test quay' } } },
      { plan: { railway: { title: 'Pier' } } },
    ])
    stores.plan.getState().load(other)
    expect(sameFileName(stores)).toBeNull()
  })

  it('that cannot be written is told, and asked for again', async () => {
    vi.stubGlobal('showSaveFilePicker', async () => ({ name: 'quay.json', createWritable: () => Promise.reject(new Error('no leave')) }))
    const { stores } = renderOnDesk(<p />)
    await sameFileSave(stores)
    expect(stores.session.getState().notice).toMatch(/not saved into the file: no leave/)
    expect(sameFileName(stores)).toBeNull()
  })
})
