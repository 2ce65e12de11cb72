import type { Point } from '../../geom/types.ts'
import type {
  BuiltMeasures,
  CrossingGeometry,
  RailStick,
  TurnoutConstruction,
  TurnoutGeometry,
  TurnoutTie,
  WorkFrog,
} from '../../turnout/index.ts'
import type { ListColumn, ListTable } from '../listPages.ts'
import type { SheetOptions } from '../types.ts'
import { lengthWords } from '../words.ts'
import { benchAngleWords, caliperUnit, caliperWords, routeName, stickNames } from './words.ts'

type Units = SheetOptions['units']

/** A table for the bench, numbers in the unit of the head. */
export interface BuildTable extends ListTable {
  readonly key: 'cuts' | 'quarters' | 'ties' | 'nests' | 'tieList' | 'wires' | 'roadbed' | 'throw'
}

/** What the tables are told of beyond the construction. */
export interface BuiltParts {
  readonly ties: readonly TurnoutTie[]
  readonly frogs: readonly WorkFrog[]
  readonly measures: BuiltMeasures
}

export function turnoutParts({ ties, frogs, request }: TurnoutGeometry): BuiltParts {
  return { ties, frogs, measures: request }
}

export function crossingParts({ ties, frogs, request }: CrossingGeometry): BuiltParts {
  return { ties, frogs, measures: request }
}

const left = (head: string): ListColumn => ({ head, align: 'left' })
const right = (head: string): ListColumn => ({ head, align: 'right' })

/** The tables of a turnout or crossing, in the order of the work; none that would be empty. */
export function buildTables(parts: BuiltParts, made: TurnoutConstruction, units: Units): readonly BuildTable[] {
  return [
    cutTable(made, units),
    ...quarterTables(made, units),
    ...tieOrdinateTables(made, units),
    nestTable(made, units),
    tieTable(parts, made, units),
    wireTable(parts, made),
    throwTable(made, units),
    ...roadbedTables(made, units),
  ].filter(({ rows }) => rows.length > 0)
}

function cutTable({ sticks }: TurnoutConstruction, units: Units): BuildTable {
  const size = (mm: number): string => caliperWords(mm, units)
  const names = stickNames(sticks)
  return {
    key: 'cuts',
    title: 'Rails to cut',
    notes: [
      'Lengths along the gauge line, from end to end as drawn; places from the end nearest to the points, of filed rails from the thin end.',
    ],
    columns: [left('Rail'), right(`Length, ${caliperUnit(units)}`), left('Run'), left('Bends'), left('Filing')],
    rows: sticks.map((stick, i) => [
      names[i] ?? '',
      size(stick.lengthMm),
      runWords(stick, size),
      stick.bends.map(({ atMm, turnRad }) => `${size(atMm)}: ${benchAngleWords(turnRad)} ${turnRad > 0 ? 'left' : 'right'}`).join(' · '),
      stick.filings
        .map(({ kind, lengthMm, tipMm, angleRad }) => {
          const how = { point: 'plane', frog: 'file', elbow: 'file to nothing,' }[kind]
          return `${how} ${benchAngleWords(angleRad)} over ${size(lengthMm)}${kind === 'elbow' ? '' : ` to ${size(tipMm)}`}`
        })
        .join(' · '),
    ]),
  }
}

/** straight, or the radius and how far it reaches; bends have a column of their own. */
function runWords({ pieces }: RailStick, size: (mm: number) => string): string {
  const curved = pieces.filter(({ kind }) => kind === 'arc' || kind === 'easement')
  if (curved.length === 0) return 'straight'
  return curved
    .map(({ kind, radiusMm, fromMm, lengthMm }) => {
      const what = kind === 'easement' || radiusMm === null ? 'eased' : `R ${size(radiusMm)}`
      return pieces.length === 1 ? what : `${what} from ${size(fromMm)} to ${size(fromMm + lengthMm)}`
    })
    .join(' · ')
}

function quarterTables({ ordinates }: TurnoutConstruction, units: Units): readonly BuildTable[] {
  const unit = caliperUnit(units)
  return ordinates.map(
    ({ route, quarters }): BuildTable => ({
      key: 'quarters',
      title: `Closure rail at its quarters, ${routeName(route)}`,
      notes: ['Gauge line of the stock rail to gauge line of the closure rail, square to the stock rail.'],
      columns: [right(`From the heel, ${unit}`), right(`Offset, ${unit}`)],
      rows: quarters.map(({ xMm, yMm }) => [caliperWords(xMm, units), caliperWords(yMm, units)]),
    }),
  )
}

