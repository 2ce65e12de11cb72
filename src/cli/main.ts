import { csvWrite } from '../formats/csv.ts'
import type { Answer } from './answer.ts'
import { answerTableRows, answerTables } from './answerTables.ts'
import { argsRead, type Args, type VerbSpec } from './args.ts'
import { BadInput } from './badInput.ts'
import { helpAll, helpVerb } from './help.ts'
import { nearestHint } from './nearest.ts'
import { outPath } from './outFile.ts'
import { checkRun, checkSpec } from './verbs/check.ts'
import { clearanceRun, clearanceSpec } from './verbs/clearance.ts'
import { crossoverRun, crossoverSpec } from './verbs/crossover.ts'
import { curveRun, curveSpec } from './verbs/curve.ts'
import { cutRun, cutSpec } from './verbs/cut.ts'
import { exportRun, exportSpec } from './verbs/export.ts'
import { importRun, importSpec } from './verbs/import.ts'
import { jigRun, jigSpec } from './verbs/jig.ts'
import { joinRun, joinSpec } from './verbs/join.ts'
import { fairRun, fairSpec } from './verbs/fair.ts'
import { fitRun, fitSpec } from './verbs/fit.ts'
import { ladderRun, ladderSpec } from './verbs/ladder.ts'
import { lineRun, lineSpec } from './verbs/line.ts'
import { networkRun, networkSpec } from './verbs/network.ts'
import { reportRun, reportSpec } from './verbs/report.ts'
import { setoutRun, setoutSpec } from './verbs/setout.ts'
import { sheetsRun, sheetsSpec } from './verbs/sheets.ts'
import { swingRun, swingSpec } from './verbs/swing.ts'
import { turnoutSpec } from './turnout/options.ts'
import { turnoutRun } from './verbs/turnout.ts'

interface Verb {
  readonly spec: VerbSpec
  readonly run: (args: Args) => Answer | Promise<Answer>
}

const verbs: readonly Verb[] = [
  { spec: curveSpec, run: curveRun },
  { spec: turnoutSpec, run: turnoutRun },
  { spec: crossoverSpec, run: crossoverRun },
  { spec: ladderSpec, run: ladderRun },
  { spec: swingSpec, run: swingRun },
  { spec: clearanceSpec, run: clearanceRun },
  { spec: networkSpec, run: networkRun },
  { spec: lineSpec, run: lineRun },
  { spec: joinSpec, run: joinRun },
  { spec: setoutSpec, run: setoutRun },
  { spec: fairSpec, run: fairRun },
  { spec: fitSpec, run: fitRun },
  { spec: checkSpec, run: checkRun },
  { spec: reportSpec, run: reportRun },
  { spec: cutSpec, run: cutRun },
  { spec: sheetsSpec, run: sheetsRun },
  { spec: exportSpec, run: exportRun },
  { spec: jigSpec, run: jigRun },
  { spec: importSpec, run: importRun },
]

/** The world outside, handed in so that tests can stand in for it. */
export interface Outside {
  readonly print: (text: string) => void
  readonly complain: (text: string) => void
  readonly write: (path: string, bytes: Uint8Array) => void
}

/** One run of the command; answers with the exit code: 0 done, 1 the plan breaks a limit, 2 bad input. */
export async function waybenchRun(typed: readonly string[], outside: Outside): Promise<0 | 1 | 2> {
  try {
    return await run(typed, outside)
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    outside.complain(error.message)
    return 2
  }
}

async function run(typed: readonly string[], outside: Outside): Promise<0 | 1> {
  const specs = verbs.map(({ spec }) => spec)
  const [name, ...rest] = typed
  if (name === '--help' || name === '-h' || name === 'help') {
    outside.print(helpAll(specs))
    return 0
  }
  if (name === undefined) throw new BadInput(`waybench needs a verb.\n\n${helpAll(specs)}`)
  const verb = verbs.find(({ spec }) => spec.name === name)
  if (!verb)
    throw new BadInput(
      `waybench has no verb “${name}”. ${nearestHint(
        name,
        specs.map((spec) => spec.name),
      )}`,
    )
  const args = argsRead(verb.spec, rest)
  if (args.values.has('help')) {
    outside.print(helpVerb(verb.spec))
    return 0
  }
  const answer = await verb.run(args)
  for (const file of [...answer.files, ...tablesFile(args, answer)]) writeFile(outside, args, file.path, file.bytes)
  outside.print(args.values.has('json') ? JSON.stringify(answer.json) : answer.text)
  return answer.exitCode
}

/** The file of --csv, where a verb has no list of its own for it. Throws BadInput. */
function tablesFile(args: Args, { json, files }: Answer): Answer['files'] {
  if (!args.values.has('csv') || args.verb.options['csv'] !== undefined) return []
  const path = outPath(args, 'csv')
  if (files.some((file) => file.path === path)) throw new BadInput(`--csv ${path}: the answer itself is written there; give another name.`)
  const tables = answerTables(json)
  if (tables.length === 0) throw new BadInput(`--csv ${path}: there is no table in this answer.`)
  return [{ path, bytes: new TextEncoder().encode(csvWrite(answerTableRows(tables))) }]
}

function writeFile(outside: Outside, args: Args, path: string, bytes: Uint8Array): void {
  try {
    outside.write(path, bytes)
  } catch (error) {
    const option = (['svg', 'csv'] as const).find((name) => args.values.get(name) === path) ?? 'out'
    throw new BadInput(`--${option} ${path}: the file cannot be written (${error instanceof Error ? error.message : String(error)}).`)
  }
}
