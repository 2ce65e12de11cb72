import { writeFileSync } from 'node:fs'
import { cpus } from 'node:os'
import { benchBig } from './big.ts'
import { benchCanvas } from './canvas.ts'
import { benchChecks } from './checks.ts'
import { benchClothoid } from './clothoid.ts'
import { benchCut } from './cut.ts'
import { benchFair } from './fair.ts'
import { benchFirstLoad } from './firstLoad.ts'
import { benchJoin } from './join.ts'
import { benchPipeline } from './pipeline.ts'
import { benchRails } from './rails.ts'
import { benchSetout } from './setout.ts'
import { benchSheets } from './sheets.ts'
import { benchSweep } from './sweep.ts'
import { tableMarkdown, type BenchTable } from './report.ts'

const benches: readonly [string, () => BenchTable | Promise<BenchTable>][] = [
  ['clothoid', benchClothoid],
  ['pipeline', benchPipeline],
  ['checks', benchChecks],
  ['setout', benchSetout],
  ['sheets', benchSheets],
  ['sweep', benchSweep],
  ['join', benchJoin],
  ['fair', benchFair],
  ['rails', benchRails],
  ['cut', benchCut],
  ['canvas', benchCanvas],
  ['big', benchBig],
  ['first-load', benchFirstLoad],
]

/** All benches, or those named on the command line; all of them write the results file. */
export async function main(): Promise<void> {
  const asked = process.argv.slice(2)
  const parts: string[] = []
  for (const [name, run] of benches) {
    if (asked.length > 0 && !asked.includes(name)) continue
    const table = tableMarkdown(await run())
    console.log(table)
    parts.push(table)
  }
  if (asked.length > 0) return
  const machine = `Node ${process.versions.node}, ${process.platform} ${process.arch}, ${cpus().length} × ${cpus()[0]?.model.trim() ?? 'unknown'}`
  const head = `# Results\n\nWritten by \`npm run bench\`. ${machine}. Ratios hold within one run; single times swing with what else the machine does.\n`
  writeFileSync('bench/RESULTS.md', [head, ...parts].join('\n'))
}
