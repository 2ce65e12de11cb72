import { chmodSync, lstatSync, mkdtempSync, readFileSync, readdirSync, statSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { fileWrite } from '../../src/cli/fileWrite.ts'

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text)
const folder = (): string => mkdtempSync(join(tmpdir(), 'waybench-write-'))

describe('a file that is written', () => {
  it('stands alone in its folder, with the leave of the one before it', () => {
    const at = folder()
    fileWrite(join(at, 'plan.csv'), bytes('one'))
    chmodSync(join(at, 'plan.csv'), 0o640)
    fileWrite(join(at, 'plan.csv'), bytes('two'))
    expect(readFileSync(join(at, 'plan.csv'), 'utf8')).toBe('two')
    expect(statSync(join(at, 'plan.csv')).mode & 0o777).toBe(0o640)
    expect(readdirSync(at)).toEqual(['plan.csv'])
  })

  it('is put where a link leads, and the link stays', () => {
    const at = folder()
    writeFileSync(join(at, 'real.pdf'), 'before')
    symlinkSync(join(at, 'real.pdf'), join(at, 'link.pdf'))
    fileWrite(join(at, 'link.pdf'), bytes('after'))
    expect(lstatSync(join(at, 'link.pdf')).isSymbolicLink()).toBe(true)
    expect(readFileSync(join(at, 'real.pdf'), 'utf8')).toBe('after')
  })

  it('leaves nothing behind and nothing changed where it cannot be written', () => {
    const at = folder()
    writeFileSync(join(at, 'sheets.pdf'), 'the last good one')
    // What is no bytes fails in the middle of the writing, as a full disk does.
    expect(() => fileWrite(join(at, 'sheets.pdf'), 5 as unknown as Uint8Array)).toThrow()
    expect(() => fileWrite(join(at, 'no', 'such', 'folder.pdf'), bytes('x'))).toThrow('ENOENT')
    expect(readFileSync(join(at, 'sheets.pdf'), 'utf8')).toBe('the last good one')
    expect(readdirSync(at)).toEqual(['sheets.pdf'])
  })

  it('goes straight to what is no file', () => {
    fileWrite('/dev/null', bytes('gone'))
    expect(statSync('/dev/null').isCharacterDevice()).toBe(true)
  })
})
