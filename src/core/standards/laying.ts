import type { LineClassKey } from './lineClasses.ts'

// What a new plan says of roadbed, ties, stock and laying. Stated for HO where it goes by the scale. Same shapes as the plan's own records.

const HO_RATIO = 87.1
const inch = 25.4
const foot = 12 * inch

/**
 * Strains that a strip bends to without tearing or springing back for good. Cork: 7/8 in strips go round 24 in, whole 1 3/4 in ones do not.
 * Wood and hardboard: 1/4 in snaps below 30 in. The others are guesses of the habit. [COMMON-PRACTICE]
 */
export const standardMaterials = [
  { id: 'cork', name: 'Cork', strainLimit: 0.02 },
  { id: 'fibreboard', name: 'Fibreboard', strainLimit: 0.01 },
  { id: 'softwood', name: 'Softwood strip', strainLimit: 0.004 },
  { id: 'hardboard', name: 'Hardboard strip', strainLimit: 0.004 },
] as const

/** Beside a main; beside all else half as thick. HO 3/16 in, N 1/8 in. [COMMON-PRACTICE] */
const mainThicknessMm = (ratio: number): number => (ratio > 140 ? inch / 8 : hundredth(((3 / 16) * inch * HO_RATIO) / ratio))

/** Roadbed stands this far out beyond a tie's end at its top, full size, in. [COMMON-PRACTICE] */
const BEYOND_TIE_IN = 9

/** Roadbed of a class: cork, shoulders of 45 degrees, as few strips as will bend. Mains and branches on full thickness. [COMMON-PRACTICE] */
export function roadbedForClass(key: LineClassKey, ratio: number, tieLengthMm: number) {
  const thicknessMm = mainThicknessMm(ratio)
  return {
    material: 'cork',
    thicknessMm: key === 'main' || key === 'branch' ? thicknessMm : hundredth(thicknessMm / 2),
    topWidthMm: tenth(tieLengthMm + (2 * BEYOND_TIE_IN * inch) / ratio),
    shoulderRun: 1,
    strips: 'fit' as const,
  }
}

/**
 * Joints. curve end: 6 in in HO; stagger: the truck centres of an 85 ft car, so that no two trucks of a car meet joints on both rails at
 * once; the rest by the habit. [COMMON-PRACTICE]
 *
 * Climate: brass grows 10.4e-6 by degree F, nickel silver somewhat less; a frame of plywood a few parts in ten thousand from dry to
 * soaked air. [COMMON-PRACTICE]
 */
export function layingForRatio(ratio: number) {
  const ho = (mm: number): number => tenth((mm * HO_RATIO) / ratio)
  return {
    joints: {
      curveEndMm: ho(6 * inch),
      pointsMm: ho(25),
      frogMm: ho(25),
      guardMm: ho(10),
      gapMm: ho(25),
      throwBayMm: ho(25),
      staggerMm: tenth((59.5 * foot) / ratio),
      leastPieceMm: ho(75),
    },
    cutting: { kerfMm: 0.5, leastOffcutMm: 100, jointAllowanceMm: 0, roadbedStaggerMm: 6 * inch },
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

interface StandardStock<Of> {
  readonly id: string
  readonly name: string
  readonly of: Of
  readonly onHand: number
  readonly canBuy: boolean
  readonly packOf: number
  readonly packPrice: null
}

const toBuy = <const Of>(id: string, name: string, of: Of, packOf = 1): StandardStock<Of> => ({
  id,
  name,
  of,
  onHand: 0,
  canBuy: true,
  packOf,
  packPrice: null,
})

interface StockedRailway {
  readonly ratio: number
  readonly railCode: number
  readonly tieLengthMm: number
  readonly tieWidthMm: number
  readonly tieThicknessMm: number
}

/** Lengths as stock is asked for, in inches and in millimetres: of rail and roadbed, of tie stock, of board; and how wide roadbed sheets are. [COMMON-PRACTICE] */
const stockSizes = {
  imperial: { longMm: 36 * inch, long: '36 in', tieMm: 24 * inch, tie: '24 in', boardMm: 12 * inch, board: '12 in', sheetMm: 12 * inch },
  metric: { longMm: 1000, long: '1 m', tieMm: 600, tie: '600 mm', boardMm: 300, board: '300 mm', sheetMm: 300 },
} as const

/** What such a railway is cut from, all of it to be bought, in round lengths of one rule. */
export function stocksForRailway(railway: StockedRailway, units: 'imperial' | 'metric' = 'imperial') {
  const { ratio, railCode, tieWidthMm: widthMm, tieThicknessMm: thicknessMm } = railway
  const sizes = stockSizes[units]
  const roadbed = (key: LineClassKey) => roadbedForClass(key, ratio, railway.tieLengthMm)
  const main = roadbed('main')
  const low = roadbed('yard')
  const sheetMm = { widthMm: sizes.sheetMm, lengthMm: sizes.longMm }
  return [
    toBuy('stock-1', `Rail code ${railCode}, ${sizes.long}`, { kind: 'rail', code: railCode, lengthMm: sizes.longMm }),
    toBuy('stock-2', 'Cork sheet, main', { kind: 'roadbed', material: 'cork', thicknessMm: main.thicknessMm, ...sheetMm }),
    toBuy('stock-3', 'Cork sheet, siding and yard', { kind: 'roadbed', material: 'cork', thicknessMm: low.thicknessMm, ...sheetMm }),
    toBuy('stock-4', `Tie strip, ${sizes.tie}`, { kind: 'tie', widthMm, thicknessMm, lengthMm: sizes.tieMm }),
    toBuy('stock-5', `PC-board tie strip, ${sizes.board}`, { kind: 'board', widthMm, thicknessMm, lengthMm: sizes.boardMm }),
    toBuy('stock-6', 'Spikes', { kind: 'supply', what: 'spikes' }, 1000),
    toBuy('stock-7', 'Rail joiners', { kind: 'supply', what: 'joiners' }, 48),
    toBuy('stock-8', 'Insulated rail joiners', { kind: 'supply', what: 'insulatedJoiners' }, 24),
    toBuy('stock-9', 'Shim tape', { kind: 'supply', what: 'shimTape' }, 1),
  ] as const
}

const tenth = (mm: number): number => Math.round(mm * 10) / 10
const hundredth = (mm: number): number => Math.round(mm * 100) / 100
