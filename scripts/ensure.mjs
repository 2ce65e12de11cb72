// Installs what package.json and the lock ask for, only when it is not there yet. Plain Node, no dependency:
// it runs before node_modules exists.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = join(dirname(fileURLToPath(import.meta.url)), '..')
const stampFile = join(root, 'node_modules', '.waybench-stamp')
const minimum = [20, 19]

function nodeIsOldEnough() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number)
  return major > minimum[0] || (major === minimum[0] && minor >= minimum[1])
}

function stampWanted() {
  const hash = createHash('sha256')
  for (const name of ['package.json', 'package-lock.json']) hash.update(readFileSync(join(root, name)))
  return hash.update(`${process.platform} ${process.arch}`).digest('hex')
}

/** Throws with a plain sentence when the machine cannot run Waybench. */
export function ensureInstalled() {
  if (!nodeIsOldEnough()) throw new Error(`Waybench needs Node ${minimum.join('.')} or newer; this is ${process.versions.node}.`)
  const wanted = stampWanted()
  if (existsSync(stampFile) && readFileSync(stampFile, 'utf8') === wanted) return
  console.error('Installing what Waybench needs (once)…')
  const windows = process.platform === 'win32'
  const done = spawnSync(windows ? 'npm.cmd' : 'npm', ['ci', '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd: root,
    // npm's own words go to standard error: on the command line standard output belongs to the answer.
    stdio: ['ignore', 2, 2],
    shell: windows,
  })
  if (done.status !== 0) throw new Error('npm ci did not succeed; the lines above say why. Nothing else was changed.')
  writeFileSync(stampFile, wanted)
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  try {
    ensureInstalled()
  } catch (error) {
    console.error(error.message)
    process.exit(1)
  }
}
