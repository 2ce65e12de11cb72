import type { Point } from '../geom/types.ts'
import type { LineClass, YardNumbers } from '../plan/types.ts'
import { arcSaving, arcTangent } from './curves.ts'
import type { Shape } from './shape.ts'
import { done, fail } from './site.ts'
import type { Site } from './site.ts'
import type { MakerProblem, Outcome } from './types.ts'

/** A turnout on a ladder: its place among those of its throat, along the ladder's track, and the body track at its leg (null: a ladder). */
export interface LadderTurnout {
  readonly index: number
  readonly word: string
  readonly alongMm: number
  readonly isBranch: boolean
  readonly trackIndex: number | null
}

/** A ladder in the frame of the lead's points; it ends as body track `lastTrack`. */
export interface Ladder {
  /** Turnout of the throat at whose leg it begins. */
  readonly from: number
  readonly legAt: Point
  readonly bends: readonly Point[]
  readonly turnsRad: readonly number[]
  readonly turnouts: readonly LadderTurnout[]
  readonly lastTrack: number
}

export interface LadderPlan {
  readonly lead: Shape
  readonly ladders: readonly Ladder[]
  /** Body tracks on the first ladder. */
  readonly onFirst: number
  /** x at which the straight of the shortest body track begins. */
  readonly endX: number
  /** The same for body tracks that are a ladder's last. */
  readonly bodyX: ReadonlyMap<number, number>
  readonly leastPitchMm: number
}

/** A compound ladder of fewer tracks would have nothing on its second ladder but its end. */
const leastCompound = 4

/**
 * The ladders of one throat.
 *
 *   The lead's leg runs at F off the host, from the crossing of its line with the host's; distances u along it count from there. A leg
 *   parallel to the body at height y crosses the ladder at u = y / sin F, and its points stand crossX before that. The last body track
 *   has no turnout: the ladder bends back by F, its PI at y / sin F.
 *   Two neighbours stand centres / sin F apart, whatever their frogs; that must hold a turnout from its head blocks to its last long tie.
 *   The first one must stand behind the lead's long ties, so lead centres have a least value too.
 *   A compound ladder branches at its foot: a turnout of the lead's hand sends a second ladder off at 2F, which bends back to F as soon as
 *   its first body track allows. Both then stand side by side, so the yard is shorter by about half; the price is a reverse curve.
 *
 * Outcome:  places in the frame of the lead's points; or ladderTooTight, or lead centres too small, each with what would do.
 */
export function yardLadders(site: Site, numbers: YardNumbers, hostClass: LineClass, step: number, offset: number): Outcome<LadderPlan> {
  const isCompound = numbers.ladder === 'compound'
  if (isCompound && numbers.tracks < leastCompound) {
    return fail({ kind: 'badNumber', where: 'tracks', value: numbers.tracks, expected: `${leastCompound} or more for a compound ladder` })
  }
  const lead = site.shape(offset, hostClass, numbers.frog)
  if (!lead.ok) return lead
  // One track has no turnout, being the end of a ladder; a second ladder has no turnout for its end either, but a branch at its foot.
  const shapes: Shape[] = []
  for (let i = 0; i < numbers.tracks - 1; i++) {
    const shape = site.shape((i + 1) * step + offset, site.lineClass, numbers.frog)
    if (!shape.ok) return shape
    shapes.push(shape.value)
  }
  const tight = pitchProblem(site, numbers, shapes)
  if (tight !== null) return fail(tight)
  return isCompound ? compoundLadders(site, numbers, lead.value, shapes) : straightLadder(site, numbers, lead.value, shapes)
}

/** Room that two turnouts want one behind the other, along the ladder from crossing to crossing. */
function roomBetween(before: Shape, behind: Shape): number {
  return before.toMm - before.crossX - behind.fromMm + behind.crossX
}

/** Least pitch of a ladder of these turnouts. */
function leastPitch(shapes: readonly Shape[]): number {
  return shapes.reduce((most, shape, i) => {
    const next = shapes[i + 1]
    return next === undefined ? most : Math.max(most, roomBetween(shape, next))
  }, 0)
}

/** The pitch must hold a turnout before the next one, and before the bend that ends the ladder. */
function pitchProblem({ lineClass }: Site, { centresMm }: YardNumbers, shapes: readonly Shape[]): MakerProblem | null {
  const [first] = shapes
  if (first === undefined) return null
  const sin = Math.sin(first.frogAngleRad)
  const tangentMm = arcTangent(lineClass.usualRadiusMm, first.frogAngleRad)
  const bendMm = Math.max(...shapes.map((shape) => shape.toMm - shape.crossX)) + tangentMm
  const leastPitchMm = Math.max(leastPitch(shapes), bendMm)
  const pitchMm = centresMm / sin
  if (pitchMm >= leastPitchMm) return null
  return { kind: 'ladderTooTight', pitchMm, leastPitchMm, centresMm, leastCentresMm: leastPitchMm * sin }
}

const leadProblem = (leadCentresMm: number, leastMm: number): MakerProblem | null =>
  leadCentresMm >= leastMm ? null : { kind: 'centresTooSmall', where: 'leadCentresMm', centresMm: leadCentresMm, leastMm }

