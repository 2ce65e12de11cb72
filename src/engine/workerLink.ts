import { wrap, type Remote } from 'comlink'

/** One running worker and the promise that fails when it is gone. */
interface Running<T> {
  readonly worker: Worker
  readonly remote: Remote<T>
  readonly lost: Promise<never>
  readonly lose: (reason: Error) => void
}

/** A way to call what a worker offers. */
export interface WorkerLink<T> {
  call<A>(work: (remote: Remote<T>) => Promise<A>): Promise<A>
  dispose(): void
}

/**
 * A link to a worker that is started by the first call. When it crashes, all open calls are rejected and the next call starts a new
 * one. `dispose` ends it at once, in the middle of its work if need be, and rejects what is open: that is how a stale request is
 * cancelled.
 */
export function workerLink<T>(start: () => Worker): WorkerLink<T> {
  let running: Running<T> | null = null
  let isDisposed = false

  function end(reason: Error): void {
    const ended = running
    running = null
    ended?.worker.terminate()
    ended?.lose(reason)
  }

  function run(): Running<T> {
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
    return { worker, remote: wrap<T>(worker), lost, lose }
  }

  return {
    async call(work) {
      if (isDisposed) throw new Error('The engine has been closed.')
      running ??= run()
      const { remote, lost } = running
      return Promise.race([work(remote), lost])
    },
    dispose: () => {
      isDisposed = true
      end(new Error('The engine has been closed.'))
    },
  }
}
