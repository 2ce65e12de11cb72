import type { ChecksAnswer, ChecksEngine } from './protocol.ts'
import { workerLink } from './workerLink.ts'

/** The checks in a worker of their own: sheets and easing, which take seconds, keep nobody from hearing what an edit breaks. */
export function checksWorker(start: () => Worker = workerStart): ChecksEngine {
  const { call, dispose } = workerLink<ChecksEngine>(start)
  return { ask: (question) => call(async (remote): Promise<ChecksAnswer> => remote.ask(question)), dispose }
}

function workerStart(): Worker {
  return new Worker(new URL('./checksWorkerMain.ts', import.meta.url), { type: 'module' })
}
