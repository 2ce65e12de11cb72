import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'

const root = join(import.meta.dirname, '../..')
const keyPattern = '[A-Z]{2,}[A-Z0-9]*(?:-[A-Za-z0-9.]+)+'

/** Keys that are headings of REFERENCES.md. */
function keysListed(markdown: string): readonly string[] {
  return [...markdown.matchAll(new RegExp(`^### (${keyPattern})$`, 'gm'))].flatMap((match) => match[1] ?? [])
}

/** Keys that a source file cites: [KEY clause] or source: 'KEY'. */
function keysCited(source: string): readonly string[] {
  const inBrackets = source.matchAll(new RegExp(`\\[(${keyPattern})(?:[ ,;][^\\]]*)?\\]`, 'g'))
  const inData = source.matchAll(new RegExp(`source: '(${keyPattern})'`, 'g'))
  return [...inBrackets, ...inData].flatMap((match) => match[1] ?? [])
}

function sourceFiles(): readonly string[] {
  return readdirSync(join(root, 'src'), { recursive: true, encoding: 'utf8' }).filter((name) => /\.tsx?$/.test(name))
}

const listed = keysListed(readFileSync(join(root, 'REFERENCES.md'), 'utf8'))
const files = sourceFiles().map((name) => ({ name, text: readFileSync(join(root, 'src', name), 'utf8') }))

describe('sources', () => {
  it('lists no key twice', () => {
    expect(listed.length).toBeGreaterThan(15)
    expect(new Set(listed).size).toBe(listed.length)
  })

  it('every key cited in the source is listed in REFERENCES.md', () => {
    const unlisted = files.flatMap(({ name, text }) =>
      keysCited(text)
        .filter((key) => !listed.includes(key))
        .map((key) => `${name}: ${key}`),
    )
    expect(unlisted).toEqual([])
  })

  it('every key listed in REFERENCES.md is used in the source', () => {
    const unused = listed.filter((key) => !files.some(({ text }) => keysCited(text).includes(key) || text.includes(`'${key}'`)))
    expect(unused).toEqual([])
  })

  it('every entry says its status', () => {
    const entries = readFileSync(join(root, 'REFERENCES.md'), 'utf8').split(/^### /m).slice(1)
    const silent = entries.filter((entry) => !/Status:|no print behind it/.test(entry)).map((entry) => entry.split('\n')[0])
    expect(silent).toEqual([])
  })

  it('sees a planted key, in a comment and in data', () => {
    expect(keysCited("/** [NEM-999 cl. 3] */ { source: 'NMRA-XX-1' } // [1] [COMMON]")).toEqual(['NEM-999', 'NMRA-XX-1'])
    expect(keysListed('### NEM-999\n### not a key\n')).toEqual(['NEM-999'])
  })
})
