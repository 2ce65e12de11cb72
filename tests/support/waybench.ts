import { spawnSync } from 'node:child_process'
import { join } from 'node:path'
import { fileWrite } from '../../src/cli/fileWrite.ts'
import { waybenchRun } from '../../src/cli/main.ts'

const root = join(import.meta.dirname, '../..')

export interface WaybenchRun {
  readonly code: number | null
  readonly out: string
  readonly err: string
}

/** The command line in a process of its own, through the script that builds it when it is stale: as a person runs it. */
export function waybenchSpawn(...typed: readonly string[]): WaybenchRun {
  const run = spawnSync(process.execPath, [join(root, 'scripts/waybench.mjs'), ...typed], { cwd: root, encoding: 'utf8' })
  return { code: run.status, out: run.stdout, err: run.stderr }
}

/** The same in this process: starting a hundred of them would take half a minute. */
export async function waybench(...typed: readonly string[]): Promise<WaybenchRun> {
  const said = { out: '', err: '' }
  const code = await waybenchRun(typed, {
    print: (text) => {
      said.out += `${text}\n`
    },
    complain: (text) => {
      said.err += `${text}\n`
    },
    write: fileWrite,
  })
  return { code, ...said }
}

/** A command as it is typed, cut at its spaces. */
export const words = (command: string): readonly string[] => command.split(' ')

/** One JSON object of a run that must succeed; anything else printed would not parse. */
export async function waybenchJson(...typed: readonly string[]): Promise<Readonly<Record<string, unknown>>> {
  const { code, out, err } = await waybench(...typed, '--json')
  if (code !== 0) throw new Error(`waybench ${typed.join(' ')} ended with ${code}: ${err}`)
  return JSON.parse(out) as Readonly<Record<string, unknown>>
}

/** A number of an answer; fails the test when it is none. */
export function numberOf(answer: unknown, ...path: readonly (string | number)[]): number {
  let at: unknown = answer
  for (const key of path) at = (at as Readonly<Record<string | number, unknown>> | null)?.[key]
  if (typeof at !== 'number') throw new Error(`${path.join('.')} is ${JSON.stringify(at)}, not a number`)
  return at
}
