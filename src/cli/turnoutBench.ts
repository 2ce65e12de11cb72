import { buildTables } from '../core/deliver/index.ts'
import { benchUsual, zoneCorners } from '../core/turnout/index.ts'
import type { BenchPractice, BoardPattern, BoardPlace, TieChoice, TurnoutConstruction, TurnoutGeometry } from '../core/turnout/index.ts'
import { columns } from './answer.ts'
import type { Args, VerbSpec } from './args.ts'
import { BadInput } from './badInput.ts'
import { nearestHint } from './nearest.ts'
import { lengthOption, numberOption, wordOption } from './values.ts'

/** How ties are laid and how the builder works: options that change nothing of the rails. */
export const benchOptions: VerbSpec['options'] = {
  bench: { about: 'in words also offsets at ties, nests, tie list, wires, throw and roadbed; JSON always has them' },
  ties: { value: 'square', about: 'square to the host, or fanned: square to the bisector of the routes' },
  'tie-layout': { value: 'even', about: 'even, or close: nearer to each other under points and frog' },
  board: { value: 'every:5,tips,frog,gaps', about: 'PC-board ties: every:N and any of tips, heel, toe, frog, gaps' },
  nest: { value: 'undercut', about: 'of the straight stock rail: undercut, or a set ahead of the point' },
  'spike-every': { value: '2', about: 'spikes in every nth tie; 2 when left out' },
  roadbed: { value: '1.3in', about: 'top of the roadbed, for the card of the diverging route' },
  shoulder: { value: '0.19in', about: 'how far its shoulder reaches beyond at the foot' },
  wire: { value: '0.031in', about: 'thickness of the throw wire' },
  deck: { value: '0.6875in', about: 'throw bar to the underside of the deck: ties, roadbed, deck' },
  fulcrum: { value: '0.6875in', about: 'depth of the wire’s fulcrum below the throw bar, or none; the underside when left out' },
  travel: { value: '10mm', about: 'travel of the mechanism' },
  arm: { value: '20mm', about: 'fulcrum to where the mechanism takes hold of the wire' },
}

const boardPlaces = ['tips', 'heel', 'toe', 'frog', 'gaps'] as const satisfies readonly BoardPlace[]

/** The choice of ties; square, even and of wood when nothing is given. */
export function tieChoice(args: Args): TieChoice {
  return {
    lay: wordOption(args, 'ties', ['square', 'fanned']) ?? 'square',
    spacing: wordOption(args, 'tie-layout', ['even', 'close']) ?? 'even',
    board: boardChoice(args),
  }
}

/** Which ties are of PC board; null: none. */
export function boardChoice(args: Args): BoardPattern | null {
  const typed = args.values.get('board')
  return typed === undefined ? null : boardPattern(typed)
}

function boardPattern(typed: string): BoardPattern {
  let every: number | null = null
  const at: BoardPlace[] = []
  for (const word of typed.toLowerCase().split(',')) {
    const count = /^every:(\d+)$/.exec(word)?.[1]
    const place = boardPlaces.find((one) => one === word)
    if (count !== undefined && Number(count) >= 1) every = Number(count)
    else if (place !== undefined) at.push(place)
    else
      throw new BadInput(
        `--board ${typed}: ${word === '' ? 'a word is missing' : `"${word}" is no place`}. ${nearestHint(word, ['every:5', ...boardPlaces])}`,
      )
  }
  return { every, at }
}

/** The builder's practice: usual values, and those given. */
export function benchPractice(args: Args, request: Parameters<typeof benchUsual>[0]): BenchPractice {
  const usual = benchUsual(request)
  const spikeEvery = numberOption(args, 'spike-every') ?? usual.spikeEvery
  if (!(Number.isInteger(spikeEvery) && spikeEvery >= 1))
    throw new BadInput(`--spike-every ${spikeEvery}: it must be a whole number of 1 or more.`)
  const deckMm = lengthOption(args, 'deck') ?? usual.throwWire.deckMm
  const isUpright = args.values.get('fulcrum')?.toLowerCase() === 'none'
  return {
    ...usual,
    spikeEvery,
    nest: wordOption(args, 'nest', ['undercut', 'set']) ?? usual.nest,
    roadbedMm: lengthOption(args, 'roadbed') ?? usual.roadbedMm,
    shoulderMm: lengthOption(args, 'shoulder', { least: 'zero or more' }) ?? usual.shoulderMm,
    throwWire: {
      wireMm: lengthOption(args, 'wire') ?? usual.throwWire.wireMm,
      deckMm,
      fulcrumMm: isUpright ? null : (lengthOption(args, 'fulcrum') ?? deckMm),
      travelMm: lengthOption(args, 'travel') ?? usual.throwWire.travelMm,
      armMm: lengthOption(args, 'arm') ?? usual.throwWire.armMm,
    },
  }
}

