import { boxesOverlap, boxOfPoints } from '../geom/index.ts'
import type { Box, Point } from '../geom/types.ts'
import type { Derived } from '../pipeline/types.ts'
import { tieCorners } from '../track/index.ts'
import type { Rail, Tie } from '../track/types.ts'
import { buildMarks, buildTexts, wiredCrossing, wiredTurnout } from './build/items.ts'
import { chainOfRing } from './chain.ts'
import { joistItems, roadbedItems } from './belowItems.ts'
import { edgeAlong } from './edge.ts'
import { freeSpaceOf, freeSpaceTakeArea, freeSpaceTakeChain, type FreeSpace, type SheetRoom } from './freeSpace.ts'
import { gapItems } from './gapItems.ts'
import { jointItems } from './jointItems.ts'
import { trackNames, turnoutName } from './nameTexts.ts'
import { legTexts } from './legTexts.ts'
import { offsetItems } from './offsetItems.ts'
import type { PlanItem, PlanStroke } from './planItem.ts'
import { punchItems } from './punchItems.ts'
import { railItems, tieItem } from './railItems.ts'
import { curveMarks, curveTexts, stationTicks, tangentLines, type MarkedLine } from './stationItems.ts'
import { crossingMarks, type SetCrossing } from './crossingItems.ts'
import { turnoutCentreline, turnoutMarks, turnoutTexts, type SetTurnout } from './turnoutItems.ts'
import { tieLengths, tieNumbers } from './tieTexts.ts'
import { tieEndLines, workTieEndLines } from './tieEndItems.ts'
import type { LayerChoice, SheetOptions } from './types.ts'

/** The plan drawn at full size, in plan mm, from the bottom up. */
export interface PlanDrawing {
  readonly items: readonly PlanItem[]
  /** What ties, marks and texts take; the pages look for room for their own texts in it. */
  readonly space: FreeSpace
}

/**
 * Everything of the plan near a box, drawn once; the pages take from it what falls into their windows.
 *
 * Units:      plan mm. Items may reach out of the box.
 * Layers:     those in `without` may be drawn or not: what takes long to find is not found for nothing.
 * Exactness:  rails and centrelines within EDGE_TOLERANCE_MM of the computed ones, the rest exact.
 */
export function planDrawing(
  derived: Derived,
  near: Box,
  units: SheetOptions['units'],
  room: SheetRoom,
  without: readonly LayerChoice[] = [],
): PlanDrawing {
  const isWanted = (layer: LayerChoice): boolean => !without.includes(layer)
  const space = freeSpaceOf(near, room)
  const rails: PlanItem[] = []
  const ties: PlanItem[] = []
  const tiesNear: Tie[] = []
  const drawTies = (all: readonly Tie[]): void => {
    for (const tie of all) {
      const corners = tieCorners(tie)
      const box = boxOfPoints(corners)
      if (!box || !boxesOverlap(box, near)) continue
      tiesNear.push(tie)
      const item = tieItem(tie)
      if (item) ties.push(item)
      freeSpaceTakeArea(space, corners)
    }
  }
  const drawRails = (all: readonly Rail[]): void => {
    for (const rail of all) {
      const items = railItems(rail)
      rails.push(...items)
      for (const item of items) if (item.kind === 'stroke' && item.role === 'rail-foot') freeSpaceTakeChain(space, item.chain)
    }
  }
  for (const plain of derived.trackwork.tracks.values()) {
    drawTies(plain.ties)
    drawRails(plain.rails)
  }
  for (const work of [...derived.trackwork.turnouts.values(), ...derived.trackwork.crossings.values()]) {
    drawTies(work.ties)
    drawRails(work.rails)
  }

  const tieEnds = tieEndsOf(derived)
  for (const item of tieEnds) freeSpaceTakeChain(space, item.chain)

  const turnouts = setTurnouts(derived)
  const crossings = setCrossings(derived).filter((crossing) => isNear(crossing, near))
  const wired = [
    ...turnouts.filter((turnout) => isNear(turnout, near)).map(({ geometry, pose }) => wiredTurnout(geometry, pose)),
    ...crossings.map(({ geometry, pose }) => wiredCrossing(geometry, pose)),
  ]
  const lines = markedLines(derived)
  const centrelines = [
    ...lines.flatMap(({ line }): readonly PlanItem[] => {
      const chain = edgeAlong(line.path, 0, line.path.lengthMm, 0)
      return chain ? [{ kind: 'stroke', layer: 'centreline', role: 'centreline', chain }] : []
    }),
    ...turnouts.flatMap(turnoutCentreline),
  ]
  const tangents = lines.flatMap(({ line, corners }) => corners.flatMap((corner) => tangentLines(line.path, corner)))
  // Strokes stand where they must; then the texts that have fewest places to choose from, and stations last.
  const marks = [
    ...turnouts.flatMap((turnout) => turnoutMarks(turnout, units, space)),
    ...[...derived.trackwork.crossings.values()].flatMap(gapItems),
    ...crossings.flatMap(crossingMarks),
    ...wired.flatMap((turnout) => buildMarks(turnout, space)),
    ...lines.flatMap(({ line, corners }) => corners.flatMap((corner) => curveMarks(line, corner, units, space))),
  ]
  const names = [
    ...turnouts.flatMap((turnout) => turnoutTexts(turnout, units, space)),
    ...wired.flatMap((turnout) => buildTexts(turnout, units, space)),
    ...lines.flatMap(({ line, corners }) => corners.flatMap((corner) => curveTexts(line, corner, units, space))),
  ]
  const legs = [...derived.network.turnouts.values()].flatMap((placed) => legTexts(derived, placed, units, space))
  const joints = isWanted('joints') ? jointItems(derived, units, space) : []
  // Lengths where ties grow, numbers at their other ends.
  const tied = [
    ...turnouts.map((work) => ({ work, side: work.geometry.request.hand === 'left' ? (1 as const) : (-1 as const) })),
    ...crossings.map((work) => ({ work, side: 1 as const })),
  ]
  const lengths = tied.flatMap(({ work, side }) => tieLengths(work, side, units, space))
  const stations = lines.flatMap(({ line }) => stationTicks(line, units, space))
  const numbers = tied.flatMap(({ work, side }) => tieNumbers(work, side === 1 ? -1 : 1, space))
  const offsets = isWanted('offsets')
    ? lines.flatMap(({ line, corners }) => corners.flatMap((corner) => offsetItems(line.path, corner, units, space)))
    : []
  const punches = isWanted('punch') ? punchItems(lines, [...turnouts, ...crossings], units, space) : []
  const titles = [
    ...turnouts.flatMap((turnout) => turnoutName(turnout, turnout.name, space)),
    ...lines.flatMap(({ line, name }) => trackNames(line, name, space)),
  ]
  const below = [...roomItems(derived), ...joistItems(derived), ...(isWanted('roadbed') ? roadbedItems(derived, tiesNear) : [])]
  return {
    items: [
      ...below,
      ...tangents,
      ...ties,
      ...tieEnds,
      ...rails,
      ...centrelines,
      ...stations,
      ...lengths,
      ...numbers,
      ...joints,
      ...offsets,
      ...marks,
      ...punches,
      ...names,
      ...legs,
      ...titles,
    ],
    space,
  }
}

