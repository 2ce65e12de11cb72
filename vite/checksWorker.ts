import { dirname, join } from 'node:path'
import type { Plugin } from 'vite'

const address = "new URL('./checksWorkerMain.ts', import.meta.url)"

/**
 * Builds the worker of the checks with the page instead of by itself: what both need (geometry, turnouts, the network) is then one file
 * that comes over the wire once. While the app is worked on, Vite serves the worker as it is.
 */
export function checksWorkerPlugin(): Plugin {
  return {
    name: 'checks-worker',
    apply: 'build',
    enforce: 'pre',
    transform(code, id) {
      if (!id.endsWith('/src/engine/checksWorker.ts')) return null
      if (!code.includes(address)) this.error(`checksWorker.ts does not start its worker by ${address}`)
      const chunk = this.emitFile({ type: 'chunk', id: join(dirname(id), 'checksWorkerMain.ts'), name: 'checksWorker' })
      return { code: code.replace(address, `import.meta.ROLLUP_FILE_URL_${chunk}`), map: null }
    },
  }
}
