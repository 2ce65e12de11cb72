import { gzipSync } from 'node:zlib'
import { build, preview } from 'vite'
import { browserLaunch } from '../scripts/browser.mjs'
import type { BenchRow, BenchTable } from './report.ts'

const limitKb = 300
/** What the page's head names: without it nothing is seen. */
const scriptLimitKb = 200
/** What comes at rest, after the first picture, has come by then. */
const settleMs = 2000

/** Fetched anew: the browser tells no body of what the page took as a blob, the demo plan above all. */
async function gzippedKb(url: string): Promise<number> {
  const body = await (await fetch(url)).arrayBuffer()
  return gzipSync(new Uint8Array(body), { level: 9 }).length / 1000
}

/** What a first visit brings over the wire until the demo railway stands: every answer, gzipped, fonts and demo plan too. */
export async function benchFirstLoad(): Promise<BenchTable> {
  await build({ logLevel: 'error' })
  const server = await preview({ logLevel: 'error', preview: { port: 0, open: false } })
  const browser = await browserLaunch()
  try {
    const page = await browser.newPage()
    // What page and worker share has one name, and comes over the wire once.
    const addresses = new Set<string>()
    page.on('response', (response) => addresses.add(response.url()))
    await page.goto(server.resolvedUrls?.local[0] ?? '')
    await page.locator('g.plan .rail-layer path').first().waitFor({ state: 'attached' })
    await page.waitForLoadState('networkidle')
    // Faces are asked for when text is first drawn with them.
    await page.evaluate(async () => {
      await document.fonts.ready
    })
    await page.waitForTimeout(settleMs)
    // Scripts of the page stand in its head, also those that it asked for later; what else came is of the worker.
    const ofPage = new Set(
      await page.evaluate(() =>
        [...document.querySelectorAll<HTMLLinkElement | HTMLScriptElement>('link, script')].map((part) =>
          'src' in part ? part.src : part.href,
        ),
      ),
    )
    const loaded = await Promise.all(
      [...addresses].map(async (url) => ({
        name: new URL(url).pathname.split('/').at(-1) || 'index.html',
        kb: await gzippedKb(url),
        isOfPage: !url.endsWith('.js') || ofPage.has(url),
      })),
    )
    loaded.sort((one, other) => other.kb - one.kb)
    const sum = (parts: typeof loaded): number => parts.reduce((total, { kb }) => total + kb, 0)
    const [pageKb, workerKb] = [true, false].map((isOfPage) => sum(loaded.filter((part) => part.isOfPage === isOfPage)))
    const names = [...(await (await fetch(server.resolvedUrls?.local[0] ?? '')).text()).matchAll(/(?:src|href)="\.\/(assets\/[^"]+\.js)"/g)]
    const scriptKb = (
      await Promise.all(names.map(([, name]) => gzippedKb(new URL(name ?? '', server.resolvedUrls?.local[0]).href)))
    ).reduce((total, kb) => total + kb, 0)
    const figure = (kb: number | undefined): string => `${(kb ?? Number.NaN).toFixed(1)} kB`
    const rows: BenchRow[] = loaded.map(({ name, kb, isOfPage }) => ({
      what: name,
      figure: figure(kb),
      note: isOfPage ? '' : 'the checks, in their worker',
    }))
    return {
      title: 'First load of the built app',
      target: `the page under ${limitKb} kB gzipped before PDF and solver parts, its initial script under ${scriptLimitKb} kB`,
      isMet: (pageKb ?? Number.NaN) < limitKb && scriptKb < scriptLimitKb,
      rows: [
        { what: 'the page, until the demo railway stands', figure: figure(pageKb), note: 'gzip -9, as a static host serves it' },
        { what: 'its initial script', figure: figure(scriptKb), note: 'what index.html names' },
        {
          what: 'the checks, which come to their worker meanwhile',
          figure: figure(workerKb),
          note: 'without what they share with the page',
        },
        ...rows,
      ],
    }
  } finally {
    await browser.close()
    await server.close()
  }
}
