import { readFileSync, statSync } from 'node:fs'
import { BadInput } from './badInput.ts'

/** The text of a file that holds at most so many bytes. word: what it should be, such as plan. Throws BadInput. */
export function textFromFile(path: string, mostBytes: number, word: string): string {
  try {
    // The size is asked first: a file of gigabytes is not read to be refused.
    if (statSync(path).size > mostBytes)
      throw new BadInput(`${path}: the file is larger than ${mostBytes / 1024 / 1024} MB; that is no ${word}.`)
    return readFileSync(path, 'utf8')
  } catch (error) {
    if (error instanceof BadInput) throw error
    throw new BadInput(`${path}: ${faultText(error)}`)
  }
}

function faultText(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : undefined
  switch (code) {
    case 'ENOENT':
      return 'there is no such file.'
    case 'EISDIR':
      return 'this is a folder; the name of a file is wanted.'
    case 'EACCES':
    case 'EPERM':
      return 'it cannot be read; you have no leave to.'
    default:
      return `it cannot be read (${String(code ?? error)}).`
  }
}
