import type { TurnoutGeometry } from '../types.ts'
import { boardTies } from './boards.ts'
import { electricsOf } from './electrics.ts'
import { pointNests } from './nests.ts'
import { routeOrdinates } from './ordinates.ts'
import { benchUsual } from './practice.ts'
import { railFactsOf } from './railFacts.ts'
import type { RailFacts } from './railFacts.ts'
import { roadbedCards } from './roadbed.ts'
import { spikePattern } from './spikes.ts'
import { railSticks } from './sticks.ts'
import { throwBars, throwSlot, throwZone } from './throwSlot.ts'
import type { BenchPractice, BuiltWork, TurnoutConstruction, TurnoutWiring } from './types.ts'

/**
 * All that the bench needs of a turnout beyond its drawing: cut list, ordinates, nests of the points, spikes, PC-board ties,
 * roadbed, gaps and wires, the throw.
 *
 * Units:      mm and rad in the turnout's frame; indices are those of the geometry's rails, ties and frogs.
 * Exactness:  that of each part; lengths are those of the solved gauge lines.
 * Outcome:    lists, empty where a turnout has no such thing. Never throws.
 */
export function constructionOf(geometry: TurnoutGeometry, practice: BenchPractice = benchUsual(geometry.request)): TurnoutConstruction {
  return workConstruction(turnoutBuilt(geometry), practice)
}

/** Of a turnout only what is marked on its full-size sheet: sections and wires, PC-board ties, the room below the throw, spikes. */
export function wiringOf(geometry: TurnoutGeometry): TurnoutWiring {
  const work = turnoutBuilt(geometry)
  return workWiring(work, railFactsOf(work), benchUsual(geometry.request))
}

/** The same as constructionOf, of any special work. */
export function workConstruction(work: BuiltWork, practice: BenchPractice): TurnoutConstruction {
  const rails = railFactsOf(work)
  const sticks = railSticks(rails, work.measures)
  return {
    sticks,
    ordinates: routeOrdinates(work, rails),
    nests: pointNests(rails, sticks, work.measures, practice),
    roadbed: roadbedCards(work, practice),
    ...workWiring(work, rails, practice),
  }
}

/** What wires, boards and throws ask for, of any special work. */
export function workWiring(work: BuiltWork, rails: readonly RailFacts[], practice: BenchPractice): TurnoutWiring {
  const electrics = electricsOf(work, rails)
  const slots = work.throws.map(({ bar, throwMm }) => throwSlot(bar, throwMm, practice.throwWire))
  const boards = boardTies(work, rails, electrics)
  const soldered = new Set(boards.map(({ tie }) => tie))
  return {
    electrics,
    boardTies: boards,
    slots,
    zones: slots.map(({ bar }) => throwZone(bar, practice.motor)),
    // On a PC-board tie rails are soldered.
    spikes: spikePattern(work, rails, practice).filter(({ tie }) => !soldered.has(tie)),
  }
}

function turnoutBuilt(geometry: TurnoutGeometry): BuiltWork {
  const { request, routes, frogs, rails, ties, gaps, divergences, throwMm } = geometry
  return {
    routes,
    frogs,
    rails,
    ties,
    gaps,
    measures: request,
    board: request.ties?.board ?? null,
    diverging: divergences,
    throws: throwBars(geometry).map((bar) => ({ bar, throwMm })),
  }
}
