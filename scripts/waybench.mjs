// The command line: installs and builds itself when something is newer, then runs the built file in this process.
import { spawnSync } from 'node:child_process'
import { mkdirSync, renameSync, rmSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { ensureInstalled } from './ensure.mjs'
import { isStale } from './stale.mjs'

const root = join(dirname(fileURLToPath(import.meta.url)), '..')
const built = 'dist-cli/waybench.mjs'
const sources = ['src/core', 'src/formats', 'src/engine', 'src/cli', 'vite.cli.config.ts', 'package-lock.json']

/** Builds beside the old file and puts the new one in its place in one step: two runs at once never see half a file. */
function build() {
  const fresh = `dist-cli/fresh-${process.pid}`
  const vite = join(root, 'node_modules', 'vite', 'bin', 'vite.js')
  mkdirSync(join(root, 'dist-cli'), { recursive: true })
  try {
    // The build's own words go to standard error: standard output belongs to the answer.
    const done = spawnSync(process.execPath, [vite, 'build', '--config', 'vite.cli.config.ts', '--outDir', fresh], {
      cwd: root,
      stdio: ['ignore', 2, 2],
    })
    if (done.status !== 0) throw new Error('The command line could not be built; the lines above say why.')
    renameSync(join(root, fresh, 'waybench.mjs'), join(root, built))
  } finally {
    rmSync(join(root, fresh), { recursive: true, force: true })
  }
}

try {
  ensureInstalled()
  if (isStale(sources, built)) build()
  await import(pathToFileURL(join(root, built)).href)
} catch (error) {
  console.error(error instanceof Error ? error.message : error)
  process.exitCode = 3
}
