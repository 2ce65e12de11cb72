import type { PlanCommand } from '../../core/edit/types.ts'
import { makerCure, makerExpand, roundStepsMm } from '../../core/makers/index.ts'
import type { MakerProblem } from '../../core/makers/index.ts'
import type { Network } from '../../core/network/types.ts'
import { planNextId } from '../../core/plan/index.ts'
import type { Hand, Id, Maker, MakerNumbers, Plan } from '../../core/plan/types.ts'
import { nextName } from '../../tools/index.ts'
import type { Stub } from './stub.ts'

/** A parallel to the host from the leg on: it ends beside it, or comes back to it by a turnout. */
export interface BesideWish {
  readonly lineClass: Id
  readonly centresMm: number
  /** Beside curves; a line that ends beside its host runs straight. */
  readonly curveCentresMm: number
  readonly far:
    | { readonly kind: 'ends'; readonly lengthMm: number }
    /** Points of the turnout that it comes back by, on the host. */
    | { readonly kind: 'comesBack'; readonly stationMm: number }
}

export type BesideAnswer =
  | { readonly ok: true; readonly command: PlanCommand }
  /** would: what would do in place of what was wished, with the turnout where it is; null: nothing is known to. */
  | { readonly ok: false; readonly problem: MakerProblem; readonly would: BesideWish | null }

/** Lengths to begin with, of the track centres: a few cars. */
const lengthCentres = 12

/** Wished numbers to begin with, round in a rule: the centres of the classes, and a few cars of room or as far as the host goes. */
export function besideStart(
  { track, turnout, host }: Stub,
  plan: Plan,
  far: BesideWish['far']['kind'],
  units: 'imperial' | 'metric',
): BesideWish {
  const own = plan.lineClasses[track.lineClass] ?? host.lineClass
  const centresMm = (own.trackCentresMm + host.lineClass.trackCentresMm) / 2
  const lengthMm = host.alignment.ok ? host.alignment.path.lengthMm : 0
  const restMm = turnout.facing === 'rising' ? lengthMm - turnout.stationMm : turnout.stationMm
  const stepMm = roundStepsMm[units]
  // Out of its turnout it goes along for about as many centres as the frog number, and three more for its curve.
  const hostMm = restMm - (turnout.frog + 3) * centresMm
  const stationMm = turnout.stationMm + (turnout.facing === 'rising' ? 0.95 : -0.95) * restMm
  return {
    lineClass: track.lineClass,
    centresMm,
    curveCentresMm: centresMm,
    far:
      far === 'ends'
        ? { kind: far, lengthMm: straightMm(centresMm, hostMm, stepMm) }
        : { kind: far, stationMm: Math.round(stationMm / stepMm) * stepMm },
  }
}

/** A few cars, or what the host still has beside it; where that is hardly anything, a few cars: then it is meant to go on alone. */
function straightMm(centresMm: number, hostMm: number, stepMm: number): number {
  const fewMm = Math.ceil((lengthCentres * centresMm) / stepMm - 1e-6) * stepMm
  const besideMm = Math.floor(hostMm / stepMm) * stepMm
  return besideMm >= 2 * centresMm ? Math.min(fewMm, besideMm) : fewMm
}

/** The parallel as one step that the stub becomes; all is worked out as for a spur or a siding made from numbers. */
export function besideSolve(network: Network, stub: Stub, wish: BesideWish): BesideAnswer {
  const { plan } = network
  const { track, turnout } = stub
  const isRising = turnout.facing === 'rising'
  const back = planNextId(plan, 'turnouts')
  const numbers = numbersOf(stub, wish)
  const maker: Maker = {
    id: planNextId(plan, 'makers'),
    name: track.name,
    lineClass: wish.lineClass,
    numbers,
    made: { tracks: [track.id], turnouts: wish.far.kind === 'ends' ? [turnout.id] : isRising ? [turnout.id, back] : [back, turnout.id] },
  }
  const result = makerExpand(plan, network, maker)
  if (!result.ok) return { ok: false, problem: result.problem, would: wouldOf(stub, wish, numbers, result.problem) }
  const [line] = result.command.tracks
  if (line === undefined) throw new Error('a maker beside a host makes one track')
  const name = nextName('Turnout', Object.values(plan.turnouts))
  const commands: readonly PlanCommand[] = [
    { kind: 'track.set', id: track.id, change: { lineClass: wish.lineClass } },
    ...result.command.turnouts
      .filter(({ id }) => id === back)
      .map((record): PlanCommand => ({ kind: 'turnout.add', record: { ...record, name } })),
    ...line.corners.map((corner, index): PlanCommand => ({ kind: 'corner.insert', track: track.id, index, corner })),
    { kind: 'track.setStart', id: track.id, start: line.start },
    { kind: 'track.setEnd', id: track.id, end: line.end },
  ]
  return { ok: true, command: { kind: 'group', label: 'Lay a parallel from a leg', commands } }
}

const otherHand = (hand: Hand): Hand => (hand === 'left' ? 'right' : 'left')

function numbersOf({ turnout, host }: Stub, { centresMm, curveCentresMm, far }: BesideWish): MakerNumbers {
  const { facing, frog, stationMm } = turnout
  const track = host.track.id
  const side = facing === 'rising' ? turnout.hand : otherHand(turnout.hand)
  if (far.kind === 'ends')
    return { kind: 'spur', track, stationMm, facing, side, frog, course: { kind: 'parallel', centresMm }, lengthMm: far.lengthMm }
  const [fromMm, toMm] = facing === 'rising' ? [stationMm, far.stationMm] : [far.stationMm, stationMm]
  return { kind: 'siding', track, fromMm, toMm, side, centresMm, curveCentresMm, frogFrom: frog, frogTo: frog }
}

/** The change that the problem names, unless it is of the turnout that is there. */
function wouldOf({ turnout }: Stub, wish: BesideWish, numbers: MakerNumbers, problem: MakerProblem): BesideWish | null {
  const cured = makerCure(numbers, problem)
  if (cured?.kind === 'spur' && cured.course.kind === 'parallel')
    return cured.stationMm === turnout.stationMm ? { ...wish, centresMm: cured.course.centresMm } : null
  if (cured?.kind !== 'siding') return null
  const { centresMm, curveCentresMm } = cured
  const [ownMm, stationMm] = turnout.facing === 'rising' ? [cured.fromMm, cured.toMm] : [cured.toMm, cured.fromMm]
  return ownMm === turnout.stationMm ? { ...wish, centresMm, curveCentresMm, far: { kind: 'comesBack', stationMm } } : null
}
