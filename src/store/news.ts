/** Word between pages of one browser that the shelf holds something newer. */
export interface ShelfNews {
  tell(): void
  listen(heard: () => void): void
  stop(): void
}

export function newsByChannel(name = 'waybench-shelf'): ShelfNews {
  const channel = new BroadcastChannel(name)
  return {
    // A channel has no target origin: it ends at its own.
    // oxlint-disable-next-line unicorn/require-post-message-target-origin
    tell: () => channel.postMessage('written'),
    listen: (heard) => channel.addEventListener('message', heard),
    stop: () => channel.close(),
  }
}
