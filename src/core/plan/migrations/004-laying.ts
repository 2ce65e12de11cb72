import type { Data } from '../data.ts'
import type { Migration, OldPlan } from '../migrate.ts'
import { isTable } from './fields.ts'
import type { Fields } from './fields.ts'

/**
 * Version 5 knows what track is cut from and how it is laid: materials, stock, roadbed, the rules for joints and spikes, and how many
 * car lengths a curve is to be wide. Values as a railway of that day began with; common practice, no source.
 */
export const migration004: Migration = {
  from: 4,
  migrate: (plan) => {
    const railway = isTable(plan['railway']) ? plan['railway'] : null
    const ratio = numberOr(railway?.['ratio'], 87.1)
    const sizes = sizesOf(ratio, railway)
    return {
      materials: Object.fromEntries(materials.map(([id, name, strainLimit]) => [id, { id, name, strainLimit }])),
      stocks: stocks(sizes, numberOr(railway?.['railCode'], 83)),
      railJoints: {},
      ticks: {},
      ...plan,
      ...(railway === null ? {} : { railway: { tieThicknessMm: sizes.tieThicknessMm, laying: laying(ratio), ...railway } }),
      ...classesOf(plan, sizes),
    }
  },
}

const materials: readonly (readonly [string, string, number])[] = [
  ['cork', 'Cork', 0.02],
  ['fibreboard', 'Fibreboard', 0.01],
  ['softwood', 'Softwood strip', 0.004],
  ['hardboard', 'Hardboard strip', 0.004],
]

type Sizes = ReturnType<typeof sizesOf>

function sizesOf(ratio: number, railway: Fields | null) {
  const tieLengthMm = numberOr(railway?.['tieLengthMm'], 2590.8 / ratio)
  return {
    tieWidthMm: numberOr(railway?.['tieWidthMm'], 228.6 / ratio),
    tieThicknessMm: round(177.8 / ratio, 1000),
    roadbedMm: ratio > 140 ? 3.175 : round((4.7625 * 87.1) / ratio, 100),
    topWidthMm: round(tieLengthMm + 457.2 / ratio, 10),
  }
}

function laying(ratio: number): Fields {
  const ho = (mm: number): number => round((mm * 87.1) / ratio, 10)
  return {
    joints: {
      curveEndMm: ho(152.4),
      pointsMm: ho(25),
      frogMm: ho(25),
      guardMm: ho(10),
      gapMm: ho(25),
      throwBayMm: ho(25),
      staggerMm: round(18135.6 / ratio, 10),
      leastPieceMm: ho(75),
    },
    cutting: { kerfMm: 0.5, leastOffcutMm: 100, jointAllowanceMm: 0, roadbedStaggerMm: 152.4 },
    climate: {
      laidC: 20,
      coldestC: 10,
      hottestC: 30,
      laidHumidity: 0.5,
      driestHumidity: 0.3,
      dampestHumidity: 0.7,
      railPerK: 18.7e-6,
      benchPerHumidity: 5e-4,
    },
    spiking: { firstEvery: 20, tangentEvery: 5, curveEvery: 4, turnoutEvery: 2 },
    rates: { plainMmPerHour: null, turnoutHours: null, crossingHours: null },
    roadbedRamp: 0.01,
    shimMm: 0.127,
  }
}

function stocks({ tieWidthMm: widthMm, tieThicknessMm: thicknessMm, roadbedMm }: Sizes, code: number): Fields {
  const list: readonly (readonly [string, Fields, number])[] = [
    [`Rail code ${code}, 36 in`, { kind: 'rail', code, lengthMm: 914.4 }, 1],
    ['Cork sheet', { kind: 'roadbed', material: 'cork', thicknessMm: roadbedMm, widthMm: 304.8, lengthMm: 914.4 }, 1],
    ['Tie strip, 24 in', { kind: 'tie', widthMm, thicknessMm, lengthMm: 609.6 }, 1],
    ['PC-board tie strip, 12 in', { kind: 'board', widthMm, thicknessMm, lengthMm: 304.8 }, 1],
    ['Spikes', { kind: 'supply', what: 'spikes' }, 1000],
    ['Rail joiners', { kind: 'supply', what: 'joiners' }, 48],
    ['Insulated rail joiners', { kind: 'supply', what: 'insulatedJoiners' }, 24],
    ['Shim tape', { kind: 'supply', what: 'shimTape' }, 1],
  ]
  return Object.fromEntries(
    list.map(([name, of, packOf], i) => {
      const id = `stock-${i + 1}`
      return [id, { id, name, of, onHand: 0, canBuy: true, packOf, packPrice: null }]
    }),
  )
}

function classesOf(plan: OldPlan, { roadbedMm, topWidthMm }: Sizes): OldPlan {
  const classes = plan['lineClasses']
  if (!isTable(classes)) return {}
  const changed = Object.entries(classes).map(([id, record]): readonly [string, Data] => [
    id,
    isTable(record)
      ? {
          curveCarLengths: 3,
          couplingCarLengths: 0,
          rail: 'railway',
          tie: 'railway',
          jointTieSpacingMm: null,
          roadbed: { material: 'cork', thicknessMm: roadbedMm, topWidthMm, shoulderRun: 1, strips: 'fit' },
          superelevationMm: 0,
          ...record,
        }
      : record,
  ])
  return { lineClasses: Object.fromEntries(changed) }
}

const numberOr = (data: Data | undefined, otherwise: number): number =>
  typeof data === 'number' && Number.isFinite(data) && data > 0 ? data : otherwise
const round = (value: number, by: number): number => Math.round(value * by) / by
