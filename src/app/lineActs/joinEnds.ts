import { openEnds } from '../../core/pipeline/index.ts'
import type { JoinTo } from '../../core/pipeline/index.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { Network } from '../../core/network/types.ts'
import type { Plan } from '../../core/plan/types.ts'
import type { Selection } from '../../store/types.ts'
import { recordName } from '../../words/names.ts'
import { hasTwoLegs, legWord } from '../../words/turnoutText.ts'

export const joinKey = (to: JoinTo): string =>
  to.kind === 'leg' ? `${to.leg} ${to.turnout}` : to.kind === 'trackEnd' ? `${to.end} ${to.track}` : `on ${to.track}`

export function joinToText(to: JoinTo, plan: Plan): string {
  switch (to.kind) {
    case 'leg':
      return `${legName(to, plan)} of ${recordName(plan, 'turnouts', to.turnout)}`
    case 'trackEnd':
      return `${to.end} of ${recordName(plan, 'tracks', to.track)}`
    case 'onTrack':
      return `a turnout on ${recordName(plan, 'tracks', to.track)}`
  }
}

/** Where a turnout has two legs, which of them. */
function legName({ turnout, leg }: Extract<JoinTo, { kind: 'leg' }>, plan: Plan): string {
  const record = recordFind(plan, 'turnouts', turnout)
  return record !== null && hasTwoLegs(record.kind) ? legWord(leg, record.hand) : 'leg'
}

/** Nearer to a free end than this, a track pointed at means its end, mm. */
const endReachMm = 150

/** What a thing pointed at means as the other end of a join; null: nothing. stationMm: where on the track, if known. */
export function joinToSelected(selection: Selection, network: Network, stationMm: number | null): JoinTo | null {
  if (selection.kind === 'trackEnd') return { kind: 'trackEnd', track: selection.track, end: selection.end }
  if (selection.kind !== 'record') return null
  if (selection.table === 'turnouts') {
    // The turnout itself is pointed at: the first leg that is still open.
    const open = openEnds(network).find(({ end }) => end.kind === 'leg' && end.turnout === selection.id)
    return open?.end ?? { kind: 'leg', turnout: selection.id, leg: 'diverging' }
  }
  if (selection.table !== 'tracks') return null
  const { id: track } = selection
  const alignment = network.tracks.get(track)?.alignment
  if (alignment?.ok === true && stationMm !== null) {
    if (stationMm < endReachMm) return { kind: 'trackEnd', track, end: 'start' }
    if (alignment.path.lengthMm - stationMm < endReachMm) return { kind: 'trackEnd', track, end: 'end' }
  }
  return { kind: 'onTrack', track, stationMm }
}
