/** Word between pages of one browser that the shelf holds a plan in a newer state. */
export interface ShelfNews {
  tell(planId: string): void
  listen(heard: (planId: string) => void): void
  stop(): void
}

export function newsByChannel(name = 'waybench-shelf'): ShelfNews {
  const channel = new BroadcastChannel(name)
  return {
    // A channel has no target origin: it ends at its own.
    // oxlint-disable-next-line unicorn/require-post-message-target-origin
    tell: (planId) => channel.postMessage(planId),
    listen: (heard) => channel.addEventListener('message', ({ data }) => (typeof data === 'string' ? heard(data) : undefined)),
    stop: () => channel.close(),
  }
}
