import '@testing-library/jest-dom/vitest'
import { cleanup, screen } from '@testing-library/react'
import { afterEach, describe, expect, it } from 'vitest'
import { planOpen, planTakeBack } from '../../src/app/file/planFile.ts'
import { Notice } from '../../src/app/Notice.tsx'
import type { KeepStatus } from '../../src/store/types.ts'
import { planWrite } from '../../src/formats/planjson.ts'
import { renderOnDesk, roomPlan } from './desk.tsx'

afterEach(cleanup)

const good = planWrite(roomPlan())

/** A file as a browser gives it; jsdom 26 has File but not its `text`. */
function fileOf(text: string, name: string): File {
  return Object.defineProperty(new File([text], name), 'text', { value: () => Promise.resolve(text) })
}

describe('opening a plan file', () => {
  it.each([
    ['truncated', good.slice(0, 900), /breaks off in line \d+/],
    ['damaged', good.replace('"tracks": {', '"tracks": !'), /is damaged in line \d+, column \d+: “!” stands where/],
    ['foreign', '{"name":"a song","bpm":120}', /not a Waybench plan/],
    ['prose', 'hello, this is a letter', /not a Waybench plan but some other kind of file: it begins with “h”/],
    ['empty', '', /The file is empty/],
    ['newer', good.replace(/"version": \d+/, '"version": 99'), /newer Waybench \(version 99/],
    ['wrong', good.replace('"frog": 6', '"frog": "six"'), /At turnouts\.turnout-1\.frog stands “six”; it should be/],
    ['broken', good.replace('"track": "track-1"', '"track": "track-9"'), /track “track-9”, which is not in the file/],
  ])('says what is wrong with a %s one and leaves the open plan untouched', async (name, text, words) => {
    const { stores, desk } = renderOnDesk(<Notice />)
    stores.plan.getState().apply({ kind: 'railway.set', change: { title: 'Mine' } })
    const before = stores.plan.getState()
    await planOpen(stores, desk, fileOf(text, `${name}.json`))
    expect(await screen.findByText(words)).toHaveTextContent(`${name}.json was not opened.`)
    expect(screen.getByText(words)).toHaveTextContent('The plan on the desk is untouched.')
    expect(stores.plan.getState().plan).toBe(before.plan)
    expect(stores.plan.getState().undoStack).toBe(before.undoStack)
  })

  it('refuses a huge file before it is read', async () => {
    const { stores, desk } = renderOnDesk(<Notice />)
    const huge = new File(['{}'], 'huge.json')
    Object.defineProperty(huge, 'size', { value: 100 * 1024 * 1024 })
    Object.defineProperty(huge, 'text', { value: () => Promise.reject(new Error('it was read')) })
    await planOpen(stores, desk, huge)
    expect(await screen.findByText(/100 MB large/)).toBeVisible()
  })

  it('puts a good one on the desk and lays the one before it aside', async () => {
    const { stores, desk } = renderOnDesk(<Notice />)
    const before = stores.plan.getState().plan
    await planOpen(stores, desk, fileOf(good.replace('Test quay', 'Another quay'), 'other.json'))
    expect(stores.plan.getState().plan.railway.title).toBe('Another quay')
    expect(await screen.findByText(/other\.json is open/)).toBeVisible()
    planTakeBack(stores, desk)
    expect(stores.plan.getState().plan).toBe(before)
  })

  it.each<[KeepStatus, RegExp]>([
    [{ kind: 'kept', atMs: 0 }, /stands on the shelf/],
    [{ kind: 'fresh' }, /not changed, so it is not kept/],
    [{ kind: 'elsewhere', hasOwn: true }, /kept by the other page; what was changed of it here can be taken back/],
    [{ kind: 'elsewhere', hasOwn: false }, /kept by the other page\.$/],
    [{ kind: 'failed', reason: 'full', message: '' }, /not kept in this browser; it can be taken back/],
  ])('says what becomes of the plan before when that is %j', async (status, words) => {
    const { stores, desk } = renderOnDesk(<Notice />)
    desk.getState().keeper?.status.setState(status, true)
    await planOpen(stores, desk, fileOf(good, 'other.json'))
    expect(stores.session.getState().notice).toMatch(words)
    expect(desk.getState().laidAside).toMatchObject({ planId: 'desk' })
  })
})
