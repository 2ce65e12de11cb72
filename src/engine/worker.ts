import { proxy } from 'comlink'
import type { TraceAnswer } from '../core/alignment/index.ts'
import type { CutResult } from '../core/sticks/index.ts'
import type { TrackFairAnswer } from './fair.ts'
import type { Engine, LayingAnswer, SheetsAnswer } from './protocol.ts'
import { workerLink } from './workerLink.ts'

/** The engine in a worker, so that the page stays quick; how the worker starts, is lost and ends: workerLink. */
export function workerEngine(start: () => Worker = workerStart): Engine {
  const { call, dispose } = workerLink<Engine>(start)
  return {
    check: (plan) => call((remote) => remote.check(plan)),
    report: (plan, findings) => call((remote) => remote.report(plan, findings)),
    sheets: (plan, subject, options, onProgress) =>
      call(async (remote): Promise<SheetsAnswer> => remote.sheets(plan, subject, options, onProgress && proxy(onProgress))),
    lists: (request, options) => call((remote) => remote.lists(request, options)),
    fair: (plan, track, options, onProgress) =>
      call(async (remote): Promise<TrackFairAnswer> => remote.fair(plan, track, options, proxy(onProgress))),
    trace: (points, options, onProgress) => call(async (remote): Promise<TraceAnswer> => remote.trace(points, options, proxy(onProgress))),
    cut: (request, seconds, onProgress) => call(async (remote): Promise<CutResult> => remote.cut(request, seconds, proxy(onProgress))),
    laying: (plan, seconds, onProgress) => call(async (remote): Promise<LayingAnswer> => remote.laying(plan, seconds, proxy(onProgress))),
    solids: (jig) => call((remote) => remote.solids(jig)),
    dispose,
  }
}

function workerStart(): Worker {
  return new Worker(new URL('./workerMain.ts', import.meta.url), { type: 'module' })
}
