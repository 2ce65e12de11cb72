import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, beforeEach, describe, expect, inject, it } from 'vitest'
import { browserLaunch } from '../../scripts/browser.mjs'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import type { Desk } from '../support/desk.ts'

let browser: Browser
let desk: Desk
const folder = mkdtempSync(join(tmpdir(), 'waybench-files-'))
beforeAll(async () => {
  browser = await browserLaunch()
})
afterAll(async () => {
  await browser.close()
  rmSync(folder, { recursive: true, force: true })
})
beforeEach(async () => {
  desk = await deskOpen(browser, inject('appAddress'))
})

async function openFile(name: string, content: string | Buffer): Promise<void> {
  const path = join(folder, name)
  writeFileSync(path, content)
  const chooser = desk.page.waitForEvent('filechooser')
  await desk.menu('File', /^Open a plan/)
  await (await chooser).setFiles(path)
}

const shelf = readFileSync(join('public', 'demo', 'shelf.json'), 'utf8')

describe('a plan file', () => {
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

  it.each([
    ['cut short', shelf.slice(0, shelf.length / 2), /damaged|cut|end/i],
    ['from a newer version', shelf.replace(/"version": \d+/, '"version": 999'), /newer|999/i],
    ['something else', '{"hello": "world"}', /plan/i],
    ['not JSON at all', Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 1, 2, 3]), /damaged|JSON|plan/i],
    ['with a radius that is no length', shelf.replace('"minRadiusMm": 230', '"minRadiusMm": -5'), /minRadiusMm|radius/i],
    ['huge', Buffer.alloc(100 * 1024 * 1024, 0x20), /MB|large|big/i],
  ])('%s is refused in words and the plan on the desk stays', async (_what, content, words) => {
    const before = await desk.savedPlan()
    await openFile('bad.json', content)
    await expect.poll(() => desk.page.locator('body').innerText()).toMatch(words)
    expect(await desk.savedPlan()).toEqual(before)
    expectNoErrors(desk)
  })
})

describe('two pages on one plan', () => {
  it('do not write over each other: the second is told', async () => {
    const second = await deskOpen(browser, inject('appAddress'), desk.context)
    await expect.poll(() => second.page.getByText(/another|elsewhere/i).count()).toBeGreaterThan(0)
    expectNoErrors(desk)
    expectNoErrors(second)
  })
})