function straightLadder(site: Site, numbers: YardNumbers, lead: Shape, shapes: readonly Shape[]): Outcome<LadderPlan> {
  const { tracks, leadCentresMm, centresMm } = numbers
  const { frogAngleRad } = lead
  const [sin, cos] = [Math.sin(frogAngleRad), Math.cos(frogAngleRad)]
  const tangentMm = arcTangent(site.lineClass.usualRadiusMm, frogAngleRad)
  const crossing = (trackIndex: number): number => (leadCentresMm + trackIndex * centresMm) / sin
  const [first] = shapes
  // With one track there is no turnout on the ladder, only its bend.
  const leastU = first === undefined ? lead.legMm + tangentMm : lead.clearMm - first.fromMm + first.crossX
  const near = leadProblem(leadCentresMm, leastU * sin)
  if (near !== null) return fail(near)
  const bendU = crossing(tracks - 1)
  const at = (u: number): Point => ({ x: lead.crossX + u * cos, y: u * sin })
  const endX = at(bendU).x + tangentMm
  return done({
    lead,
    ladders: [
      {
        from: 0,
        legAt: at(lead.legMm),
        bends: [at(bendU)],
        turnsRad: [-frogAngleRad],
        turnouts: shapes.map((shape, i) => ({
          index: i + 1,
          word: `turnout ${i + 1}`,
          alongMm: crossing(i) - shape.crossX - lead.legMm,
          isBranch: false,
          trackIndex: i,
        })),
        lastTrack: tracks - 1,
      },
    ],
    onFirst: tracks,
    endX,
    bodyX: new Map([[tracks - 1, endX]]),
    leastPitchMm: leastPitch(shapes),
  })
}

/** The second ladder's way: how far it runs at 2F before it bends, and where each of its crossings lies behind the bend. */
interface Branch {
  readonly onFirst: number
  readonly bendMm: number
  readonly bendAt: Point
  readonly endX: number
  readonly firstX: number
  readonly secondX: number
}

function compoundLadders(site: Site, numbers: YardNumbers, lead: Shape, shapes: readonly Shape[]): Outcome<LadderPlan> {
  const { tracks, leadCentresMm, centresMm } = numbers
  const { frogAngleRad } = lead
  const [sin, cos] = [Math.sin(frogAngleRad), Math.cos(frogAngleRad)]
  const radiusMm = site.lineClass.usualRadiusMm
  const tangentMm = arcTangent(radiusMm, frogAngleRad)
  const [branch, ...rest] = shapes
  const [first] = rest
  if (branch === undefined || first === undefined) return fail({ kind: 'badNumber', where: 'tracks', value: tracks, expected: '4 or more' })
  const y = (trackIndex: number): number => leadCentresMm + trackIndex * centresMm
  const branchU = lead.clearMm - branch.fromMm + branch.crossX
  const near = leadProblem(leadCentresMm, (branchU + roomBetween(branch, first)) * sin)
  if (near !== null) return fail(near)

  const at = (u: number): Point => ({ x: lead.crossX + u * cos, y: u * sin })
  const root = at(branchU)
  const [sin2, cos2] = [Math.sin(2 * frogAngleRad), Math.cos(2 * frogAngleRad)]
  const ways = Array.from({ length: tracks - 3 }, (_, i): Branch | null => {
    const onFirst = i + 2
    const head = rest[onFirst - 1]
    if (head === undefined) return null
    // The bend lies as far out as the first turnout behind it allows.
    const backMm = tangentMm - head.fromMm + head.crossX
    const bendMm = (y(onFirst) - root.y - backMm * sin) / sin2
    // Between the two ladders there must be room for two tracks.
    if (bendMm < branch.legMm + tangentMm || bendMm * sin < centresMm) return null
    const bendAt = { x: root.x + bendMm * cos2, y: root.y + bendMm * sin2 }
    const firstX = at(y(onFirst - 1) / sin).x + tangentMm
    const secondX = bendAt.x + ((y(tracks - 1) - bendAt.y) / sin) * cos + tangentMm
    return { onFirst, bendMm, bendAt, firstX, secondX, endX: Math.max(firstX, secondX) }
  }).filter((way) => way !== null)
  const [shortest, ...others] = ways
  if (shortest === undefined)
    return fail({
      kind: 'badNumber',
      where: 'tracks',
      value: tracks,
      expected: `${tracks + 1} or more at these centres, or a straight ladder`,
    })
  const way = others.reduce((best, one) => (one.endX < best.endX ? one : best), shortest)

  const { onFirst, bendMm, bendAt } = way
  const bentMm = bendMm - branch.legMm - arcSaving(radiusMm, frogAngleRad)
  const turnout = (shape: Shape, index: number, alongMm: number, trackIndex: number): Ladder['turnouts'][number] => ({
    index,
    word: `turnout ${trackIndex + 1}`,
    alongMm: alongMm - shape.crossX,
    isBranch: false,
    trackIndex,
  })
  const onSecond = rest.slice(onFirst - 1)
  return done({
    lead,
    ladders: [
      {
        from: 0,
        legAt: at(lead.legMm),
        bends: [at(y(onFirst - 1) / sin)],
        turnsRad: [-frogAngleRad],
        turnouts: [
          { index: 1, word: 'branch', alongMm: branchU - branch.crossX - lead.legMm, isBranch: true, trackIndex: null },
          ...rest.slice(0, onFirst - 1).map((shape, i) => turnout(shape, i + 2, y(i) / sin - lead.legMm, i)),
        ],
        lastTrack: onFirst - 1,
      },
      {
        from: 1,
        legAt: { x: root.x + branch.legMm * cos2, y: root.y + branch.legMm * sin2 },
        bends: [bendAt, { x: way.secondX - tangentMm, y: y(tracks - 1) }],
        turnsRad: [-frogAngleRad, -frogAngleRad],
        turnouts: onSecond.map((shape, i) => turnout(shape, i + onFirst + 1, bentMm + (y(onFirst + i) - bendAt.y) / sin, onFirst + i)),
        lastTrack: tracks - 1,
      },
    ],
    onFirst,
    endX: way.endX,
    bodyX: new Map([
      [onFirst - 1, way.firstX],
      [tracks - 1, way.secondX],
    ]),
    leastPitchMm: leastPitch(rest),
  })
}
