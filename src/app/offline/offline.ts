import type { StoreApi } from 'zustand/vanilla'
import type { DeskState } from '../desk.ts'

/** After the page stands: what is fetched for later takes nothing from what is needed now. */
const restMs = 3000

/**
 * Keeps this build in the browser, so that the page opens without a network, and says when a newer one lies ready. It is never put
 * under an open plan by itself.
 */
export function offlineBegin(desk: StoreApi<DeskState>, saveFirst: () => Promise<void>): void {
  if (import.meta.env['BUILT'] !== true || !('serviceWorker' in navigator)) return
  const { serviceWorker } = navigator
  setTimeout(() => void begin().catch(() => undefined), restMs)

  async function begin(): Promise<void> {
    const registration = await serviceWorker.register(new URL('sw.js', document.baseURI))
    const offer = (worker: ServiceWorker): void => {
      // The first one replaces nothing.
      if (serviceWorker.controller === null) return
      desk.getState().set({
        update: () => {
          void saveFirst().then(() => {
            serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true })
            // A worker is told, not a window: there is no other origin that could listen.
            // oxlint-disable-next-line unicorn/require-post-message-target-origin
            worker.postMessage('take-over')
          })
        },
      })
    }
    if (registration.waiting !== null) offer(registration.waiting)
    registration.addEventListener('updatefound', () => {
      const { installing } = registration
      installing?.addEventListener('statechange', () => {
        if (installing.state === 'installed') offer(installing)
      })
    })
  }
}
