import { poseToPlan } from '../geom/index.ts'
import type { Point, Pose } from '../geom/types.ts'
import type { Facing, Hand, YardNumbers } from '../plan/types.ts'
import { arcSaving, arcTangent } from './curves.ts'
import { ladderFigures } from './figures.ts'
import { yardLadders } from './ladders.ts'
import type { Ladder, LadderPlan } from './ladders.ts'
import { done, facingOpposite, handOf, handOpposite, hostPose, signOf, stationOn, straightAbout, stretchOf } from './site.ts'
import type { Host, Site } from './site.ts'
import type { Outcome, PartCorner, PartEnd, PartHost, Parts, TrackPart, TurnoutPart } from './types.ts'

/** One throat of the yard: the frame of its first points and the turnouts, by their place among the maker's. */
interface Throat {
  readonly frame: Pose
  /** +1 where the yard lies to the left of one who goes in there. */
  readonly sign: 1 | -1
  readonly hand: Hand
  readonly plan: LadderPlan
  /** Every how many turnouts one is this throat's: 1, or 2 with two throats. */
  readonly step: number
  readonly offset: number
}

/**
 * A yard: body tracks side by side that hang on a ladder, as stubs or between two ladders alike.
 *
 * In the frame of the first points (x ahead along the host, y to the yard) the body tracks lie on y = lead centres + i x centres. The last
 * one of each ladder is the ladder itself, bent back to the body. Stubs all end abreast; between two ladders each body track is
 * shorter than the one before by twice the pitch along the body.
 *
 * Outcome:  lead, ladders, body tracks; or that the ladder is too tight, with the least pitch and the least centres that would do.
 */
export function yardMake(site: Site, numbers: YardNumbers): Outcome<Parts> {
  const opened = site.host(numbers.track)
  if (!opened.ok) return opened
  const host = opened.value
  const isDouble = numbers.ends === 'double'
  const step = isDouble ? 2 : 1
  const near = yardLadders(site, numbers, host.lineClass, step, 0)
  if (!near.ok) return near
  const far = isDouble ? yardLadders(site, numbers, host.lineClass, step, 1) : near
  if (!far.ok) return far

  const { stationMm, facing, side } = numbers
  const way = facing === 'rising' ? 1 : -1
  const baseMm = near.value.endX + numbers.bodyMm + far.value.endX
  const farStationMm = stationMm + way * baseMm
  const placed = yardPlace(host, numbers, near.value, far.value, baseMm)
  if (!placed.ok) return placed

  const hand = handOf(side, facing)
  const frame = hostPose(host, stationMm, facing)
  const throats: readonly Throat[] = [
    { frame, sign: signOf(hand), hand, plan: near.value, step, offset: 0 },
    ...(isDouble
      ? [
          {
            frame: hostPose(host, farStationMm, facingOpposite(facing)),
            sign: signOf(handOpposite(hand)),
            hand: handOpposite(hand),
            plan: far.value,
            step,
            offset: 1,
          } as const,
        ]
      : []),
  ]
  const leads = throats.map(
    (throat, i): TurnoutPart => ({
      kind: 'turnout',
      word: i === 0 ? 'lead' : 'far lead',
      host: { kind: 'plan', id: numbers.track },
      stationMm: stationOn(host, i === 0 ? stationMm : farStationMm),
      facing: i === 0 ? facing : facingOpposite(facing),
      hand: throat.hand,
      frog: numbers.frog,
    }),
  )
  return done({
    parts: yardParts(site, numbers, throats, leads, near.value.endX + numbers.bodyMm),
    facts: yardFacts(numbers, near.value, isDouble ? baseMm : near.value.endX + numbers.bodyMm),
  })
}

/** Whether the points of both throats find their straights. */
function yardPlace(host: Host, numbers: YardNumbers, near: LadderPlan, far: LadderPlan, baseMm: number): Outcome<null> {
  const { facing, stationMm, ends } = numbers
  const way = facing === 'rising' ? 1 : -1
  const [before, behind] = stretchOf(near.lead, facing)
  if (ends === 'stub') {
    const straight = straightAbout(host, 'stationMm', stationMm, before, behind)
    return straight.ok ? done(null) : straight
  }
  // The body tracks lie in line from leg to leg: one straight must hold both throats.
  const [farBefore, farBehind] = stretchOf(far.lead, facingOpposite(facing))
  const low = Math.min(before, way * baseMm + farBefore)
  const high = Math.max(behind, way * baseMm + farBehind)
  const straight = straightAbout(host, 'stationMm', stationMm, low, high)
  return straight.ok ? done(null) : straight
}

