import { proxy, wrap, type Remote } from 'comlink'
import type { TraceAnswer } from '../core/alignment/index.ts'
import type { TrackFairAnswer } from './fair.ts'
import type { Engine } from './protocol.ts'

/** One running worker and the promise that fails when it is gone. */
interface Running {
  readonly worker: Worker
  readonly remote: Remote<Engine>
  readonly lost: Promise<never>
  readonly lose: (reason: Error) => void
}

/**
 * The engine in a worker, so that the page stays quick.
 *
 * The worker is started by the first call. When it crashes, all open calls are rejected and the next call starts a new
 * one. `dispose` ends it at once, in the middle of its work if need be, and rejects what is open: that is how a stale
 * request is cancelled.
 */
export function workerEngine(start: () => Worker = workerStart): Engine {
  let running: Running | null = null
  let isDisposed = false

  function end(reason: Error): void {
    const ended = running
    running = null
    ended?.worker.terminate()
    ended?.lose(reason)
  }

  function run(): Running {
    const worker = start()
    let lose: (reason: Error) => void = () => undefined
    const lost = new Promise<never>((_resolve, reject) => {
      lose = reject
    })
    // A loss with no open call concerns nobody.
    lost.catch(() => undefined)
    const crashed = (event: Event): void => {
      event.preventDefault()
      const message = 'message' in event && event.message ? `: ${String(event.message)}` : ''
      end(new Error(`The engine stopped unexpectedly${message}. Try again; the plan is not touched.`))
    }
    worker.addEventListener('error', crashed)
    worker.addEventListener('messageerror', crashed)
    return { worker, remote: wrap<Engine>(worker), lost, lose }
  }

  async function call<T>(work: (remote: Remote<Engine>) => Promise<T>): Promise<T> {
    if (isDisposed) throw new Error('The engine has been closed.')
    running ??= run()
    const { remote, lost } = running
    return Promise.race([work(remote), lost])
  }

  return {
    check: (plan) => call((remote) => remote.check(plan)),
    sheets: (plan, subject, options) => call((remote) => remote.sheets(plan, subject, options)),
    lists: (request, options) => call((remote) => remote.lists(request, options)),
    fair: (plan, track, options, onProgress) =>
      call(async (remote): Promise<TrackFairAnswer> => remote.fair(plan, track, options, proxy(onProgress))),
    trace: (points, options, onProgress) => call(async (remote): Promise<TraceAnswer> => remote.trace(points, options, proxy(onProgress))),
    dispose: () => {
      isDisposed = true
      end(new Error('The engine has been closed.'))
    },
  }
}

function workerStart(): Worker {
  return new Worker(new URL('./workerMain.ts', import.meta.url), { type: 'module' })
}
