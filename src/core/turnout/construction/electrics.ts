import { pathNearest, pathPoseAt, pathStart, pointDistance } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import { tieDistance } from '../ties/lay.ts'
import { nearestRail } from './railFacts.ts'
import type { RailFacts } from './railFacts.ts'
import type { Bond, BuiltWork, Electrics, Feeder, GapFault, GapPlace, Section, WirePlace } from './types.ts'

/** A gap this near to a rail's line lies on it. */
const onRailMm = 1e-3

/**
 * What is one conductor once the gaps are cut, where the gaps are, and the wires.
 *
 * Every frog is alone and fed through contacts. All other rails belong to their side, left or right; a guard rail to that
 * of the stock rail beside it. Each closure, and each point by itself as its joint is no conductor, has a jumper to a stock
 * rail of its side; where there is none it has a feeder of its own.
 *
 * Source:  common practice, no source.
 */
export function electricsOf(work: BuiltWork, rails: readonly RailFacts[]): Electrics {
  const sections = sectionsOf(work, rails)
  const stocks = rails.filter(({ part }) => part === 'stock')
  const joined = rails.filter(({ part }) => part === 'closure' || part === 'point')
  const bonds = joined.flatMap((facts) => bondOf(work, facts, stocks, sections) ?? [])
  const bonded = new Set(bonds.map(({ from }) => from.rail))
  return {
    sections,
    gaps: work.gaps.map((gap) => gapPlace(work, rails, gap)),
    bonds,
    feeders: [
      ...feedersOf(work, rails, sections),
      ...joined.filter(({ index }) => !bonded.has(index)).map((facts) => lonely(work, facts, sections)),
    ],
  }
}

/** Frogs in the order of the work, then the two sides. */
function sectionsOf({ frogs }: BuiltWork, rails: readonly RailFacts[]): readonly Section[] {
  const frogOf = ({ rail, part }: RailFacts): number | null => {
    if (part !== 'frog' && part !== 'wing' && part !== 'elbow' && part !== 'check') return null
    const distances = frogs.map(({ at }) => pointDistance(pathNearest(rail.gaugeLine, at), at))
    return distances.length === 0 ? null : distances.indexOf(Math.min(...distances))
  }
  const owner = rails.map(frogOf)
  const counts = { vee: 0, elbow: 0 }
  const ofFrogs = frogs.map(({ kind }, frog): Section => {
    counts[kind]++
    const isOnly = frogs.filter((one) => one.kind === kind).length === 1
    const name = kind === 'vee' ? 'Frog' : 'Elbow'
    return {
      name: isOnly ? name : `${name} ${counts[kind]}`,
      kind,
      rails: rails.flatMap(({ index }) => (owner[index] === frog ? [index] : [])),
      frog,
    }
  })
  const side = (name: string, kind: 'left' | 'right', sign: 1 | -1): Section => ({
    name,
    kind,
    rails: rails.flatMap((facts) => (owner[facts.index] === null && sideOf(facts) === sign ? [facts.index] : [])),
    frog: null,
  })
  return [...ofFrogs, side('Left rail', 'left', 1), side('Right rail', 'right', -1)]
}

/** The side of the circuit; the head of a guard lies away from the rail that it stands beside. */
function sideOf({ side, part }: RailFacts): 1 | -1 {
  return part === 'guard' ? (side === 1 ? -1 : 1) : side
}

/** The frog that a gap cuts free, on which side of it, and what is wrong with the place. */
function gapPlace(work: BuiltWork, rails: readonly RailFacts[], gap: BuiltWork['gaps'][number]): GapPlace {
  const { frogs, measures } = work
  const { at, rail: role } = gap
  const distances = frogs.map((frog) => pointDistance(frog.at, at))
  const frog = distances.length === 0 ? null : distances.indexOf(Math.min(...distances))
  const near = frog === null ? undefined : frogs[frog]
  const behind = near === undefined ? 0 : (at.x - near.at.x) * Math.cos(near.headingRad) + (at.y - near.at.y) * Math.sin(near.headingRad)
  const faults: GapFault[] = []
  const isIn = rails.some(
    ({ rail, part }) => part === 'guard' && isBeside(rail.gaugeLine, at, 2 * measures.flangewayMm + measures.railHeadMm),
  )
  if (isIn) faults.push('insideGuard')
  const tips = rails.filter(({ part }) => part === 'point').map(({ rail }) => pathStart(rail.gaugeLine))
  if (tips.some((tip) => pointDistance(tip, at) < measures.tieSpacingMm)) faults.push('nearTip')
  const own = rails.filter(({ rail }) => rail.role === role && pathNearest(rail.gaugeLine, at).distanceMm <= onRailMm)
  const cut = nearestRail(own.length > 0 ? own : rails, at)
  return {
    at,
    role,
    rail: cut?.index ?? null,
    alongMm: cut === null ? 0 : pathNearest(cut.rail.gaugeLine, at).stationMm,
    frog,
    end: behind >= 0 ? 'heel' : 'toe',
    faults,
  }
}

