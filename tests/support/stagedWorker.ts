/** What a worker is to its client: a message port that can be ended. `serve` gets the other end, and may leave it alone. */
export function stagedWorker(serve: (port: MessagePort) => void = () => undefined) {
  const { port1, port2 } = new MessageChannel()
  serve(port2)
  const events = new EventTarget()
  const state = { isTerminated: false }
  const worker = {
    postMessage: (message: unknown, transfer: Transferable[]) => port1.postMessage(message, transfer),
    addEventListener: (type: string, listener: EventListener) =>
      type === 'message' ? port1.addEventListener(type, listener) : events.addEventListener(type, listener),
    removeEventListener: (type: string, listener: EventListener) => port1.removeEventListener(type, listener),
    terminate: () => {
      state.isTerminated = true
      port1.close()
      port2.close()
    },
  } as unknown as Worker
  port1.start()
  return { worker, state, crash: () => events.dispatchEvent(new Event('error')) }
}
