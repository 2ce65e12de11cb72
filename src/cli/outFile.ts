import { realpathSync } from 'node:fs'
import { basename, dirname, join, resolve } from 'node:path'
import type { Args } from './args.ts'
import { BadInput } from './badInput.ts'

/**
 * The file of --out. It may stand there already and is written over, as everywhere on a command line; but never the file
 * that was read. Throws BadInput.
 */
export function outPath(args: Args): string {
  const path = args.values.get('out') ?? ''
  if (path.trim() === '') throw new BadInput('--out: a file name is needed, such as --out sheets.pdf.')
  if (args.operand !== null && placeOf(path) === placeOf(args.operand)) {
    throw new BadInput(`--out ${path}: that is the ${args.verb.operand === 'PLAN' ? 'plan' : 'file'} itself; give another name.`)
  }
  return path
}

/** Where a path leads, links followed; a file that is not there yet has at least its folder. */
function placeOf(path: string): string {
  const real = (place: string): string => {
    try {
      return realpathSync(place)
    } catch {
      return resolve(place)
    }
  }
  const place = real(path)
  return place === resolve(path) ? join(real(dirname(place)), basename(place)) : place
}