/**
 * Index of the section that a rail is of at a distance along it. A gap lies in a bay, not at a rail's end: what lies between
 * the gap and the frog is the frog's, what lies beyond belongs to its side.
 */
export function sectionAt(
  work: BuiltWork,
  rails: readonly RailFacts[],
  { sections, gaps }: Electrics,
  rail: number,
  alongMm: number,
): number {
  const own = sections.findIndex((section) => section.rails.includes(rail))
  const facts = rails[rail]
  const gap = gaps.find((one) => one.rail === rail)
  const frog = gap === undefined || gap.frog === null ? undefined : work.frogs[gap.frog]
  if (facts === undefined || gap === undefined || frog === undefined) return own
  const toFrog = pathNearest(facts.rail.gaugeLine, frog.at).stationMm - gap.alongMm
  if (toFrog * (alongMm - gap.alongMm) > 0) return sections.findIndex((section) => section.frog === gap.frog)
  return sections.findIndex(({ kind }) => kind === (sideOf(facts) === 1 ? 'left' : 'right'))
}

/** Within the length of a rail, not beyond its ends, and near to it. */
function isBeside(path: Parameters<typeof pathNearest>[0], at: Point, withinMm: number): boolean {
  const near = pathNearest(path, at)
  return near.stationMm > 0 && near.stationMm < path.lengthMm && near.distanceMm <= withinMm
}

/** In the clear bay nearest to a place of a rail, so that the wire comes up between two ties. */
function wirePlace({ ties }: BuiltWork, { rail, index }: RailFacts, stationMm: number): WirePlace {
  const path = rail.gaugeLine
  const clear = (station: number): number => Math.min(...ties.map((tie) => tieDistance(tie, pathPoseAt(path, station))))
  const width = Math.max(...ties.map(({ widthMm }) => widthMm), 0)
  const tries = [-2, -1, 0, 1, 2].map((n) => stationMm + (n * width) / 2).filter((station) => station >= 0 && station <= path.lengthMm)
  const best = tries.toSorted((a, b) => clear(b) - clear(a))[0] ?? stationMm
  const { x, y } = pathPoseAt(path, best)
  return { at: { x, y }, rail: index }
}

/** A closure is bonded in its middle, a point at its heel, to the nearest stock rail of its side. */
function bondOf(work: BuiltWork, facts: RailFacts, stocks: readonly RailFacts[], sections: readonly Section[]): Bond | null {
  const section = sections.find((one) => one.rails.includes(facts.index))
  const { lengthMm } = facts.rail.gaugeLine
  const from = wirePlace(work, facts, facts.part === 'point' ? lengthMm : lengthMm / 2)
  const stock = nearestRail(
    stocks.filter(({ index }) => section?.rails.includes(index) === true),
    from.at,
  )
  if (stock === null) return null
  const to = wirePlace(work, stock, pathNearest(stock.rail.gaugeLine, from.at).stationMm)
  return { from, to, why: facts.part === 'point' ? 'pointToStock' : 'closureToStock' }
}

/** One to the longest stock rail of each side, near its front, and one to each frog. */
function feedersOf(work: BuiltWork, rails: readonly RailFacts[], sections: readonly Section[]): readonly Feeder[] {
  return sections.flatMap((section, index): readonly Feeder[] => {
    const own = rails.filter((facts) => section.rails.includes(facts.index))
    if (section.frog !== null) {
      const frog = work.frogs[section.frog]
      const on = own.filter(({ part }) => part === 'frog' || part === 'elbow')
      const rail = frog && (nearestRail(on, frog.at) ?? own[0])
      if (!rail) return []
      const place = wirePlace(work, rail, rail.rail.gaugeLine.lengthMm / 2)
      return [{ ...place, section: index, why: section.kind === 'elbow' ? 'elbowByContacts' : 'frogByContacts' }]
    }
    const stock = own.filter(({ part }) => part === 'stock').toSorted((a, b) => b.rail.gaugeLine.lengthMm - a.rail.gaugeLine.lengthMm)[0]
    if (stock === undefined) return []
    const fromFront = Math.min(work.measures.tieSpacingMm / 2, stock.rail.gaugeLine.lengthMm)
    const station = stock.isWithRoute ? fromFront : stock.rail.gaugeLine.lengthMm - fromFront
    return [{ ...wirePlace(work, stock, station), section: index, why: 'stock' }]
  })
}

function lonely(work: BuiltWork, facts: RailFacts, sections: readonly Section[]): Feeder {
  const section = sections.findIndex((one) => one.rails.includes(facts.index))
  return { ...wirePlace(work, facts, facts.rail.gaugeLine.lengthMm / 2), section, why: 'nothingElse' }
}
