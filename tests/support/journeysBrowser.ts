import type { Browser, BrowserContext, BrowserContextOptions } from 'playwright-core'
import { afterAll } from 'vitest'
import { browserLaunch } from '../../scripts/browser.mjs'

let launched: Promise<Browser> | null = null

/**
 * The browser of all journeys of a worker, begun by the first of them: it takes longer to begin than many a journey. It ends with the
 * worker; what a file leaves open in it is shut when the file is done, so that no page works on beside the next journey.
 */
export async function journeysBrowser(): Promise<Browser> {
  launched ??= browserLaunch()
  let browser = await launched
  if (!browser.isConnected()) {
    launched = browserLaunch()
    browser = await launched
  }
  afterAll(async () => {
    for (const context of browser.contexts()) await context.close()
  })
  return browser
}

/**
 * The browser of one person, with a window as large as a desk has it. Nothing is kept in it for work without a network unless that is asked for:
 * the whole workbench would be fetched and put away beside each journey. The journeys of that are in offline.test.ts.
 */
export function contextOpen(browser: Browser, options: BrowserContextOptions = {}): Promise<BrowserContext> {
  return browser.newContext({
    viewport: { width: 1440, height: 900 },
    acceptDownloads: true,
    reducedMotion: 'reduce',
    serviceWorkers: 'block',
    ...options,
  })
}
