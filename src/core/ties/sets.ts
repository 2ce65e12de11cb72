import type { NetworkTrack, NetworkTurnout } from '../network/types.ts'
import type { Derived } from '../pipeline/types.ts'
import { tieOf } from '../plan/index.ts'
import type { TieSize } from '../plan/types.ts'
import type { CrossingTrack, PlainTrack, Tie, TurnoutTrack } from '../track/types.ts'
import { wiringOf } from '../turnout/index.ts'
import { tiesAtJoints } from './jointTies.ts'
import type { JointStations, LaidTie, TieProblem, TieSet } from './types.ts'

/** Neighbours farther apart than this, in spacings, have something else between them. */
const neighbourSpacings = 1.4
/** Lengths, stations nearer than this are the same, mm. */
const sameMm = 0.01

/** Whether a tie is as long as its class has them: next to special work some are cut. */
export function isOwnLength({ lengthMm }: Tie, ownMm: number): boolean {
  return Math.abs(lengthMm - ownMm) <= sameMm
}

/** Ties of plain track that follow each other, all of the class's own length: what can be spaced anew, and what is taped as one. */
export function tieStretches(ties: readonly Tie[], spacingMm: number, ownMm: number): readonly (readonly Tie[])[] {
  const out: Tie[][] = []
  let last: Tie | null = null
  for (const tie of ties.toSorted((a, b) => a.stationMm - b.stationMm)) {
    const isNext =
      last !== null &&
      tie.stationMm - last.stationMm <= neighbourSpacings * spacingMm &&
      isOwnLength(last, ownMm) &&
      isOwnLength(tie, ownMm)
    if (isNext) out.at(-1)?.push(tie)
    else out.push([tie])
    last = tie
  }
  return out
}

/** Whether ties beside joints can be as close as a class asks; null: it asks nothing. */
export function jointSpacingOf({ lineClass }: NetworkTrack, { widthMm }: TieSize): { readonly problem: TieProblem } | number | null {
  const { jointTieSpacingMm: value, tieSpacingMm: mostMm, id } = lineClass
  if (value === null) return null
  const isGood = value >= widthMm && value <= mostMm
  return isGood ? value : { problem: { kind: 'badJointSpacing', lineClass: id, value, leastMm: widthMm, mostMm } }
}

/** The ties of a track's plain stretches, closed up at its joints. */
export function plainTieSet(
  plain: PlainTrack,
  { track, lineClass }: NetworkTrack,
  size: TieSize,
  jointSpacingMm: number | null,
  joints: JointStations,
): TieSet {
  const atJoints = jointSpacingMm === null ? [] : (joints.get(track.id) ?? [])
  const laid = tieStretches(plain.ties, lineClass.tieSpacingMm, size.lengthMm).flatMap((ties) => {
    const [first, last] = [ties[0], ties.at(-1)]
    if (!first || !last) return []
    const mine = atJoints.filter((at) => at > first.stationMm && at < last.stationMm)
    if (jointSpacingMm === null || mine.length === 0)
      return ties.map(({ stationMm, lengthMm }) => ({ stationMm, lengthMm, isJoint: false }))
    const stations = ties.map(({ stationMm }) => stationMm)
    return tiesAtJoints(stations, mine, lineClass.tieSpacingMm, jointSpacingMm).map((one) => ({ ...one, lengthMm: first.lengthMm }))
  })
  return {
    owner: { kind: 'track', track: track.id },
    lineClass: lineClass.id,
    ties: laid.map(
      ({ stationMm, lengthMm, isJoint }, i): LaidTie => ({
        id: `${track.id}:${i + 1}`,
        stationMm,
        ...size,
        lengthMm,
        material: 'wood',
        isHeadBlock: false,
        isJointTie: isJoint,
      }),
    ),
  }
}

/** The ties of a turnout as trackwork has them; those of its pattern are of PC-board. */
export function turnoutTieSet({ plan }: Derived, work: TurnoutTrack, { lineClass, result }: NetworkTurnout): TieSet {
  const thicknessMm = lineClass ? tieOf(lineClass, plan.railway).thicknessMm : plan.railway.tieThicknessMm
  const board = result.ok ? (result.geometry.request.ties?.board ?? null) : null
  const boards =
    result.ok && board !== null ? wiringOf(result.geometry).boardTies.flatMap(({ tie }) => result.geometry.ties[tie]?.stationMm ?? []) : []
  return {
    owner: { kind: 'turnout', turnout: work.turnoutId },
    lineClass: lineClass?.id ?? null,
    ties: workTies(work.turnoutId, work.ties, thicknessMm, (stationMm) => boards.some((at) => Math.abs(at - stationMm) <= sameMm)),
  }
}

export function crossingTieSet({ plan }: Derived, work: CrossingTrack): TieSet {
  return {
    owner: { kind: 'crossing', crossing: work.crossingId },
    lineClass: null,
    ties: workTies(work.crossingId, work.ties, plan.railway.tieThicknessMm, () => false),
  }
}

function workTies(
  owner: string,
  ties: TurnoutTrack['ties'],
  thicknessMm: number,
  isBoard: (stationMm: number) => boolean,
): readonly LaidTie[] {
  return ties
    .toSorted((a, b) => a.stationMm - b.stationMm)
    .map(({ stationMm, lengthMm, widthMm, isHeadBlock }, i) => ({
      id: `${owner}:${i + 1}`,
      stationMm,
      lengthMm,
      widthMm,
      thicknessMm,
      material: isBoard(stationMm) ? 'board' : 'wood',
      isHeadBlock,
      isJointTie: false,
    }))
}
