import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { brotliDecompressSync } from 'node:zlib'
import { describe, expect, it } from 'vitest'
import { woff2OfTtf } from '../../vite/woff2.ts'

const ttf = readFileSync(
  join(import.meta.dirname, '../../node_modules/@expo-google-fonts/ibm-plex-sans-condensed/400Regular/IBMPlexSansCondensed_400Regular.ttf'),
)

// Layout of the header: W3C WOFF File Format 2.0, section 4.
describe('a face packed as WOFF 2', () => {
  const packed = woff2OfTtf(ttf)

  it('begins with its signature, says its own length and the flavour of the face', () => {
    expect(packed.toString('latin1', 0, 4)).toBe('wOF2')
    expect(packed.readUInt32BE(4)).toBe(ttf.readUInt32BE(0))
    expect(packed.readUInt32BE(8)).toBe(packed.length)
    expect(packed.readUInt16BE(12)).toBe(ttf.readUInt16BE(4))
    expect(packed.length % 4).toBe(0)
  })

  it('holds every table byte for byte', () => {
    const size = packed.readUInt32BE(20)
    // The stream ends the file, up to three bytes of padding after it.
    const tables = Array.from({ length: ttf.readUInt16BE(4) }, (_, index) => {
      const at = 12 + 16 * index
      return ttf.subarray(ttf.readUInt32BE(at + 8), ttf.readUInt32BE(at + 8) + ttf.readUInt32BE(at + 12))
    })
    const wanted = Buffer.concat(tables)
    const found = [0, 1, 2, 3].some((back) => {
      try {
        return brotliDecompressSync(packed.subarray(packed.length - size - back, packed.length - back)).equals(wanted)
      } catch {
        return false
      }
    })
    expect(found).toBe(true)
  })

  it('is less than half the size', () => {
    expect(packed.length).toBeLessThan(ttf.length * 0.45)
  })
})
