import { randomUUID } from 'node:crypto'
import { chmodSync, realpathSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { dirname, join, resolve } from 'node:path'

/**
 * Writes a file wholly or not at all: beside its place first, then put there in one step, so that a full disk or an end of the
 * command leaves what stood there before. Links are followed and kept; what is no file, such as /dev/stdout, is written straight.
 * Throws what the system says.
 */
export function fileWrite(path: string, bytes: Uint8Array): void {
  const before = statSync(path, { throwIfNoEntry: false })
  if (before !== undefined && !before.isFile()) {
    writeFileSync(path, bytes)
    return
  }
  const place = before === undefined ? resolve(path) : realpathSync(path)
  const beside = join(dirname(place), `.waybench-${randomUUID()}.part`)
  try {
    writeFileSync(beside, bytes, { flag: 'wx' })
    if (before !== undefined) chmodSync(beside, before.mode)
    renameSync(beside, place)
  } catch (error) {
    rmSync(beside, { force: true })
    throw error
  }
}
