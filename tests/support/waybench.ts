import { spawnSync } from 'node:child_process'
import { join } from 'node:path'

const root = join(import.meta.dirname, '../..')

export interface WaybenchRun {
  readonly code: number | null
  readonly out: string
  readonly err: string
}

/** Runs the command line as a person does, through the script that builds it when it is stale. */
export function waybench(...typed: readonly string[]): WaybenchRun {
  const run = spawnSync(process.execPath, [join(root, 'scripts/waybench.mjs'), ...typed], { cwd: root, encoding: 'utf8' })
  return { code: run.status, out: run.stdout, err: run.stderr }
}

/** One JSON object of a run that must succeed; anything else printed would not parse. */
export function waybenchJson(...typed: readonly string[]): Readonly<Record<string, unknown>> {
  const { code, out, err } = waybench(...typed, '--json')
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
