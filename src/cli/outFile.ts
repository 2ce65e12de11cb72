import { realpathSync } from 'node:fs'
import { basename, dirname, join, resolve } from 'node:path'
import { commonOptions, type Args } from './args.ts'
import { BadInput } from './badInput.ts'

/**
 * The file of --out, or of another option that names one. It may stand there already and is written over, as everywhere on a
 * command line; but never the file that was read. Throws BadInput.
 */
export function outPath(args: Args, option: 'out' | 'svg' | 'csv' | 'lists' = 'out'): string {
  const path = args.values.get(option) ?? ''
  if (path.trim() === '')
    throw new BadInput(
      `--${option}: a file name is needed, such as --${option} ${{ ...commonOptions, ...args.verb.options }[option]?.value ?? 'file'}.`,
    )
  if (args.operand !== null && placeOf(path) === placeOf(args.operand)) {
    throw new BadInput(`--${option} ${path}: that is the ${args.verb.operand === 'PLAN' ? 'plan' : 'file'} itself; give another name.`)
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