const pointJson = ({ x, y }: { readonly x: number; readonly y: number }): object => ({ xMm: x, yMm: y })

/** What the bench needs of a turnout, with names instead of indices. */
export function constructionJson({ rails }: Pick<TurnoutGeometry, 'rails'>, made: TurnoutConstruction): object {
  const { sticks, ordinates, nests, spikes, boardTies, roadbed, electrics, slots, zones } = made
  const role = (rail: number): string | null => rails[rail]?.role ?? null
  const section = (index: number): string | null => electrics.sections[index]?.name ?? null
  return {
    cutList: sticks.map(({ role: name, part, route, side, lengthMm, pieces, bends, filings }) => ({
      rail: name,
      part,
      route,
      side,
      lengthMm,
      pieces,
      bends,
      filings,
    })),
    ordinatesByRoute: ordinates.map(({ route, quarters, ties }) => ({
      route,
      quarters,
      ties: ties.map(({ tie, ...offsets }) => ({ tie: tie + 1, ...offsets })),
    })),
    nests: nests.map(({ point, stock, at, by, footClearMm }) => ({
      point: role(point),
      stock: role(stock),
      ...pointJson(at),
      ...by,
      footClearMm,
    })),
    spikes: spikes.map(({ tie, rail, side, at }) => ({ tie: tie + 1, rail: role(rail), side, ...pointJson(at) })),
    boardTies: boardTies.map(({ tie, why, foilGaps }) => ({
      tie: tie + 1,
      why,
      foilGaps: foilGaps.map(({ at, roomMm }) => ({ ...pointJson(at), roomMm })),
    })),
    roadbed: roadbed.map(({ route, top, foot, crotchRad, taperMm }) => ({
      route,
      taperMm,
      crotchRad,
      top: top.map(pointJson),
      foot: foot.map(pointJson),
    })),
    sections: electrics.sections.map(({ name, kind, rails }) => ({ name, kind, rails: rails.map(role) })),
    isolatingGaps: electrics.gaps.map(({ at, role: rail, frog, end, faults }) => ({
      ...pointJson(at),
      rail,
      frog: electrics.sections.find((one) => one.frog !== null && one.frog === frog)?.name ?? null,
      end,
      faults,
    })),
    bonds: electrics.bonds.map(({ from, to, why }) => ({
      from: { rail: role(from.rail), ...pointJson(from.at) },
      to: { rail: role(to.rail), ...pointJson(to.at) },
      why,
    })),
    feeders: electrics.feeders.map(({ rail, at, section: index, why }) => ({
      rail: role(rail),
      ...pointJson(at),
      section: section(index),
      why,
    })),
    throwSlots: slots.map(({ bar, ...sizes }) => ({ bar: { ...pointJson(bar), headingRad: bar.headingRad }, ...sizes })),
    throwZones: zones.map((zone) => ({
      lengthMm: zone.lengthMm,
      widthMm: zone.widthMm,
      corners: zoneCorners(zone).map(pointJson),
    })),
  }
}

/** The cut list, and with --bench all tables, in thousandths of an inch. */
export function constructionText(args: Args, parts: Parameters<typeof buildTables>[0], made: TurnoutConstruction): string {
  return buildTables(parts, made, 'imperial')
    .filter(({ key }) => key === 'cuts' || args.values.has('bench'))
    .map(({ title, notes, columns: heads, rows }) =>
      [title, ...notes.map((note) => `  ${note}`), columns([heads.map(({ head }) => head), ...rows])].join('\n'),
    )
    .join('\n\n')
}
