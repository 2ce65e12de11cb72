import type { CornerPlace } from '../alignment/types.ts'
import { poseToPlan } from '../geom/index.ts'
import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { Derived } from '../pipeline/types.ts'
import type { TurnoutLeg } from '../plan/types.ts'
import type { TurnoutLegPose } from '../turnout/types.ts'
import { freeSpacePlace, type FreeSpace, type Place } from './freeSpace.ts'
import type { PlanItem } from './planItem.ts'
import type { SheetOptions } from './types.ts'
import { lengthWords, radiusWords } from './words.ts'

type Units = SheetOptions['units']

/** A track that hangs on a leg, as it is seen from there. */
interface LegTrack {
  readonly leg: TurnoutLegPose
  readonly name: string
  /** Its first curve from the leg on; absent: it runs straight to its end. */
  readonly curve: { readonly afterMm: number; readonly radiusMm: number; readonly hand: 'left' | 'right' } | null
}

/** The tracks on the legs of a turnout that are laid. */
function legTracks({ network }: Derived, { turnout, result }: NetworkTurnout): readonly LegTrack[] {
  if (!result.ok) return []
  return [...network.tracks.values()].flatMap((one) => {
    const { start, end } = one.track
    const on = [start, end].map((side): TurnoutLeg | null => (side.kind === 'leg' && side.turnout === turnout.id ? side.leg : null))
    return on.flatMap((name, i) => {
      const leg = result.legs.find((pose) => pose.leg === name)
      const seen = leg && legTrack(one, leg, i === 1)
      return seen ? [seen] : []
    })
  })
}

function legTrack({ track, alignment }: NetworkTrack, leg: TurnoutLegPose, isFromEnd: boolean): LegTrack | null {
  if (!alignment.ok) return null
  const turning = alignment.corners.filter(({ solution }) => solution.deflectionRad !== 0)
  const corner: CornerPlace | undefined = isFromEnd ? turning.at(-1) : turning[0]
  if (!corner) return { leg, name: track.name, curve: null }
  const { deflectionRad, arcs, radiusMm } = corner.solution
  return {
    leg,
    name: track.name,
    curve: {
      afterMm: isFromEnd ? alignment.path.lengthMm - corner.stMm : corner.tsMm,
      radiusMm: (isFromEnd ? arcs.at(-1) : arcs[0])?.radiusMm ?? radiusMm,
      hand: deflectionRad > 0 === isFromEnd ? 'right' : 'left',
    },
  }
}

/** Straight shorter than this is not told, mm. */
const STRAIGHT_TOLD_MM = 1

/** Where the legs lead, for the foot: "Leg goes on as Quay lead: straight 2″, then R 30″ right". */
export function legFacts(derived: Derived, placed: NetworkTurnout, units: Units): readonly string[] {
  return legTracks(derived, placed).map(({ leg, name, curve }) => {
    const straight = curve && curve.afterMm >= STRAIGHT_TOLD_MM ? `straight for ${lengthWords(curve.afterMm, units)}, then ` : ''
    const line = curve ? `${straight}R ${radiusWords(curve.radiusMm, units)} ${curve.hand}` : 'straight'
    return `${leg.leg === 'other' ? 'Other leg' : 'Leg'} goes on as ${name}: ${line}`
  })
}

/** Along the leg from its end, and off the ties: where words on it may stand, mm. */
const ALONG_MM = [25, 10, -5, -20, -40, -60, 45, 70] as const
const BESIDE_MM = [14, 20, 27, 35] as const

/** Beside each leg the track that goes on there, with the radius of its first curve; left out where there is no room, for the foot tells it. */
export function legTexts(derived: Derived, placed: NetworkTurnout, units: Units, space: FreeSpace): readonly PlanItem[] {
  if (!placed.result.ok) return []
  const { request } = placed.result.geometry
  return legTracks(derived, placed).flatMap(({ leg: { pose }, name, curve }) => {
    const text = `to ${name}, ${curve ? `R ${radiusWords(curve.radiusMm, units)}` : 'straight'}`
    const outer = request.hand === 'left' ? 1 : -1
    const places = [outer, -outer].flatMap((side) =>
      BESIDE_MM.flatMap((beside) =>
        ALONG_MM.map(
          (x): Place => ({
            middle: poseToPlan(pose, { x, y: side * (request.tieLengthMm / 2 + beside) }),
            angleRad: pose.headingRad,
            anchor: x < 0 ? 'end' : 'middle',
          }),
        ),
      ),
    )
    return (
      freeSpacePlace(space, { kind: 'text', layer: 'names', text, sizeMm: 3.2, weight: 'regular', grey: 0.1 }, places, 'leave-out') ?? []
    )
  })
}
