// @vitest-environment node
import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { create } from '@cantoo/fontkit'
import type { Font } from '@cantoo/fontkit'
import { beforeAll, describe, expect, it } from 'vitest'
import { faceRanges } from '../../src/app/theme/faceRanges.ts'
import { partCharacters, screenFaceOfTtf } from '../../vite/screenFace.ts'

const root = join(import.meta.dirname, '../..')
const ttf = readFileSync(
  join(root, 'node_modules/@expo-google-fonts/ibm-plex-sans-condensed/400Regular/IBMPlexSansCondensed_400Regular.ttf'),
)

function face(bytes: Buffer): Font {
  const font = create(bytes)
  if (font === null || !('hasGlyphForCodePoint' in font)) throw new Error('a collection, not a face')
  return font
}

describe('a face packed for the screen', () => {
  let packed: Buffer
  beforeAll(async () => {
    packed = await screenFaceOfTtf(ttf, 'usual')
  })

  // W3C WOFF File Format 2.0, section 4: the signature begins the file, the length stands at byte 8.
  it('is WOFF 2 and says its own length', () => {
    expect(packed.toString('latin1', 0, 4)).toBe('wOF2')
    expect(packed.readUInt32BE(8)).toBe(packed.length)
  })

  it('is less than a seventh of the face', () => {
    expect(packed.length).toBeLessThan(ttf.length / 7)
  })

  it('keeps the glyphs of lengths with their widths', () => {
    const whole = face(ttf)
    const small = face(packed)
    for (const character of '0123456789′″⅛½¾°±×−→RΔπ') {
      const point = character.codePointAt(0) ?? 0
      if (!whole.hasGlyphForCodePoint(point)) continue
      expect(small.hasGlyphForCodePoint(point), character).toBe(true)
      expect(small.glyphForCodePoint(point)?.advanceWidth).toBe(whole.glyphForCodePoint(point)?.advanceWidth)
    }
  })
})

it('every character that the app writes itself is among those kept', () => {
  const folder = join(root, 'src')
  const sources = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((path) => /^(app|tools|words)\W.*\.tsx?$/.test(path))
  const kept = new Set(partCharacters('usual'))
  const odd = sources.flatMap((path) =>
    [...readFileSync(join(folder, path), 'utf8')]
      .filter((character) => character > '~' && !kept.has(character))
      .map((character) => `${path}: ${character}`),
  )
  expect(sources.length).toBeGreaterThan(50)
  expect(odd).toEqual([])
})

it('no character is in both parts', () => {
  const all = [...partCharacters('usual'), ...partCharacters('more')]
  expect(new Set(all).size).toBe(all.length)
  expect(faceRanges.more.length).toBeGreaterThan(0)
})
