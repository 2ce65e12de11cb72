import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import type { Desk } from '../support/desk.ts'
import { contextOpen, journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()
let desk: Desk
const folder = mkdtempSync(join(tmpdir(), 'waybench-files-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))
/** A desk of its own for each test of a group, or one for all of it where nothing is to change on it. */
function onDesk(begin: typeof beforeEach | typeof beforeAll, end: typeof afterEach | typeof afterAll): void {
  begin(async () => {
    desk = await deskOpen(browser, inject('appAddress'))
  })
  end(() => desk.context.close())
}

async function openFile(name: string, content: string | Buffer): Promise<void> {
  const path = join(folder, name)
  writeFileSync(path, content)
  const chooser = desk.page.waitForEvent('filechooser')
  await desk.menu('File', /^Open a plan/)
  await (await chooser).setFiles(path)
}

const shelf = readFileSync(join('public', 'demo', 'shelf.json'), 'utf8')

describe('a plan file', () => {
  onDesk(beforeEach, afterEach)

  it('opens, and is saved again with all it carried, also what this version does not know', async () => {
    const carried = JSON.parse(shelf) as { tracks: Record<string, Record<string, unknown>> }
    const track = carried.tracks['track-1']
    if (track === undefined) throw new Error('The demo shelf has lost its track.')
    track['madeBy'] = 'a later version'
    await openFile('shelf.json', JSON.stringify(carried))
    await expect.poll(() => desk.page.getByText('Fennimore Ice House Shelf').count()).toBeGreaterThan(0)
    expect(await desk.savedPlan()).toEqual(carried)
    expectNoErrors(desk)
  })
})

describe('a plan file', () => {
  onDesk(beforeAll, afterAll)
  let count = 0

  it.each([
    ['cut short', shelf.slice(0, shelf.length / 2), /damaged|cut|end/i],
    ['from a newer version', shelf.replace(/"version": \d+/, '"version": 999'), /newer|999/i],
    ['something else', '{"hello": "world"}', /plan/i],
    ['not JSON at all', Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 1, 2, 3]), /damaged|JSON|plan/i],
    ['with a radius that is no length', shelf.replace('"minRadiusMm": 230', '"minRadiusMm": -5'), /minRadiusMm|radius/i],
    ['huge', Buffer.alloc(100 * 1024 * 1024, 0x20), /MB|large|big/i],
  ])('%s is refused in words and the plan on the desk stays', async (_what, content, words) => {
    const before = await desk.savedPlan()
    // The words are those about this file.
    const name = `bad-${(count += 1)}.json`
    await openFile(name, content)
    const said = async (): Promise<string> => desk.page.getByText(name).first().innerText()
    await expect.poll(async () => (await said()).replace('The plan on the desk is untouched.', '')).toMatch(words)
    expect(await desk.savedPlan()).toEqual(before)
    expectNoErrors(desk)
  })
})

describe('a file that is let fall on the page', () => {
  onDesk(beforeEach, afterEach)

  it('is opened, and a damaged one is refused with nothing lost', async () => {
    const fall = (name: string, text: string): Promise<void> =>
      desk.page.evaluate(
        ([fileName, content]) => {
          const dataTransfer = new DataTransfer()
          dataTransfer.items.add(new File([content], fileName, { type: 'application/json' }))
          const on = document.querySelector('[role="application"]')
          on?.dispatchEvent(new DragEvent('drop', { dataTransfer, bubbles: true, cancelable: true }))
        },
        [name, text] as const,
      )
    await fall('shelf.json', shelf)
    await expect.poll(() => desk.page.getByText(/shelf\.json is open/).count()).toBe(1)
    const before = await desk.savedPlan()
    await fall('half.json', shelf.slice(0, shelf.length / 2))
    await expect.poll(() => desk.page.getByText(/half\.json was not opened.*untouched/).count()).toBe(1)
    expect(await desk.savedPlan()).toEqual(before)
    expectNoErrors(desk)
  })
})

describe('a file of the person', () => {
  onDesk(beforeEach, afterEach)

  it('is written by the browser and written again after the next change', async () => {
    // The system's own dialog cannot be pressed here; a file in the browser's own folder is written by the same means.
    await desk.context.addInitScript(() => {
      const pick = async (): Promise<FileSystemFileHandle> =>
        (await navigator.storage.getDirectory()).getFileHandle('quay.json', { create: true })
      Object.assign(window, { showSaveFilePicker: pick })
    })
    await desk.page.reload()
    await desk.page.getByRole('application').waitFor()
    const inFile = async (): Promise<unknown> =>
      JSON.parse(
        await desk.page.evaluate(async () => {
          const handle = await (await navigator.storage.getDirectory()).getFileHandle('quay.json')
          return (await handle.getFile()).text()
        }),
      )
    await desk.menu('File', /^Save into a file of yours/)
    await expect.poll(() => desk.page.getByText('Saved into quay.json.').count()).toBe(1)
    expect(await inFile()).toEqual(await desk.savedPlan())
    const field = desk.page.getByRole('complementary', { name: 'Particulars' }).getByRole('textbox', { name: 'Title' })
    await field.fill('Pier')
    await field.press('Enter')
    await desk.menu('File', /^Save again into quay\.json/)
    await expect.poll(inFile).toMatchObject({ railway: { title: 'Pier' } })
    expectNoErrors(desk)
  })
})

describe('a plan as a link', () => {
  onDesk(beforeEach, afterEach)

  it('goes to another browser whole, and asks nobody on the way', async () => {
    await openFile('shelf.json', shelf)
    await expect.poll(() => desk.page.getByText(/shelf\.json is open/).count()).toBe(1)
    const plan = await desk.savedPlan()
    await desk.menu('File', /^The plan as a link/)
    const link = await desk.page.getByRole('textbox', { name: 'Link' }).inputValue()
    const other = await contextOpen(browser)
    const asked: string[] = []
    other.on('request', (request) => asked.push(request.url()))
    const there = await deskOpen(browser, link, other)
    await there.button('Open it')
    expect(await there.savedPlan()).toEqual(plan)
    // A fragment stays in the browser.
    expect(asked.filter((url) => url.includes('#') || url.includes('plan='))).toEqual([])
    expectNoErrors(there)
    await other.close()
  })
})
