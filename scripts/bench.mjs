// npm run bench: bundles bench/main.ts for Node as a user's bundler would, runs it, writes bench/RESULTS.md.
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build } from 'vite'

await build({
  configFile: false,
  logLevel: 'warn',
  build: { ssr: 'bench/main.ts', outDir: 'dist-bench', emptyOutDir: true, target: 'node20' },
  ssr: { noExternal: ['clipper2-ts', 'flatbush', 'valibot'] },
})
const { main } = await import(pathToFileURL(join('dist-bench', 'main.js')).href)
await main()
