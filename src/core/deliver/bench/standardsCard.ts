import type { Derived } from '../../pipeline/types.ts'
import { railOf, tieOf } from '../../plan/index.ts'
import type { EasementRule } from '../../plan/types.ts'
import { gaugeByKey, railByCode } from '../../standards/index.ts'
import type { GaugeLimit, SourceStatus } from '../../standards/index.ts'
import { checkStandard } from '../../turnout/index.ts'
import { frogNumberFormat } from '../../units/index.ts'
import type { ListTable } from '../listPages.ts'
import type { SheetOptions } from '../types.ts'
import { lengthWords } from '../words.ts'
import type { BenchContent } from './pages.ts'
import { filledTables, hundredthWords, left, right, thouWords } from './words.ts'

type Units = SheetOptions['units']

const statusWords = {
  read: 'read in print',
  derived: 'derived from printed values',
  'from-memory': 'from memory, not confirmed',
} as const satisfies Record<SourceStatus, string>

/** Gauges and limits of the railway, what its classes of line ask for, and where it is printed. */
export function standardsContent({ plan }: Derived, units: Units): BenchContent {
  return { figures: [], tables: filledTables([guidanceTable(plan), railTable(plan), classTable(plan, units), tieTable(plan, units)]) }
}

function guidanceTable({ railway }: Derived['plan']): ListTable {
  const standard = checkStandard(railway)
  const row = gaugeByKey(railway.scaleKey)
  const line = (what: string, laidMm: number | null, { minMm, maxMm }: Pick<GaugeLimit, 'minMm' | 'maxMm'>): readonly string[] => [
    what,
    hundredthWords(laidMm),
    hundredthWords(minMm),
    hundredthWords(maxMm),
    thouWords(laidMm),
    thouWords(minMm),
    thouWords(maxMm),
  ]
  const open = { minMm: null, maxMm: null }
  return {
    title: row === null ? `Gauge and guidance, 1:${railway.ratio}` : `Gauge and guidance, ${row.name}`,
    notes: [
      row === null
        ? 'No standard is printed for this scale and gauge: the limits are those that the railway itself is laid to.'
        : `From ${standard.source}, ${standard.clause}; ${statusWords[standard.status]}. A dash: none is printed.`,
      'Check gauge: face of the guard rail to the running face of the frog. Span: guard rail face to wing rail face, at most the wheels’ back to back.',
    ],
    columns: [left(''), right('Laid to, mm'), right('Least'), right('Most'), right('Laid to, in'), right('Least'), right('Most')],
    rows: [
      line('Gauge', railway.gaugeMm, standard.gauge),
      line('Check gauge', railway.checkGaugeMm, standard.checkGauge),
      line('Span', row?.spanMm ?? railway.checkGaugeMm - railway.flangewayMm, standard.span),
      line('Flangeway in the frog', railway.flangewayMm, standard.flangeway),
      line('Flangeway at guards and open points', null, { ...open, minMm: standard.flangeWayMm }),
      line('Points spread', row?.pointsSpreadMm ?? null, standard.pointsSpread),
      line('Depth of flangeways', row?.limits.flangewayDepth.targetMm ?? null, row?.limits.flangewayDepth ?? open),
    ],
  }
}

function railTable({ railway, lineClasses }: Derived['plan']): ListTable {
  const codes = [...new Set([railway.railCode, ...Object.values(lineClasses).map((one) => railOf(one, railway).code)])].toSorted(
    (a, b) => b - a,
  )
  return {
    title: 'Rail',
    notes: ['Code: height in thousandths of an inch.'],
    columns: [
      right('Code'),
      right('Height, mm'),
      right('Head'),
      right('Foot'),
      right('Height, in'),
      right('Head'),
      right('Foot'),
      left('Source'),
    ],
    rows: codes.flatMap((code) => {
      const rail = railByCode(code)
      if (rail === null) return []
      const sizes = [rail.heightMm, rail.headMm, rail.footMm]
      return [
        [
          String(code),
          ...sizes.map(hundredthWords),
          ...sizes.map(thouWords),
          `${rail.source}, ${rail.clause}; ${statusWords[rail.status]}`,
        ],
      ]
    }),
  }
}

function easementWords(rule: EasementRule, units: Units): string {
  switch (rule.kind) {
    case 'none':
      return 'none'
    case 'length':
      return `${lengthWords(rule.lengthMm, units)} long`
    case 'shift':
      return `shift ${lengthWords(rule.shiftMm, units)}`
  }
}

function classTable({ lineClasses }: Derived['plan'], units: Units): ListTable {
  const size = (mm: number): string => lengthWords(mm, units)
  return {
    title: 'Classes of line',
    notes: ['As this railway has set them. Frogs by their number, grade in per cent.'],
    columns: [
      left('Class'),
      right('Least radius'),
      right('Usual'),
      right('Least frog'),
      right('Usual'),
      right('Centres'),
      left('Easement'),
      right('Most grade'),
      left('Gauge wider by'),
    ],
    rows: Object.values(lineClasses).map((one) => [
      one.name,
      size(one.minRadiusMm),
      size(one.usualRadiusMm),
      frogNumberFormat(one.minFrog),
      frogNumberFormat(one.usualFrog),
      size(one.trackCentresMm),
      easementWords(one.easement, units),
      `${(one.maxGrade * 100).toFixed(1)} %`,
      one.widening.map(({ belowRadiusMm, byMm }) => `${hundredthWords(byMm)} mm below R ${size(belowRadiusMm)}`).join(', '),
    ]),
  }
}

function tieTable({ lineClasses, railway }: Derived['plan'], units: Units): ListTable {
  return {
    title: 'Ties',
    notes: ['Length, width, thickness; and middle to middle.'],
    columns: [left('Class'), right('Length'), right('Width'), right('Thick, mm'), right('Apart, mm'), right('To a yard')],
    rows: Object.values(lineClasses).map((one) => {
      const tie = tieOf(one, railway)
      return [
        one.name,
        lengthWords(tie.lengthMm, units),
        lengthWords(tie.widthMm, units),
        tie.thicknessMm.toFixed(2),
        one.tieSpacingMm.toFixed(2),
        (914.4 / one.tieSpacingMm).toFixed(1),
      ]
    }),
  }
}
