// Takes the picture of the README: the built app with its demo railway, in the browser of the dev dependencies.
// Usage: node scripts/screenshot.mjs [file] [light|dark] [width] [height]
import { build, preview } from 'vite'
import { browserLaunch } from './browser.mjs'
import { isStale } from './stale.mjs'

const [file = 'docs/waybench.png', scheme = 'light', width = '1440', height = '900'] = process.argv.slice(2)

if (isStale(['src', 'public', 'index.html', 'vite.config.ts'], 'dist/index.html')) await build({ logLevel: 'warn' })
const server = await preview({ logLevel: 'error', preview: { port: 0, open: false } })
const browser = await browserLaunch()
try {
  const page = await browser.newPage({ viewport: { width: Number(width), height: Number(height) }, colorScheme: scheme })
  page.on('pageerror', (error) => console.error(error.message))
  await page.goto(server.resolvedUrls.local[0])
  await page.getByRole('navigation').waitFor()
  await page.waitForTimeout(1000)
  await page.screenshot({ path: file })
  console.log(`Wrote ${file}`)
} finally {
  await browser.close()
  await server.close()
}
