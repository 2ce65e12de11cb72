import type { StoreApi } from 'zustand/vanilla'
import type { Autosave } from '../../store/index.ts'
import type { DeskState } from '../desk.ts'

/** After the page stands: what is fetched for later takes nothing from what is needed now. */
const restMs = 3000

/**
 * Keeps this build in the browser, so that the page opens without a network, and says when a newer one lies ready. It is never put
 * under an open plan by itself.
 */
export function offlineBegin(
  desk: StoreApi<DeskState>,
  keeper: Pick<Autosave, 'flush' | 'isUnkept'>,
  tell: (notice: string) => void,
): void {
  if (import.meta.env['BUILT'] !== true || !('serviceWorker' in navigator)) return
  const { serviceWorker } = navigator
  setTimeout(() => void begin().catch(() => undefined), restMs)

  async function begin(): Promise<void> {
    const registration = await serviceWorker.register(new URL('sw.js', document.baseURI))
    // Other pages may still need files of the build before; a page that is alone needs none of them.
    say(serviceWorker.controller, 'tidy')
    const offer = (worker: ServiceWorker): void => {
      // The first one replaces nothing.
      if (serviceWorker.controller === null) return
      desk.getState().set({ update: () => void change(worker) })
    }
    if (registration.waiting !== null) offer(registration.waiting)
    registration.addEventListener('updatefound', () => {
      const { installing } = registration
      installing?.addEventListener('statechange', () => {
        if (installing.state === 'installed') offer(installing)
      })
    })
  }

  async function change(worker: ServiceWorker): Promise<void> {
    await keeper.flush()
    if (keeper.isUnkept())
      return tell('The newer Waybench has to wait: what was changed here is not kept, and would go with this page. See below.')
    serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true })
    say(worker, 'take-over')
  }

  function say(worker: ServiceWorker | null, word: 'take-over' | 'tidy'): void {
    // A worker is told, not a window: there is no other origin that could listen.
    // oxlint-disable-next-line unicorn/require-post-message-target-origin
    worker?.postMessage(word)
  }
}
