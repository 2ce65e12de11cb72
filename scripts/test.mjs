// npm test: types, lint with the layer rule, and every test, browser journeys included. Stops at the first that fails.
import { spawnSync } from 'node:child_process'
import { join } from 'node:path'

const bin = (name) => join('node_modules', '.bin', process.platform === 'win32' ? `${name}.cmd` : name)

const steps = [
  ['types of the core, without a browser', bin('tsc'), ['-p', 'tsconfig.core.json']],
  ['types of the whole', bin('tsc'), []],
  ['lint', bin('oxlint'), ['--deny-warnings']],
  ['layers', process.execPath, ['scripts/layers.mjs']],
  ['unused files, exports and packages', bin('knip'), []],
  ['tests', bin('vitest'), ['run', ...process.argv.slice(2)]],
]

for (const [what, command, args] of steps) {
  console.log(`\n— ${what}`)
  const { status } = spawnSync(command, args, { stdio: 'inherit', shell: process.platform === 'win32' })
  if (status !== 0) {
    console.error(`\nStopped at: ${what}.`)
    process.exit(status ?? 1)
  }
}
