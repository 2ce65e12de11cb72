import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect } from 'vitest'

const folder = join(dirname(fileURLToPath(import.meta.url)), '..', 'golden')

/**
 * Compares a text with the accepted one beside the golden tests. A file is written only when WAYBENCH_ACCEPT_GOLDEN=1 is
 * set: look at it before it is committed. A missing file fails.
 */
export function expectGolden(file: string, text: string): void {
  const path = join(folder, file)
  if (process.env['WAYBENCH_ACCEPT_GOLDEN'] === '1') {
    mkdirSync(dirname(path), { recursive: true })
    writeFileSync(path, text)
  }
  expect(existsSync(path), `${file} has not been accepted; look at it with WAYBENCH_ACCEPT_GOLDEN=1`).toBe(true)
  expect(text).toBe(readFileSync(path, 'utf8'))
}
