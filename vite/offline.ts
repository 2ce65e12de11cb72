import { createHash } from 'node:crypto'
import { readFileSync, readdirSync, writeFileSync } from 'node:fs'
import { join, sep } from 'node:path'
import type { Plugin } from 'vite'

/** What the built page may do: load its own files, run its own code and nothing else; ask nobody outside. */
export const contentPolicy = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  // The one style that the accessible widgets write into the page, at their first press: touch-action of what can be pressed.
  "style-src 'self' 'sha256-38RhXrc7EdReTKsOm23ZPOCUgniTUUcjky8QOOrQx6o='",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  // A picture that was made here is read back by its address.
  "connect-src 'self' blob:",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ')

/** The built page says in its head what it may do. While it is worked on, the tools need more. */
export function contentPolicyPlugin(): Plugin {
  return {
    name: 'content-policy',
    apply: 'build',
    transformIndexHtml: () => [
      { tag: 'meta', attrs: { 'http-equiv': 'Content-Security-Policy', content: contentPolicy }, injectTo: 'head-prepend' },
    ],
  }
}

/** Not needed to work: a picture of the file format for other programs. */
const leftOut = (name: string): boolean => name === 'sw.js' || name.startsWith('schema/') || name.endsWith('.map')

/** Files of a built folder that the app needs, with '/' between folders, in order. */
export function offlineFiles(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) =>
      join(entry.parentPath, entry.name)
        .slice(folder.length + 1)
        .split(sep)
        .join('/'),
    )
    .filter((name) => !leftOut(name))
    .toSorted()
}

/** Writes the worker that keeps this very build in the browser, so that it opens without a network. */
export function offlinePlugin(): Plugin {
  return {
    name: 'offline',
    apply: 'build',
    writeBundle({ dir }) {
      // Workers are built by runs of their own; the one that writes the page is the last.
      if (dir === undefined || !readdirSync(dir).includes('index.html')) return
      const files = offlineFiles(dir)
      const hash = createHash('sha256')
      for (const name of files) hash.update(name).update(readFileSync(join(dir, name)))
      const source = readFileSync(new URL('./serviceWorker.js', import.meta.url), 'utf8')
      const told = `const version = ${JSON.stringify(hash.digest('hex').slice(0, 16))}\nconst files = ${JSON.stringify(files)}\n`
      writeFileSync(join(dir, 'sw.js'), told + source)
    },
  }
}
