import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { waybench } from '../support/waybench.ts'

const readme = readFileSync('README.md', 'utf8')
const commands = [...readme.matchAll(/^npm run --silent waybench -- (.+)$/gm)].map(([, typed]) => typed ?? '')
const folder = mkdtempSync(join(tmpdir(), 'waybench-readme-'))
const isWritten = (word: string): boolean => /\.(?:pdf|dxf|3mf)$/.test(word)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('the commands that the README shows', () => {
  it('are there to be tried', () => {
    expect(commands.length).toBeGreaterThan(4)
  })

  it.each(commands)('%s', async (command) => {
    const typed = command.split(' ').map((word) => (isWritten(word) ? join(folder, word) : word))
    const { code, out, err } = await waybench(...typed)
    expect(err).toBe('')
    // The demo breaks limits on purpose, and check says so by its code.
    expect(code).toBe(typed[0] === 'check' ? 1 : 0)
    expect(out).not.toBe('')
    for (const word of typed.filter(isWritten)) expect(existsSync(word)).toBe(true)
  })
})
