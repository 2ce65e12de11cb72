import { readFileSync } from 'node:fs'
import { basename } from 'node:path'
import subsetFont from 'subset-font'
import type { Plugin } from 'vite'

/** First and last code point of the blocks of Unicode that a screen of ours can show: names in the Latin script, lengths, angles, formulas. */
const blocks = [
  [0x20, 0x7e], // basic Latin
  [0xa0, 0x17f], // Latin-1, Latin Extended-A
  [0x2010, 0x2044], // dashes, quotes, primes, the slash of fractions
  [0x2070, 0x209f], // raised and lowered figures
  [0x20a0, 0x20bf], // currency
  [0x2150, 0x215f], // thirds and eighths
  [0x2190, 0x21ff], // arrows
  [0x2200, 0x22ff], // mathematical operators
  [0x3c0, 0x3c0], // pi
] as const

/** Every character that the packed face keeps, as far as the face has it. */
export const screenCharacters = blocks
  .flatMap(([first, last]) => Array.from({ length: last - first + 1 }, (_, index) => String.fromCodePoint(first + index)))
  .join('')

/** A TrueType face for the screen: WOFF 2 with the characters that the screen can need; others come from the system's own face. */
export function screenFaceOfTtf(ttf: Buffer): Promise<Buffer> {
  return subsetFont(ttf, screenCharacters, { targetFormat: 'woff2' })
}

/** `import address from 'face.ttf?screen'`: the address of the face, packed when the app is built, as it is while it is worked on. */
export function screenFacePlugin(): Plugin {
  const marked = '?screen'
  let isBuild = false
  return {
    name: 'screen-face',
    enforce: 'pre',
    configResolved(config) {
      isBuild = config.command === 'build'
    },
    async resolveId(id, importer) {
      if (!id.endsWith(marked)) return null
      const found = await this.resolve(id.slice(0, -marked.length), importer, { skipSelf: true })
      return found === null ? null : found.id + marked
    },
    async load(id) {
      if (!id.endsWith(marked)) return null
      const path = id.slice(0, -marked.length)
      if (!isBuild) return `export { default } from ${JSON.stringify(`${path}?url`)}`
      const source = await screenFaceOfTtf(readFileSync(path))
      const face = this.emitFile({ type: 'asset', name: basename(path).replace(/ttf$/, 'woff2'), source })
      return `export default import.meta.ROLLUP_FILE_URL_${face}`
    },
  }
}