function yardParts(
  site: Site,
  numbers: YardNumbers,
  throats: readonly Throat[],
  leads: readonly TurnoutPart[],
  endX: number,
): readonly (TurnoutPart | TrackPart)[] {
  const [near, far] = throats
  if (near === undefined) return []
  const { ladders } = near.plan
  const turnouts: TurnoutPart[] = []
  const ladderTracks: TrackPart[] = []
  const bodies: TrackPart[] = []
  const radiusMm = site.lineClass.usualRadiusMm
  /** Where a turnout stands among all of the maker's. */
  const turnoutAt = (throat: Throat, index: number): number => index * throat.step + throat.offset
  const leg = (throat: Throat, index: number): PartEnd => ({ kind: 'leg', turnout: turnoutAt(throat, index) })
  const at = (throat: Throat, x: number, y: number): Point => poseToPlan(throat.frame, { x, y: throat.sign * y })
  const corner = ({ x, y }: Point): PartCorner => ({ x, y, radius: 'class', easementIn: 0, easementOut: 0 })
  const stub = (trackIndex: number): PartEnd => ({ kind: 'free', ...at(near, endX, trackY(numbers, trackIndex)) })

  for (const [i, ladder] of ladders.entries()) {
    const farLadder = far?.plan.ladders[i]
    const bends = ladder.bends.map(({ x, y }) => corner(at(near, x, y)))
    const back = far === undefined || farLadder === undefined ? [] : farLadder.bends.toReversed().map(({ x, y }) => corner(at(far, x, y)))
    ladderTracks.push({
      kind: 'track',
      word: ladders.length === 1 ? 'ladder' : i === 0 ? 'first ladder' : 'second ladder',
      start: leg(near, ladder.from),
      corners: [...bends, ...back],
      end: far === undefined ? stub(ladder.lastTrack) : leg(far, ladder.from),
    })
    const nearMm = ladderLength(ladder, radiusMm)
    const totalMm =
      far === undefined || farLadder === undefined
        ? nearMm
        : nearMm +
          numbers.bodyMm +
          bodyMore(near.plan, ladder.lastTrack) +
          bodyMore(far.plan, ladder.lastTrack) +
          ladderLength(farLadder, radiusMm)
    for (const throat of throats) {
      const plan = throat.plan.ladders[i]
      for (const { index, alongMm, isBranch, word } of plan?.turnouts ?? []) {
        const facing: Facing = throat === near ? 'rising' : 'falling'
        turnouts[turnoutAt(throat, index) - throats.length] = {
          kind: 'turnout',
          word: throat === near ? word : `far ${word}`,
          host: { kind: 'made', track: i } satisfies PartHost,
          stationMm: throat === near ? alongMm : totalMm - alongMm,
          facing,
          // A branch goes on to the same side as the lead, a body track turns back.
          hand: isBranch ? throat.hand : handOpposite(throat.hand),
          frog: numbers.frog,
        }
      }
    }
    for (const { index, trackIndex } of ladder.turnouts) {
      if (trackIndex === null) continue
      bodies.push({
        kind: 'track',
        word: `track ${trackIndex + 1}`,
        start: leg(near, index),
        corners: [],
        end: far === undefined ? stub(trackIndex) : leg(far, index),
      })
    }
  }
  return interleaved(leads, ladderTracks, turnouts, bodies)
}

/** How much sooner than the shortest body track's the straight of this one begins: that of a first ladder is longer. */
function bodyMore({ endX, bodyX }: LadderPlan, lastTrack: number): number {
  return endX - (bodyX.get(lastTrack) ?? endX)
}

/** Centre of a body track off the host. */
function trackY(numbers: YardNumbers, trackIndex: number): number {
  return numbers.leadCentresMm + trackIndex * numbers.centresMm
}

/** From the leg to the end of the last bend, along the track. */
function ladderLength({ legAt, bends, turnsRad }: Ladder, radiusMm: number): number {
  let lengthMm = 0
  let at = legAt
  for (const bend of bends) {
    lengthMm += Math.hypot(bend.x - at.x, bend.y - at.y)
    at = bend
  }
  const savings = turnsRad.reduce((sum, turnRad) => sum + arcSaving(radiusMm, turnRad), 0)
  // The last tangent counts to the end of its curve.
  return lengthMm - savings + arcTangent(radiusMm, turnsRad.at(-1) ?? 0)
}

/** Hosts before their turnouts, turnouts before the tracks at their legs; indexes count turnouts and tracks each by themselves. */
function interleaved(
  leads: readonly TurnoutPart[],
  ladders: readonly TrackPart[],
  turnouts: readonly TurnoutPart[],
  bodies: readonly TrackPart[],
): readonly (TurnoutPart | TrackPart)[] {
  const [first, ...rest] = ladders
  if (first === undefined) return leads
  return [...leads, first, ...turnouts.filter(isOn(0)), ...rest, ...turnouts.filter((part) => !isOn(0)(part)), ...bodies]
}

const isOn =
  (track: number) =>
  ({ host }: TurnoutPart): boolean =>
    host.kind === 'made' && host.track === track

function yardFacts(numbers: YardNumbers, plan: LadderPlan, reachMm: number): Parts['facts'] {
  const { pitchAlongLadderMm, pitchAlongBodyMm, shorterByMm } = ladderFigures({
    centresMm: numbers.centresMm,
    frogAngleRad: plan.lead.frogAngleRad,
  })
  return [
    { name: 'pitchAlongLadderMm', value: pitchAlongLadderMm },
    { name: 'pitchAlongBodyMm', value: pitchAlongBodyMm },
    // Of a ladder with one turnout there is none: nothing follows it.
    ...(plan.leastPitchMm > 0 ? [{ name: 'leastPitchMm', value: plan.leastPitchMm } as const] : []),
    ...(numbers.ends === 'double' ? [{ name: 'shorterByMm', value: shorterByMm } as const] : []),
    { name: 'ladderMm', value: plan.endX },
    { name: 'reachMm', value: reachMm },
    ...(plan.ladders.length > 1 ? [{ name: 'tracksOnSecondLadder', value: numbers.tracks - plan.onFirst } as const] : []),
  ]
}
