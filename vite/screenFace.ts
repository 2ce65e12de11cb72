import { readFileSync } from 'node:fs'
import { basename } from 'node:path'
import subsetFont from 'subset-font'
import type { Plugin } from 'vite'
import { faceRanges } from '../src/app/theme/faceRanges.ts'

type Part = keyof typeof faceRanges

/** Every character of a part that the packed face keeps, as far as the face has it. */
export function partCharacters(part: Part): string {
  return faceRanges[part]
    .flatMap(([first, last]) => Array.from({ length: last - first + 1 }, (_, index) => String.fromCodePoint(first + index)))
    .join('')
}

/** A TrueType face for the screen: WOFF 2 with the characters of a part; others come from the system's own face. */
export function screenFaceOfTtf(ttf: Buffer, part: Part): Promise<Buffer> {
  // Hinting is for coarse screens of long ago; it would be a third of the bytes.
  return subsetFont(ttf, partCharacters(part), { targetFormat: 'woff2', noHinting: true })
}

/** `import address from 'face.ttf?usual'` (or `?more`): the address of that part of the face, packed when the app is built, as it is while it is worked on. */
export function screenFacePlugin(): Plugin {
  const partOf = (id: string): Part | null => (id.endsWith('.ttf?usual') ? 'usual' : id.endsWith('.ttf?more') ? 'more' : null)
  let isBuild = false
  return {
    name: 'screen-face',
    enforce: 'pre',
    configResolved(config) {
      isBuild = config.command === 'build'
    },
    async resolveId(id, importer) {
      const part = partOf(id)
      if (part === null) return null
      const found = await this.resolve(id.slice(0, -part.length - 1), importer, { skipSelf: true })
      return found === null ? null : `${found.id}?${part}`
    },
    async load(id) {
      const part = partOf(id)
      if (part === null) return null
      const path = id.slice(0, -part.length - 1)
      if (!isBuild) return `export { default } from ${JSON.stringify(`${path}?url`)}`
      const source = await screenFaceOfTtf(readFileSync(path), part)
      const face = this.emitFile({ type: 'asset', name: basename(path).replace(/\.ttf$/, `-${part}.woff2`), source })
      return `export default import.meta.ROLLUP_FILE_URL_${face}`
    },
  }
}
