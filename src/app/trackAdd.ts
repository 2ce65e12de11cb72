import { planNextId } from '../core/plan/index.ts'
import { nextName } from '../tools/index.ts'
import type { Stores } from './context.ts'
import { planEdit } from './planEdit.ts'

/** Half the length of a track that is added without a pointer, mm: 4 ft or 1.2 m in all. */
const halfLengthsMm = { imperial: 609.6, metric: 600 } as const

/** A straight track in the middle of the view, to be shaped by numbers. */
export function trackAddInView(stores: Stores): void {
  const session = stores.session.getState()
  const { plan } = stores.plan.getState()
  const lineClass = Object.keys(plan.lineClasses)[0]
  if (lineClass === undefined) {
    session.setNotice('A track needs a line class; the plan has none left.')
    return
  }
  const id = planNextId(plan, 'tracks')
  const { x, y } = session.viewport.centre
  const halfLengthMm = halfLengthsMm[stores.prefs.getState().units]
  const done = planEdit(stores, {
    kind: 'track.add',
    record: {
      id,
      name: nextName('Track', Object.values(plan.tracks)),
      lineClass,
      start: { kind: 'free', x: x - halfLengthMm, y },
      corners: [],
      end: { kind: 'free', x: x + halfLengthMm, y },
    },
  })
  if (done.problem !== null) return
  session.setStage('line')
  session.select({ kind: 'record', table: 'tracks', id })
}
