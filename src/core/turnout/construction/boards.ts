import { pathStart, pointDistance } from '../../geom/index.ts'
import type { Pose } from '../../geom/types.ts'
import { pathAcross } from '../ties/across.ts'
import type { BoardPlace, TurnoutTie } from '../types.ts'
import { sectionAt } from './electrics.ts'
import { railAcross, tieAxes } from './railFacts.ts'
import type { RailFacts } from './railFacts.ts'
import type { BoardTie, BuiltWork, Electrics, FoilGap, Section } from './types.ts'

/**
 * The PC-board ties of a work, by its pattern: every nth, the pair of ties at the tips, the tie nearest to each heel and toe,
 * those under the actual points, and one on each side of every gap. The foil is parted between all neighbouring rails
 * that are not one conductor.
 *
 * Exactness:  the foil gap lies midway between the two feet.
 */
export function boardTies(work: BuiltWork, rails: readonly RailFacts[], electrics: Electrics): readonly BoardTie[] {
  const { board, ties } = work
  if (board === null) return []
  const axes = tieAxes(ties)
  const wanted = new Map<number, Set<BoardPlace | 'count'>>()
  const want = (tie: number | undefined, why: BoardPlace | 'count'): void => {
    if (tie === undefined) return
    wanted.set(tie, (wanted.get(tie) ?? new Set()).add(why))
  }
  const { every } = board
  if (every !== null && every >= 1) for (let i = 0; i < ties.length; i += Math.round(every)) want(i, 'count')
  for (const place of board.at) for (const at of placesOf(work, rails, place)) for (const tie of tiesAt(axes, at, place)) want(tie, place)
  return [...wanted]
    .toSorted(([a], [b]) => a - b)
    .map(([tie, why]) => ({ tie, why: [...why], foilGaps: foilGaps(work, rails, electrics, ties[tie], axes[tie]) }))
}

interface Place {
  readonly x: number
  readonly y: number
}

/** The places on the rails that a word of the pattern means. */
function placesOf({ frogs, gaps }: BuiltWork, rails: readonly RailFacts[], place: BoardPlace): readonly Place[] {
  const points = rails.filter(({ part }) => part === 'point').map(({ rail }) => rail.gaugeLine)
  switch (place) {
    case 'tips':
      return points.map(pathStart)
    case 'heel':
      return points.map(({ end }) => end)
    case 'toe':
      return rails.filter(({ part }) => part === 'wing').map(({ rail }) => pathStart(rail.gaugeLine))
    case 'frog':
      return frogs.map(({ actualPoint }) => actualPoint)
    case 'gaps':
      return gaps.map(({ at }) => at)
  }
}

/** The tie nearest to a place along the rails; at tips and gaps the one on each side. */
function tiesAt(axes: readonly Pose[], at: Place, place: BoardPlace): readonly number[] {
  const ahead = axes.map(({ x, y, headingRad }, index) => ({
    index,
    along: (at.x - x) * Math.cos(headingRad) + (at.y - y) * Math.sin(headingRad),
  }))
  const nearest = (all: typeof ahead): number | undefined => all.toSorted((a, b) => Math.abs(a.along) - Math.abs(b.along))[0]?.index
  const found =
    place === 'gaps' || place === 'tips'
      ? [nearest(ahead.filter(({ along }) => along >= 0)), nearest(ahead.filter(({ along }) => along < 0))]
      : [nearest(ahead)]
  return found.filter((index) => index !== undefined)
}

function foilGaps(
  work: BuiltWork,
  rails: readonly RailFacts[],
  electrics: Electrics,
  tie: TurnoutTie | undefined,
  axis: Pose | undefined,
): readonly FoilGap[] {
  if (tie === undefined || axis === undefined) return []
  const half = pointDistance(tie.from, tie.to) / 2
  const crossing = rails
    .flatMap(({ rail, side, index: railIndex }) => {
      const at = railAcross(rail.gaugeLine, axis)
      if (at === null || Math.abs(at.offsetMm) > half) return []
      const section = sectionAt(work, rails, electrics, railIndex, at.stationMm)
      return [{ middle: at.offsetMm + (side * rail.headWidthMm) / 2, foot: rail.footWidthMm, section }]
    })
    .concat(leavingRails(work, electrics.sections, axis))
    .toSorted((a, b) => a.middle - b.middle)
  return crossing.flatMap((rail, i): readonly FoilGap[] => {
    const next = crossing[i + 1]
    if (next === undefined || next.section === rail.section) return []
    const offset = (rail.middle + rail.foot / 2 + next.middle - next.foot / 2) / 2
    return [
      {
        at: { x: axis.x - offset * Math.sin(axis.headingRad), y: axis.y + offset * Math.cos(axis.headingRad) },
        roomMm: next.middle - rail.middle - (next.foot + rail.foot) / 2,
      },
    ]
  })
}

interface Crossing {
  readonly middle: number
  readonly foot: number
  readonly section: number
}

/** Behind the end of a route the rails of the track that leaves there lie on the long ties. */
function leavingRails({ routes, measures }: BuiltWork, sections: readonly Section[], axis: Pose): readonly Crossing[] {
  return routes.flatMap(({ centre, gaugeMm }) => {
    const at = pathAcross(centre, axis)
    if (at === null || at.stationMm <= centre.lengthMm) return []
    return ([1, -1] as const).map((side) => ({
      middle: at.offsetMm + (side * (gaugeMm + measures.railHeadMm)) / 2,
      foot: measures.railFootMm,
      section: sections.findIndex(({ kind }) => kind === (side === 1 ? 'left' : 'right')),
    }))
  })
}
