import { dataFreeze, planEmpty } from '../../core/plan/index.ts'
import type { Plan, Track } from '../../core/plan/index.ts'
import type { PlanLibrary, PlanShelf } from '../../store/index.ts'

/*
 * `?bench=5000`: a generated plan of so many pieces of track, all in view, for measuring the page from outside. Nothing of it is kept:
 * the plan that lies on the shelf of this browser stays as it is.
 */

declare global {
  interface Window {
    /** The generated plan has been painted. */
    waybenchReady?: boolean
  }
}

const mostPieces = 50_000

/** The number of pieces that the address asks for; null: it asks for none. */
export function benchAsked(search: string): number | null {
  const asked = new URLSearchParams(search).get('bench')
  if (asked === null || !/^\d{1,5}$/.test(asked)) return null
  const count = Number(asked)
  return count >= 1 && count <= mostPieces ? count : null
}

const stepMm = { x: 1300, y: 250 }

/** Each has one curve with its easements and keeps within all limits; from afar its line is drawn with forty points. */
export function benchPlan(count: number): Plan {
  const empty = planEmpty()
  const tracks: { [id: string]: Track } = {}
  // About as wide as high on a screen.
  const columns = Math.max(1, Math.round(Math.sqrt((count * 1.6 * stepMm.y) / stepMm.x)))
  for (let n = 0; n < count; n++) {
    const [x, y] = [(n % columns) * stepMm.x, Math.floor(n / columns) * stepMm.y]
    // Tables stand in the order of their ids.
    const id = `piece-${String(n + 1).padStart(5, '0')}`
    tracks[id] = {
      id,
      name: `Piece ${n + 1}`,
      lineClass: 'branch',
      start: { kind: 'free', x, y },
      corners: [{ id: 'pi-1', x: x + 600, y, radius: 'class', easementIn: 'class', easementOut: 'class' }],
      end: { kind: 'free', x: x + 1000, y: y + 400 },
    }
  }
  return dataFreeze({ ...empty, railway: { ...empty.railway, title: `${count} pieces` }, tracks })
}

/** A shelf that keeps nothing. */
export const shelfNone: PlanShelf & PlanLibrary = {
  read: async () => ({ current: null, before: null, noted: [] }),
  note: async () => undefined,
  write: async ({ base }) => base + 1,
  laid: async () => undefined,
  plans: async () => [],
  versions: async () => [],
  add: async () => '',
  change: async () => undefined,
  remove: async () => undefined,
}

/** Says on `window.waybenchReady` when the picture has been painted and the tool in the hand has come. */
export function benchReadyTell(page: Window): void {
  const look = (): void => {
    if (page.document.querySelector('.canvas:not([aria-busy]) .plan') === null) page.requestAnimationFrame(look)
    // One frame paints it, the next one comes after that.
    else page.requestAnimationFrame(() => page.requestAnimationFrame(() => (page.waybenchReady = true)))
  }
  look()
}
