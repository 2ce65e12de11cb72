import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { Browser, Page } from 'playwright-core'

/** Where a page of a PDF is laid on the picture: its own pixels (y down, from the upper left) turned, then moved. */
export interface LaidPage {
  readonly page: number
  readonly turnRad: number
  readonly x: number
  readonly y: number
}

export interface Picture {
  readonly width: number
  readonly height: number
  /** 1 where it is darker than three fifths of white. */
  readonly dark: Uint8Array
}

export interface Raster {
  /** Names of the layers of the PDF as the viewer lists them. */
  readonly layers: readonly string[]
  readonly picture: (laid: LaidPage, width: number, height: number, shown: readonly string[]) => Promise<Picture>
}

const host = 'http://pdf.invalid/'
const files = ['pdf.mjs', 'pdf.worker.mjs']

const script = `
import { getDocument, GlobalWorkerOptions } from './pdf.mjs'
GlobalWorkerOptions.workerSrc = './pdf.worker.mjs'
window.pdfOpen = async (data, pxPerMm) => {
  const bytes = Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0))
  const doc = await getDocument({ data: bytes, verbosity: 0 }).promise
  window.pdfDraw = async ({ page: number, turnRad, x, y }, width, height, shown) => {
    const page = await doc.getPage(number)
    const config = await doc.getOptionalContentConfig()
    for (const [id, group] of config) config.setVisibility(id, shown.includes(group.name))
    const canvas = document.createElement('canvas')
    canvas.width = width
    canvas.height = height
    const context = canvas.getContext('2d', { willReadFrequently: true })
    const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)]
    await page.render({
      canvas: null,
      canvasContext: context,
      viewport: page.getViewport({ scale: (pxPerMm * 25.4) / 72 }),
      transform: [cos, sin, -sin, cos, x, y],
      optionalContentConfigPromise: Promise.resolve(config),
      background: '#fff',
    }).promise
    const { data: rgba } = context.getImageData(0, 0, width, height)
    let text = ''
    for (let i = 0; i < width * height; i++) text += rgba[4 * i] < 150 ? '1' : '0'
    return text
  }
  return [...await doc.getOptionalContentConfig()].map(([, group]) => group.name)
}
document.title = 'ready'
`

/** Turns pages of a PDF to pixels with pdf.js in a browser: no tool of the system is needed, and nothing of the writer's code is used. */
export async function pdfRaster(browser: Browser, bytes: Uint8Array, pxPerMm: number): Promise<Raster> {
  const page = await browser.newPage()
  const build = createRequire(import.meta.url)
    .resolve('pdfjs-dist/build/pdf.mjs')
    .replace(/pdf\.mjs$/, '')
  await page.route(`${host}**`, async (route) => {
    const name = new URL(route.request().url()).pathname.slice(1)
    if (files.includes(name)) await route.fulfill({ contentType: 'text/javascript', body: readFileSync(build + name, 'utf8') })
    else if (name === '') await route.fulfill({ contentType: 'text/html', body: `<!doctype html><script type="module">${script}</script>` })
    else await route.fulfill({ status: 404, body: '' })
  })
  await page.goto(host)
  await page.waitForFunction("document.title === 'ready'")
  const layers = await run<readonly string[]>(page, 'pdfOpen', Buffer.from(bytes).toString('base64'), pxPerMm)
  return {
    layers,
    picture: async (laid, width, height, shown) => {
      const text = await run<string>(page, 'pdfDraw', laid, width, height, shown)
      return { width, height, dark: Uint8Array.from(text, (letter) => (letter === '1' ? 1 : 0)) }
    },
  }
}

function run<R>(page: Page, name: string, ...values: readonly unknown[]): Promise<R> {
  return page.evaluate(`window.${name}(...${JSON.stringify(values)})`)
}
