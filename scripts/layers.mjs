// The import rule of the house, held by layers.json: core <- formats <- engine <- store <- tools <- app, and inside core only
// from a stage to those left of it. Reads imports as text (type imports count), so it needs no compiler.
import { readdirSync, readFileSync, statSync } from 'node:fs'
import { dirname, join, posix, relative, resolve, sep } from 'node:path'
import { fileURLToPath } from 'node:url'

const importPattern =
  /(?:^|[\s;])(?:import|export)\s+(?:type\s+)?(?:[^'"();]*?\sfrom\s+)?['"]([^'"]+)['"]|import\(\s*['"]([^'"]+)['"]\s*\)|new URL\(\s*['"]([^'"]+)['"]\s*,\s*import\.meta\.url/g

function filesBelow(folder) {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name)
    if (statSync(path).isDirectory()) return filesBelow(path)
    return /\.(ts|tsx)$/.test(name) ? [path] : []
  })
}

const inside = (path, folder) => path === folder || path.startsWith(`${folder}/`)

function longestPrefix(path, folders) {
  return folders.filter((folder) => inside(path, folder)).sort((a, b) => b.length - a.length)[0]
}

/**
 * All breaches of the rule in a tree.
 * @param {string} root folder that holds layers.json and src
 * @returns {{file: string, imports: string, why: string}[]}
 */
export function layerBreaches(root) {
  const table = JSON.parse(readFileSync(join(root, 'layers.json'), 'utf8'))
  const layers = Object.keys(table.layers)
  const breaches = []
  for (const absolute of filesBelow(join(root, 'src'))) {
    const file = relative(root, absolute).split(sep).join('/')
    const own = longestPrefix(file, layers)
    if (own === undefined) {
      breaches.push({ file, imports: '', why: 'is in no layer of layers.json' })
      continue
    }
    for (const match of readFileSync(absolute, 'utf8').matchAll(importPattern)) {
      const wanted = (match[1] ?? match[2] ?? match[3]).split('?')[0]
      if (wanted.startsWith('.')) {
        const target = relative(root, resolve(dirname(absolute), wanted))
          .split(sep)
          .join('/')
        const layer = longestPrefix(target, layers)
        const allowed = layer === own || table.layers[own].some((folder) => inside(target, folder))
        if (target.startsWith('src/') && !allowed) breaches.push({ file, imports: wanted, why: `${own} may not import ${layer ?? target}` })
        if (!target.startsWith('src/') && !target.startsWith('public/') && !target.endsWith('.css'))
          breaches.push({ file, imports: wanted, why: 'leaves src' })
      } else if (wanted.startsWith('node:')) {
        if (!table.node.some((place) => inside(file, place))) breaches.push({ file, imports: wanted, why: `${own} must run in a browser` })
      } else {
        const room = longestPrefix(own, Object.keys(table.packages))
        const name = wanted.startsWith('@') ? posix.join(...wanted.split('/').slice(0, 2)) : wanted.split('/')[0]
        if (!(table.packages[room] ?? []).includes(name))
          breaches.push({ file, imports: wanted, why: `package ${name} is not allowed in ${room}` })
      }
    }
  }
  return breaches
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const breaches = layerBreaches(join(dirname(fileURLToPath(import.meta.url)), '..'))
  for (const { file, imports, why } of breaches) console.error(`${file}: ${imports}: ${why}`)
  if (breaches.length > 0) process.exit(1)
}