function tieOrdinateTables({ ordinates }: TurnoutConstruction, units: Units): readonly BuildTable[] {
  const unit = caliperUnit(units)
  const size = (mm: number | null): string => (mm === null ? '–' : caliperWords(mm, units))
  return ordinates.map(
    ({ route, ties }): BuildTable => ({
      key: 'ties',
      title: `Offsets at ties, ${routeName(route)}`,
      notes: ['From the gauge line of the stock rail that the point lies against, along the tie.'],
      columns: [right('Tie'), right(`Station, ${unit}`), right(`To outer rail, ${unit}`), right(`To stock rail opposite, ${unit}`)],
      rows: ties.map(({ tie, stationMm, closureMm, stockMm }) => [String(tie + 1), size(stationMm), size(closureMm), size(stockMm)]),
    }),
  )
}

function nestTable({ nests, sticks }: TurnoutConstruction, units: Units): BuildTable {
  const size = (mm: number): string => caliperWords(mm, units)
  const names = stickNames(sticks)
  return {
    key: 'nests',
    title: 'Where points lie against stock rails',
    notes: ['The foot of each point is filed away, from the tip on, until it clears the foot of the stock rail.'],
    columns: [left('Point'), left('Against'), left('Stock rail'), right(`Foot off, ${caliperUnit(units)}`)],
    rows: nests.map(({ point, stock, by, footClearMm }) => [
      names[point] ?? '',
      names[stock] ?? '',
      by.kind === 'undercut'
        ? `undercut ${size(by.depthMm)} deep over ${size(by.lengthMm)}: it stays straight for its own route`
        : `set ${benchAngleWords(by.turnRad)} ${by.turnRad > 0 ? 'left' : 'right'} at ${size(by.alongMm)} from its start`,
      footClearMm === null ? 'whole' : size(footClearMm),
    ]),
  }
}

/** Runs of neighbouring ties of one length. */
function tieTable({ ties, measures }: BuiltParts, { boardTies, spikes, nests }: TurnoutConstruction, units: Units): BuildTable {
  const runs: { from: number; to: number; lengthMm: number; isHead: boolean }[] = []
  for (const [i, { lengthMm, isHeadBlock: isHead }] of ties.entries()) {
    const last = runs.at(-1)
    if (last && Math.abs(last.lengthMm - lengthMm) < 1e-6 && last.isHead === isHead) last.to = i
    else runs.push({ from: i, to: i, lengthMm, isHead })
  }
  const boards = boardTies.map(({ tie, foilGaps }) => `${tie + 1} (${foilGaps.length})`).join(', ')
  const tight = boardTies.filter(({ foilGaps }) => foilGaps.some(({ roomMm }) => roomMm <= 0)).map(({ tie }) => tie + 1)
  const full = (mm: number): string => {
    if (units === 'metric') return `${((mm * measures.ratio) / 1000).toFixed(2)} m`
    const inches = Math.round((mm * measures.ratio) / 25.4)
    return `${Math.floor(inches / 12)}′ ${inches % 12}″`
  }
  return {
    key: 'tieList',
    title: `Ties: ${ties.length}`,
    notes: [
      `Counted ${nests.length > 0 ? 'from the points' : 'along the first track'}. Spikes: ${spikes.length}, inside ones on one side of the tie and outside ones on the other, changing from tie to tie.`,
      ...(boards === '' ? [] : [`PC-board ties, with gaps to saw in the foil: ${boards}.`]),
      ...(tight.length === 0 ? [] : [`On tie ${tight.join(', ')} two feet of unlike rails touch: file them, or take wood there.`]),
    ],
    columns: [left('Ties'), right('Count'), right(`Length, ${caliperUnit(units)}`), right('Full size'), left('')],
    rows: runs.map(({ from, to, lengthMm, isHead }) => [
      from === to ? String(from + 1) : `${from + 1} to ${to + 1}`,
      String(to - from + 1),
      caliperWords(lengthMm, units),
      full(lengthMm),
      isHead ? 'head blocks' : '',
    ]),
  }
}

