import { gzipSync } from 'node:zlib'
import { build, preview } from 'vite'
import { browserLaunch } from '../scripts/browser.mjs'
import type { BenchRow, BenchTable } from './report.ts'

const limitKb = 300
/** What comes at rest, after the first picture, has come by then. */
const settleMs = 2000

/** What a first visit brings over the wire until the demo railway stands: every answer, gzipped, fonts and demo plan too. */
export async function benchFirstLoad(): Promise<BenchTable> {
  await build({ logLevel: 'error' })
  const server = await preview({ logLevel: 'error', preview: { port: 0, open: false } })
  const browser = await browserLaunch()
  try {
    const page = await browser.newPage()
    const answers: Promise<{ readonly name: string; readonly kb: number }>[] = []
    page.on('response', (response) => {
      const name = new URL(response.url()).pathname.split('/').at(-1) || 'index.html'
      answers.push(response.body().then((body) => ({ name, kb: gzipSync(body, { level: 9 }).length / 1000 })))
    })
    await page.goto(server.resolvedUrls?.local[0] ?? '')
    await page.locator('g.plan .rail-layer path').first().waitFor({ state: 'attached' })
    await page.waitForLoadState('networkidle')
    // Faces are asked for when text is first drawn with them.
    await page.evaluate(async () => {
      await document.fonts.ready
    })
    await page.waitForTimeout(settleMs)
    const loaded = (await Promise.all(answers)).sort((a, b) => b.kb - a.kb)
    const total = loaded.reduce((sum, { kb }) => sum + kb, 0)
    const rows: BenchRow[] = loaded.map(({ name, kb }) => ({ what: name, figure: `${kb.toFixed(1)} kB`, note: '' }))
    return {
      title: 'First load of the built app',
      target: `under ${limitKb} kB gzipped before PDF and solver parts`,
      isMet: total < limitKb,
      rows: [{ what: 'all together', figure: `${total.toFixed(1)} kB`, note: 'gzip -9, as a static host serves it' }, ...rows],
    }
  } finally {
    await browser.close()
    await server.close()
  }
}
