import { dataFreeze, planEmpty } from '../../src/core/plan/index.ts'
import type { Corner, Plan, Track, Turnout } from '../../src/core/plan/index.ts'
import { aCorner, aTurnout } from './plans.ts'

/** Districts of the big plan; each has a main with four turnouts, a spur on each of their legs and three tracks of its own. */
const districts = 25
const turnoutsEach = 4
const loneTracksEach = 3
const districtHeightMm = 4000

const corner = (id: number, x: number, y: number, change: Partial<Corner> = {}): Corner => aCorner({ id: `pi-${id}`, x, y, ...change })

/**
 * An HO railway of 200 tracks and 100 turnouts, as many as a club's: mains of 6 m with turnouts on their tangents, spurs
 * that leave the legs and bend back, and tracks that stand alone. Every track and every turnout works out.
 */
export function bigPlan(): Plan {
  const empty = planEmpty()
  const tracks: Track[] = []
  const turnouts: Turnout[] = []
  for (let district = 0; district < districts; district++) {
    const y = district * districtHeightMm
    const main = `track-main-${district}`
    tracks.push({
      id: main,
      name: `Main ${district}`,
      lineClass: 'main',
      start: { kind: 'free', x: 0, y },
      corners: [corner(1, 2600, y), corner(2, 3700, y + 1100), corner(3, 5200, y + 1100)],
      end: { kind: 'free', x: 6000, y: y + 1900 },
    })
    for (let i = 0; i < turnoutsEach; i++) {
      const id = `turnout-${district}-${i}`
      const side = i % 2 === 0 ? 1 : -1
      const stationMm = 100 + 450 * i
      turnouts.push(aTurnout({ id, name: `T${i}`, track: main, stationMm, hand: side === 1 ? 'left' : 'right', frog: 5 + i }))
      const parallelY = y + side * (60 + 10 * i)
      tracks.push({
        id: `track-spur-${district}-${i}`,
        name: `Spur ${i}`,
        lineClass: 'yard',
        start: { kind: 'leg', turnout: id, leg: 'diverging' },
        corners: [corner(1, stationMm + 600, parallelY, { radius: 700 }), corner(2, stationMm + 1100, parallelY, { radius: 650 })],
        end: { kind: 'free', x: stationMm + 1700, y: parallelY + side * 300 },
      })
    }
    for (let i = 0; i < loneTracksEach; i++) {
      const low = y + 400 * i
      tracks.push({
        id: `track-lone-${district}-${i}`,
        name: `Lone ${i}`,
        lineClass: 'branch',
        start: { kind: 'free', x: 7000, y: low },
        corners: [corner(1, 8200, low), corner(2, 9200, low + 1000), corner(3, 10600, low + 1000)],
        end: { kind: 'free', x: 11600, y: low },
      })
    }
  }
  const byId = <R extends { readonly id: string }>(records: readonly R[]): { readonly [id: string]: R } =>
    Object.fromEntries(records.map((record) => [record.id, record]))
  return dataFreeze({ ...empty, tracks: byId(tracks), turnouts: byId(turnouts) })
}

/** A plan with one PI of a track moved, as a drag step makes it: every other record is the same object. */
export function withCornerMoved(plan: Plan, trackId: string, cornerId: string, dx: number, dy: number): Plan {
  const track = plan.tracks[trackId]
  if (!track) throw new Error(`no track ${trackId}`)
  const corners = track.corners.map((one) => (one.id === cornerId ? { ...one, x: one.x + dx, y: one.y + dy } : one))
  return dataFreeze({ ...plan, tracks: { ...plan.tracks, [trackId]: { ...track, corners } } })
}
