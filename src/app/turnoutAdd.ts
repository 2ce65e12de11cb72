import { poseAhead } from '../core/geom/index.ts'
import type { Point, Pose } from '../core/geom/types.ts'
import { legPose } from '../core/network/index.ts'
import { plainKind, planNextId } from '../core/plan/index.ts'
import type { Id, Track, TurnoutBuild, TurnoutLeg } from '../core/plan/types.ts'
import { nextName } from '../tools/index.ts'
import type { Stores } from './context.ts'
import { longestStraight } from './places.ts'
import { planEdit } from './planEdit.ts'

const standardBuild: TurnoutBuild = {
  points: 'straight',
  pointLengthMm: 'standard',
  pointThicknessMm: 'standard',
  heelSpreadMm: 'standard',
  toeLengthMm: 'standard',
  heelLengthMm: 'standard',
}

/** Places a turnout of the usual frog on the longest straight of a track, else on its curve: the way that needs no pointer. */
export function turnoutAddOn(stores: Stores, track: Track): void {
  const session = stores.session.getState()
  const alignment = stores.derived.getState().derived.network.tracks.get(track.id)?.alignment
  if (alignment?.ok !== true) {
    session.setNotice('The line of this track is not solved yet; a turnout has no place on it.')
    return
  }
  // A straight is the easier place to build one; a track that is curved all along takes it on the curve.
  const stretch = longestStraight(alignment.path) ?? { fromMm: 0, toMm: alignment.path.lengthMm }
  const { plan } = stores.plan.getState()
  const id = planNextId(plan, 'turnouts')
  const done = planEdit(stores, {
    kind: 'turnout.add',
    record: {
      id,
      name: nextName('Turnout', Object.values(plan.turnouts)),
      kind: plainKind,
      track: track.id,
      // A third along leaves room for lead, frog and long ties before the curve.
      stationMm: stretch.fromMm + (stretch.toMm - stretch.fromMm) / 3,
      facing: 'rising',
      hand: 'left',
      frog: plan.lineClasses[track.lineClass]?.usualFrog ?? 6,
      build: standardBuild,
    },
  })
  if (done.problem === null) session.select({ kind: 'record', table: 'turnouts', id })
}

/** First length of a track that starts at a leg, mm: enough to see and to take hold of. */
const firstLengthMm = 300

/** Starts a track from a leg and puts its end into the builder's hand. */
export function trackStartFromLeg(stores: Stores, turnoutId: Id, leg: TurnoutLeg): void {
  const session = stores.session.getState()
  const { plan } = stores.plan.getState()
  const turnout = plan.turnouts[turnoutId]
  const placed = stores.derived.getState().derived.network.turnouts.get(turnoutId)
  const host = turnout === undefined ? undefined : plan.tracks[turnout.track]
  const pose = placed === undefined ? null : legPose(placed.result, leg)
  if (turnout === undefined || host === undefined || pose === null) {
    session.setNotice('This turnout has no place yet, so no track can start from it.')
    return
  }
  const id = planNextId(plan, 'tracks')
  const done = planEdit(stores, {
    kind: 'track.add',
    record: {
      id,
      name: `Track from ${turnout.name}`,
      lineClass: host.lineClass,
      start: { kind: 'leg', turnout: turnoutId, leg },
      corners: [],
      end: { kind: 'free', ...endOf(pose) },
    },
  })
  if (done.problem !== null) return
  session.setStage('line')
  session.select({ kind: 'trackEnd', track: id, end: 'end' })
}

const endOf = (pose: Pose): Point => {
  const { x, y } = poseAhead(pose, firstLengthMm)
  return { x, y }
}

/** The track that starts or ends at a turnout's leg; null: none. */
export function trackAtLeg(tracks: { readonly [id: Id]: Track }, turnoutId: Id, leg: TurnoutLeg): Track | null {
  const holds = (end: Track['start'] | Track['end']): boolean => end.kind === 'leg' && end.turnout === turnoutId && end.leg === leg
  return Object.values(tracks).find((track) => holds(track.start) || holds(track.end)) ?? null
}
