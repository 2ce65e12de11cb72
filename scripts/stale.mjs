import { existsSync, readdirSync, statSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = join(dirname(fileURLToPath(import.meta.url)), '..')

function newest(path) {
  if (!existsSync(path)) return 0
  const stat = statSync(path)
  if (!stat.isDirectory()) return stat.mtimeMs
  let latest = 0
  for (const entry of readdirSync(path)) latest = Math.max(latest, newest(join(path, entry)))
  return latest
}

/** True when any source (file or folder, from the project's root) is newer than the target, or the target is not there. */
export function isStale(sources, target) {
  const made = join(root, target)
  if (!existsSync(made)) return true
  const time = statSync(made).mtimeMs
  return sources.some((source) => newest(join(root, source)) > time)
}
