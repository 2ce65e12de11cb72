import { readFileSync } from 'node:fs'
import { strFromU8, unzipSync } from 'fflate'
import { describe, expect, inject, it } from 'vitest'
import { deskOpen, expectNoErrors } from '../support/desk.ts'
import { contextOpen, journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

describe('a jig for the printer', () => {
  it('is made on the desk and saved; the kernel comes only when it is asked for', async () => {
    const context = await contextOpen(browser)
    const fetched: string[] = []
    context.on('request', (request) => fetched.push(request.url()))
    const desk = await deskOpen(browser, inject('appAddress'), context)
    const { page } = desk
    await page.waitForLoadState('networkidle')
    expect(fetched.filter((url) => /manifold|JigsSheet/.test(url))).toEqual([])
    await desk.menu('File', /^Jigs to print or cut/)
    await page.getByLabel('Jig', { exact: true }).selectOption('Curve template')
    const radius = page.getByRole('textbox', { name: 'Radius', exact: true })
    await radius.fill('24 in')
    await radius.press('Enter')
    await page.getByText('R 24 in').waitFor()
    await page.locator('.jig-picture[aria-busy="false"]').waitFor()
    expect(fetched.some((url) => /manifold.*\.wasm/.test(url))).toBe(true)
    // Something is drawn: the middle of the picture is not the ground.
    const inked = await page.locator('canvas.jig-picture').evaluate((canvas) => {
      const { width, height } = canvas as HTMLCanvasElement
      const data = (canvas as HTMLCanvasElement).getContext('2d')?.getImageData(0, 0, width, height).data ?? []
      return (
        Array.from({ length: width * height }, (_, i) => data[4 * i + 3] ?? 0).filter((opacity) => opacity > 0).length / (width * height)
      )
    })
    expect(inked).toBeGreaterThan(0.1)
    const download = page.waitForEvent('download')
    await desk.button('Save the jig')
    const file = await download
    expect(file.suggestedFilename()).toBe('curve-template.3mf')
    const model = strFromU8(unzipSync(new Uint8Array(readFileSync(await file.path())))['3D/3dmodel.model'] ?? new Uint8Array())
    expect(model).toContain('unit="millimeter"')
    expect(model.match(/<triangle /g)?.length).toBeGreaterThan(100)
    await page.getByText('Saved as curve-template.3mf').waitFor()
    expectNoErrors(desk)
    await context.close()
  })
})
