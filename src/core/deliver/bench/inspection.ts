import type { Derived } from '../../pipeline/types.ts'
import type { NetworkTrack } from '../../network/types.ts'
import { checkDimensions, checkStandard, crossingChecked, wideningAsked } from '../../turnout/index.ts'
import type { CheckDimension, CheckDimensionKind, CheckStandard, CheckedWork } from '../../turnout/index.ts'
import { caliperUnit, caliperWords, routeName } from '../build/words.ts'
import type { ListTable } from '../listPages.ts'
import type { SheetOptions } from '../types.ts'
import { lengthWords } from '../words.ts'
import { midOrdinate } from './gaugeStick.ts'
import type { BenchContent } from './pages.ts'
import { blankCell, tickCell } from './tickBoxes.ts'
import { left, right } from './words.ts'

type Units = SheetOptions['units']

/** Between which faces each is measured. */
const measuredWords = {
  gauge: 'Gauge, running face to running face',
  'check-gauge': 'Check gauge, guard face to frog',
  span: 'Span, guard face to wing face',
  'guard-flangeway': 'Flangeway at the guard rail',
  'wing-flangeway': 'Flangeway in the frog',
  'throat-flangeway': 'Flangeway in the throat',
  'points-spread': 'Points spread, at the tip',
  'open-point': 'Behind the open point, at its narrowest',
  'elbow-flangeway': 'Flangeway in the elbow frog',
  'elbow-open': 'Length unheld in the elbow frog',
} as const satisfies Record<CheckDimensionKind, string>

/** What no rule tells in figures. Common practice, no source. */
const workByHand = [
  'Points lie close against the stock rail, both ways, over their planed length',
  'No step for a fingernail at frog, joints and point tips',
  'Rail heads level across: straightedge over all rails',
  'Gaps open: no contact from frog to either stock rail',
  'A single car rolls through by hand, all ways, without a jolt',
] as const
const trackByHand = [
  'No kink at joints: a straightedge or bent lath lies even',
  'Level across, or raised as listed, at joints and at both ends of easements',
  'Every rail length has its feeder: contact from rail to bus',
] as const

const columnsOf = (units: Units): ListTable['columns'] => [
  left('What to measure'),
  left('Where'),
  right(`As drawn, ${caliperUnit(units)}`),
  right('Least'),
  right('Most'),
  left('Found'),
  left('Good'),
]

/** A table for each turnout, crossing and track: what to measure, its limits, room for the reading, and a box. */
export function inspectionContent({ plan, network }: Derived, units: Units): BenchContent {
  const standard = checkStandard(plan.railway)
  const works = [
    ...[...network.turnouts.values()].flatMap(({ turnout, result }) =>
      result.ok ? [workTable(turnout.name, { ...result.geometry, measures: result.geometry.request }, standard, units)] : [],
    ),
    ...[...network.crossings.values()].flatMap(({ record, result }) =>
      result.ok ? [workTable(record?.name ?? 'Crossing', crossingChecked(result.crossing), standard, units)] : [],
    ),
  ]
  const tracks = [...network.tracks.values()].map((track) => trackTable(track, standard, units))
  return { figures: [], tables: [...works, ...tracks] }
}

function workTable(name: string, work: CheckedWork, standard: CheckStandard, units: Units): ListTable {
  const size = (mm: number | null): string => (mm === null ? '–' : caliperWords(mm, units))
  const dimensions = checkDimensions(work, standard)
  return {
    title: name,
    notes: limitsFrom(standard),
    columns: columnsOf(units),
    rows: [
      ...dimensions.map((dimension) => [
        measuredWords[dimension.kind],
        whereWords(dimension, work),
        size(dimension.valueMm),
        size(dimension.leastMm),
        size(dimension.mostMm),
        blankCell,
        tickCell,
      ]),
      ...workByHand.map((what) => [what, '', '', '', '', '', tickCell]),
    ],
  }
}

function whereWords({ route, frog }: CheckDimension, { frogs }: CheckedWork): string {
  return frog === null || frogs.length < 2 ? routeName(route) : `${routeName(route)}, frog ${frog + 1}`
}

function trackTable({ track, lineClass, railway, alignment }: NetworkTrack, standard: CheckStandard, units: Units): ListTable {
  const size = (mm: number | null): string => (mm === null ? '–' : caliperWords(mm, units))
  const { minMm, maxMm } = standard.gauge
  const chordMm = units === 'metric' ? 100 : 101.6
  const chord = units === 'metric' ? '100 mm' : '4 in'
  const curves = alignment.ok
    ? alignment.corners.flatMap(({ solution }, i) =>
        solution.arcs.flatMap(({ radiusMm }, arc): readonly (readonly string[])[] => {
          if (!Number.isFinite(radiusMm) || radiusMm <= 0) return []
          const where = `curve ${i + 1}${solution.arcs.length > 1 ? `, arc ${arc + 1}` : ''}, R ${lengthWords(radiusMm, units)}`
          const gaugeMm = railway.gaugeMm + wideningAsked(lineClass.widening, radiusMm)
          const ordinate = midOrdinate(radiusMm - gaugeMm / 2, chordMm)
          return [
            ['Gauge in the curve', where, size(gaugeMm), size(minMm), size(maxMm), blankCell, tickCell],
            ...(ordinate === null
              ? []
              : [[`Middle of a ${chord} chord, inner rail`, where, size(ordinate), '–', '–', blankCell, tickCell]]),
          ]
        }),
      )
    : []
  return {
    title: `Track ${track.name}`.replace(/^Track Track/, 'Track'),
    notes: limitsFrom(standard),
    columns: columnsOf(units),
    rows: [
      ['Gauge on the straight', 'every foot and at joints', size(railway.gaugeMm), size(minMm), size(maxMm), blankCell, tickCell],
      ...curves,
      ...trackByHand.map((what) => [what, '', '', '', '', '', tickCell]),
    ],
  }
}

function limitsFrom({ source, clause }: CheckStandard): readonly string[] {
  return source === 'railway'
    ? ['No standard is printed for this scale and gauge: the limits are those that the railway itself is laid to.']
    : [`Limits: ${source}, ${clause}. A dash: none is printed.`]
}
