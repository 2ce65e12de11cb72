// The command line: installs and builds itself when something is newer, then runs the built file in this process.
import { spawnSync } from 'node:child_process'
import { mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { ensureInstalled } from './ensure.mjs'
import { isStale } from './stale.mjs'

const root = join(dirname(fileURLToPath(import.meta.url)), '..')
const folder = join(root, 'dist-cli')
const entry = 'waybench.mjs'
const sources = ['src/core', 'src/formats', 'src/engine', 'src/words', 'src/cli', 'vite.cli.config.ts', 'package-lock.json']

/** A run that started before the build may still load its own parts; they go after ten minutes. */
const keepOldMs = 600_000

/** Builds beside the old files and puts the entry in its place last, in one step: two runs at once never see half a build. */
function build() {
  const fresh = join(folder, `fresh-${process.pid}`)
  const vite = join(root, 'node_modules', 'vite', 'bin', 'vite.js')
  mkdirSync(folder, { recursive: true })
  try {
    // The build's own words go to standard error: standard output belongs to the answer.
    const done = spawnSync(process.execPath, [vite, 'build', '--config', 'vite.cli.config.ts', '--outDir', fresh], {
      cwd: root,
      stdio: ['ignore', 2, 2],
    })
    if (done.status !== 0) throw new Error('The command line could not be built; the lines above say why.')
    const names = readdirSync(fresh)
    const parts = names.filter((name) => name !== entry)
    for (const name of [...parts, entry]) renameSync(join(fresh, name), join(folder, name))
    const old = readdirSync(folder).filter((name) => name.endsWith('.mjs') && !names.includes(name))
    for (const name of old) if (Date.now() - statSync(join(folder, name)).mtimeMs > keepOldMs) rmSync(join(folder, name), { force: true })
  } finally {
    rmSync(fresh, { recursive: true, force: true })
  }
}

try {
  ensureInstalled()
  if (isStale(sources, `dist-cli/${entry}`)) build()
  await import(pathToFileURL(join(folder, entry)).href)
} catch (error) {
  console.error(error instanceof Error ? error.message : error)
  process.exitCode = 3
}
