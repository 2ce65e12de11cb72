import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { describe, expect, inject, it } from 'vitest'
import { planRead } from '../../src/formats/planjson.ts'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import type { Desk } from '../support/desk.ts'
import { contextOpen, journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

/** The machine does other work as well. */
const patience = { timeout: 8000 }

const title = ({ page }: Desk): Promise<string> => page.locator('.masthead .railway').innerText()
const says = ({ page }: Desk, text: RegExp): Promise<void> => expect.poll(() => page.getByText(text).count(), patience).toBe(1)

async function rename(desk: Desk, from: RegExp, to: string): Promise<void> {
  const name = desk.page.getByRole('textbox', { name: from }).last()
  await name.fill(to)
  await name.press('Enter')
}

/** Gives the railway on the desk another name: a change that is soon made and seen. */
async function christen({ page }: Desk, name: string): Promise<void> {
  await page.locator('.masthead .railway').click()
  const field = page.getByRole('complementary', { name: 'Particulars' }).getByRole('textbox', { name: 'Title' }).first()
  await field.fill(name)
  await field.press('Enter')
}

/** A page that dies has no time for anything. */
async function crash(page: Page): Promise<void> {
  const crashed = page.waitForEvent('crash')
  const wire = await page.context().newCDPSession(page)
  // The dead give no answer.
  void wire.send('Page.crash').catch(() => undefined)
  await crashed
}

describe('plans that are kept in the browser', () => {
  it('stand on a shelf, are seen in two pages at once, and are there after a crash', async () => {
    const desk = await deskOpen(browser, inject('appAddress'))
    const { page } = desk
    await desk.menu('File', /^Plans in this browser/)
    await page.getByRole('button', { name: 'Duplicate' }).click()
    await rename(desk, /second$/, 'Other quay')
    await page.getByRole('button', { name: 'Open', exact: true }).click()
    await expect.poll(() => title(desk), patience).toMatch(/Other quay/)
    await says(desk, /^Kept at/)

    const second = await deskOpen(browser, inject('appAddress'), desk.context)
    await says(second, /Another page keeps this plan/)
    await page.bringToFront()
    await christen(desk, 'Seen by both')
    await expect.poll(() => title(second), patience).toMatch(/Seen by both/)
    expectNoErrors(second)
    await second.page.close()

    await crash(page)
    const again = await deskOpen(browser, inject('appAddress'), desk.context)
    expect(await title(again)).toMatch(/Seen by both/)
    await again.menu('File', /^Plans in this browser/)
    await again.page.getByRole('button', { name: 'Versions' }).first().click()
    await again.page.getByRole('button', { name: 'Compare with now' }).first().click()
    await expect.poll(() => again.page.getByText(/The railway as a whole differs in title/).count(), patience).toBe(1)
    await expect.poll(() => again.page.getByRole('img', { name: /Both plans/ }).count(), patience).toBe(1)
    expectNoErrors(again)
    await desk.context.close()
  })

  it('have one page each that writes them: another plan is free, the same one can be taken over, and a page that dies lets go', async () => {
    const first = await deskOpen(browser, inject('appAddress'))
    await christen(first, 'Quay')
    await says(first, /^Kept at/)
    const second = await deskOpen(browser, inject('appAddress'), first.context)
    await says(second, /Another page keeps this plan/)
    await second.menu('File', /^New room/)
    await second.button('Begin the new room')
    await says(second, /^Kept at/)
    await christen(first, 'Quay again')
    await christen(second, 'Pier')
    for (const desk of [first, second]) await says(desk, /^Kept at/)
    expect([await title(first), await title(second)]).toEqual([expect.stringMatching(/^Quay again/), expect.stringMatching(/^Pier/)])
    // Each comes back to its own.
    await first.page.reload()
    await expect.poll(() => title(first), patience).toMatch(/^Quay again/)

    await second.menu('File', /^Plans in this browser/)
    await second.page.getByText(/open in another page/).waitFor()
    await second.page.getByRole('button', { name: 'Open', exact: true }).click()
    await says(second, /Another page keeps this plan/)
    await christen(second, 'Quay of the second')
    await says(second, /What you changed here is not kept/)
    await second.button('Keep it from here')
    await says(second, /^Kept at/)
    await says(first, /Another page keeps this plan; this one shows/)
    await expect.poll(() => title(first), patience).toMatch(/^Quay of the second/)
    await crash(second.page)
    await says(first, /^Kept at/)
    await christen(first, 'Quay at last')
    await says(first, /^Kept at/)
    expectNoErrors(first)
    await first.context.close()
  })

  it('are there after the page died at any moment: an open drag is lost and nothing else', async () => {
    let desk = await deskOpen(browser, inject('appAddress'))
    const corner = Object.values((await desk.savedPlan()).tracks).flatMap(({ corners }) => corners)[0]
    if (corner === undefined) throw new Error('The demo has no corner.')
    const { context } = desk
    // The first of them is the first change of the demo, of which nothing lies on the shelf yet.
    for (const [n, waitMs] of [0, 0, 30].entries()) {
      await christen(desk, `Step ${n}`)
      if (waitMs > 0) await desk.page.waitForTimeout(waitMs)
      await crash(desk.page)
      desk = await deskOpen(browser, inject('appAddress'), context)
      await expect.poll(() => title(desk), patience).toMatch(new RegExp(`^Step ${n}\\b`))
    }
    const before = await desk.savedPlan()
    await desk.stage('Line')
    await desk.clickAt(corner.x, corner.y)
    await desk.moveTo(corner.x, corner.y)
    await desk.page.mouse.down()
    for (const step of [20, 60, 120]) await desk.moveTo(corner.x + step, corner.y + step)
    await crash(desk.page)
    desk = await deskOpen(browser, inject('appAddress'), context)
    expect(await desk.savedPlan()).toEqual(before)
    // The steps are there too.
    await desk.button(/^Undo: /)
    await expect.poll(() => title(desk), patience).toMatch(/^Step 1\b/)
    expectNoErrors(desk)
    await context.close()
  })

  it('are not written over when a newer version wrote them', async () => {
    const desk = await deskOpen(browser, inject('appAddress'))
    await christen(desk, 'Quay')
    await says(desk, /^Kept at/)
    // A newer version puts what this one does not know.
    const alter = (change: { readonly version: number } | null): Promise<unknown> =>
      desk.page.evaluate(
        (to) =>
          new Promise((resolve, reject) => {
            const opening = indexedDB.open('waybench')
            opening.addEventListener('error', () => reject(new Error('not opened')))
            opening.addEventListener('success', () => {
              const kept = opening.result.transaction('kept', 'readwrite').objectStore('kept')
              const all = kept.getAll()
              all.addEventListener('success', () => {
                const [plan] = all.result as { document: object }[]
                if (to !== null) kept.put({ ...plan, document: { ...plan?.document, ...to } })
                opening.result.close()
                resolve(all.result)
              })
            })
          }),
        change,
      )
    await alter({ version: 99 })
    await desk.page.reload()
    await says(desk, /cannot be opened.*version 99.*stays on the shelf, unharmed/)
    await christen(desk, 'Another')
    await says(desk, /^Kept at/)
    expect(await alter(null)).toContainEqual(
      expect.objectContaining({ document: expect.objectContaining({ version: 99, railway: expect.objectContaining({ title: 'Quay' }) }) }),
    )
    await desk.menu('File', /^Plans in this browser/)
    const download = desk.page.waitForEvent('download')
    await desk.button('Save it as it is')
    const saved = JSON.parse(readFileSync(await (await download).path(), 'utf8')) as object
    expect(saved).toMatchObject({ version: 99, railway: { title: 'Quay' } })
    expectNoErrors(desk)
    await desk.context.close()
  })
})

describe('a browser that does not keep', () => {
  it('because it is full tells so at once; work goes on and can be saved to a file', async () => {
    const context = await contextOpen(browser)
    const wire = await context.newCDPSession(await context.newPage())
    const { origin } = new URL(inject('appAddress'))
    // Before the first page: from a first write on the browser trusts what room there was for half a minute.
    await wire.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 })
    const desk = await deskOpen(browser, inject('appAddress'), context)
    await christen(desk, 'Quay')
    await christen(desk, 'Full quay')
    await says(desk, /room of this browser is full/)
    const download = desk.page.waitForEvent('download')
    await desk.button('Save it now')
    const saved = planRead(readFileSync(await (await download).path(), 'utf8'))
    expect(saved).toMatchObject({ ok: true, plan: { railway: { title: 'Full quay' } } })
    await desk.button(/^Undo: /)
    await expect.poll(() => title(desk), patience).toMatch(/^Quay/)
    await wire.send('Storage.overrideQuotaForOrigin', { origin })
    await desk.page.evaluate(() => navigator.storage.estimate())
    await christen(desk, 'Quay with room')
    await says(desk, /^Kept at/)
    expectNoErrors(desk)
    await desk.context.close()
  })

  it('because it is forbidden tells so at once; work goes on and can be saved to a file', async () => {
    const context = await contextOpen(browser)
    // As a browser does whose owner forbids pages to keep anything: no store may even be touched.
    await context.addInitScript(() => {
      const forbidden = (): never => {
        throw new DOMException('denied', 'SecurityError')
      }
      for (const store of ['indexedDB', 'localStorage', 'sessionStorage', 'caches'])
        Object.defineProperty(window, store, { get: forbidden })
    })
    const desk = await deskOpen(browser, inject('appAddress'), context)
    await says(desk, /lets pages keep nothing/)
    await christen(desk, 'Unkept')
    await says(desk, /lets pages keep nothing/)
    const download = desk.page.waitForEvent('download')
    await desk.button('Save it now')
    expect(planRead(readFileSync(await (await download).path(), 'utf8'))).toMatchObject({ plan: { railway: { title: 'Unkept' } } })
    expectNoErrors(desk)
    await context.close()
  })
})