function tieEndsOf({ trackwork, network }: Derived): readonly PlanStroke[] {
  const plain = [...trackwork.tracks.values()].flatMap((work) => {
    const alignment = network.tracks.get(work.trackId)?.alignment
    return alignment?.ok === true ? tieEndLines(work, alignment.path) : []
  })
  return [...plain, ...[...trackwork.turnouts.values(), ...trackwork.crossings.values()].flatMap(workTieEndLines)]
}

/** Turnouts that could be set, with their rails and ties. */
function setTurnouts(derived: Derived): readonly (SetTurnout & { readonly name: string })[] {
  return [...derived.network.turnouts.values()].flatMap(({ turnout, result }) => {
    const work = derived.trackwork.turnouts.get(turnout.id)
    return result.ok && work ? [{ geometry: result.geometry, pose: result.pose, work, name: turnout.name }] : []
  })
}

/** Crossings that can be built, with their ties. */
function setCrossings(derived: Derived): readonly SetCrossing[] {
  return [...derived.network.crossings.values()].flatMap(({ id, pose, result }) => {
    const work = derived.trackwork.crossings.get(id)
    return result.ok && work ? [{ geometry: result.crossing, pose, work }] : []
  })
}

function isNear({ work }: { readonly work: { readonly ties: readonly Tie[] } }, near: Box): boolean {
  const box = boxOfPoints(work.ties.map(({ centre }) => centre))
  return box !== null && boxesOverlap(box, near)
}

function markedLines(derived: Derived) {
  return [...derived.network.tracks.values()].flatMap(({ track, alignment, railway }) => {
    if (!alignment.ok) return []
    const { path, corners } = alignment
    const line: MarkedLine = { path, halfTieMm: railway.tieLengthMm / 2, fromMm: 0, toMm: path.lengthMm }
    return [{ line, corners, name: track.name }]
  })
}

/** Edges of benchwork with its holes, and obstacles: where the track must not go. */
function roomItems(derived: Derived): readonly PlanItem[] {
  const { benchworks, obstacles } = derived.plan
  const rings: readonly (readonly Point[])[] = [
    ...Object.values(benchworks).flatMap((benchwork) => [benchwork.outline, ...benchwork.holes]),
    ...Object.values(obstacles).map((obstacle) => obstacle.outline),
  ]
  return rings.flatMap((ring): readonly PlanItem[] => {
    const chain = chainOfRing(ring)
    return chain ? [{ kind: 'stroke', layer: 'benchwork', role: 'benchwork', chain }] : []
  })
}
