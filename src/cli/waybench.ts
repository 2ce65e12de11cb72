import { fileWrite } from './fileWrite.ts'
import { waybenchRun } from './main.ts'

// A reader that has seen enough (… | head) closes the pipe; that is no fault of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error
})

process.exitCode = await waybenchRun(process.argv.slice(2), {
  print: (text) => process.stdout.write(`${text}\n`),
  complain: (text) => process.stderr.write(`${text}\n`),
  write: fileWrite,
})