function wireTable({ frogs }: BuiltParts, { electrics, sticks }: TurnoutConstruction): BuildTable {
  const { sections, gaps, bonds, feeders } = electrics
  const names = stickNames(sticks)
  const frogName = (frog: number | null): string =>
    sections.find((section) => section.frog !== null && section.frog === frog)?.name ?? 'Frog'
  const faults = gaps.flatMap((gap) =>
    gap.faults.map((fault) => {
      const where = `The gap at the ${gap.end} of ${frogName(gap.frog).toLowerCase()}`
      return fault === 'insideGuard' ? `${where} lies inside a guard rail.` : `${where} lies within a tie of a point's tip.`
    }),
  )
  return {
    key: 'wires',
    title: 'Gaps, jumpers and feeders',
    notes: [
      `${frogs.length === 1 ? 'The frog is' : 'Each frog is'} a conductor of its own, fed through contacts that change with the points. Fill gaps, so that creeping rail cannot close them.`,
      ...new Set(faults),
    ],
    columns: [left('What'), left('Where'), left('Why')],
    rows: [
      ...frogs.map((_, frog) => [
        'Gaps',
        `${gaps.filter((gap) => gap.frog === frog && gap.end === 'toe').length} at the toe, ${gaps.filter((gap) => gap.frog === frog && gap.end === 'heel').length} at the heel`,
        `${frogName(frog)} alone`,
      ]),
      ...bonds.map(({ from, to, why }) => [
        'Jumper',
        `${names[from.rail] ?? ''} to ${(names[to.rail] ?? '').toLowerCase()}`,
        why === 'pointToStock' ? 'a hinge is no conductor' : 'its frog end is cut off',
      ]),
      ...feeders.map(({ rail, section, why }) => [
        'Feeder',
        names[rail] ?? '',
        why === 'frogByContacts' || why === 'elbowByContacts'
          ? `${sections[section]?.name ?? ''}, through contacts`
          : why === 'nothingElse'
            ? 'no stock rail of its side to take it from'
            : (sections[section]?.name ?? ''),
      ]),
    ],
  }
}

function throwTable({ slots, zones }: TurnoutConstruction, units: Units): BuildTable {
  const size = (mm: number): string => caliperWords(mm, units)
  const unit = caliperUnit(units)
  return {
    key: 'throw',
    title: 'Throw',
    notes: [
      ...(zones[0] === undefined
        ? []
        : [
            `Keep joists and risers out of ${lengthWords(zones[0].lengthMm, units)} along the track by ${lengthWords(zones[0].widthMm, units)} across it below each throw bar.`,
          ]),
      ...(slots.some(({ spareMm }) => spareMm < 0)
        ? ['The mechanism moves too little to close the points: shorten its arm below the fulcrum.']
        : []),
    ],
    columns: [
      right(`Throw, ${unit}`),
      right(`Hole at the top, ${unit}`),
      right(`At the underside, ${unit}`),
      right(`Wide, ${unit}`),
      right(`Longest arm, ${unit}`),
    ],
    rows: slots.map(({ throwMm, topMm, bottomMm, widthMm, longestArmMm }) => [
      size(throwMm),
      size(topMm),
      size(bottomMm),
      size(widthMm),
      longestArmMm === null ? '–' : size(longestArmMm),
    ]),
  }
}

/** Rows of a card: enough to draw a fair line through. */
const cardRows = 10

function roadbedTables({ roadbed }: TurnoutConstruction, units: Units): readonly BuildTable[] {
  const unit = caliperUnit(units)
  const size = (mm: number): string => caliperWords(mm, units)
  return roadbed.map(({ route, top, crotchRad, taperMm }): BuildTable => {
    // One edge is told out to the far end, the other back from there: the same number of points each.
    const half = top.length / 2
    const picks = Array.from({ length: Math.min(cardRows, half) }, (_, i) => Math.round((i * (half - 1)) / (Math.min(cardRows, half) - 1)))
    const edges = picks.flatMap((pick): readonly [Point, Point][] => {
      const [a, b] = [top[pick], top[top.length - 1 - pick]]
      return a && b ? [[a, b]] : []
    })
    const [near, far] = edges[0] ?? []
    // A ring runs anticlockwise: where the card leaves to the right, its outer edge comes first.
    const isOuterFirst = crotchRad !== null && near !== undefined && far !== undefined && Math.abs(near.y) > Math.abs(far.y)
    const told = isOuterFirst ? edges.map(([a, b]): [Point, Point] => [b, a]) : edges
    // Beside a curved main the card runs over the tangent: what lies beyond it must not read as if it lay on this side.
    const side = (near?.y ?? 0) < 0 ? -1 : 1
    const off = ({ y }: Point): string => size(side * y).replace('-', '−')
    const isBeyond = told.some((pair) => pair.some((p) => off(p).startsWith('−')))
    return {
      key: 'roadbed',
      title: `Card for the roadbed, ${routeName(route)}`,
      notes: [
        crotchRad === null
          ? `Lies between both tracks and butts against the roadbed of either, ${lengthWords(taperMm, units)} long. Top edges, measured along the first track's tangent at the crossing and square to it; the shoulder comes outside of them.`
          : `Butts against the main roadbed over a taper of ${lengthWords(taperMm, units)}, and parts from it at ${benchAngleWords(crotchRad)}. Top edges, measured along the main's tangent at PS and square to it; the shoulder comes outside of them.`,
        ...(isBeyond ? ['What has a minus lies beyond that tangent, on the other side than the first row.'] : []),
      ],
      columns: [right(`Inner edge along, ${unit}`), right(`off, ${unit}`), right(`Outer edge along, ${unit}`), right(`off, ${unit}`)],
      rows: told.map(([a, b]) => [size(a.x), off(a), size(b.x), off(b)]),
    }
  })
}
