import type { Id } from './types.ts'

// What track is cut from and how it is laid. Lengths mm on the model.

/** A rail section; the code is its height in thousandths of an inch. */
export interface RailSize {
  readonly code: number
  readonly headMm: number
  readonly footMm: number
}

export interface TieSize {
  readonly lengthMm: number
  readonly widthMm: number
  readonly thicknessMm: number
}

/** Roadbed of a class. Its shoulders fall outwards from the top: shoulderRun 1 is 45 degrees, 0 upright. */
export interface Roadbed {
  readonly material: Id
  readonly thicknessMm: number
  readonly topWidthMm: number
  readonly shoulderRun: number
  /** Strips side by side across the whole width; fit: as few as will bend to each curve without tearing. */
  readonly strips: number | 'fit'
}

/** What roadbed is made of. */
export interface Material {
  readonly id: Id
  readonly name: string
  /** Largest strain at the surface of a bent strip, w / 2R. */
  readonly strainLimit: number
}

/**
 * What pieces are cut from. rail: a stick of a code; roadbed: a strip, sheet or roll; tie: wood from which ties are sawn, or ties cut to
 * length already; board: copper-clad strip for ties that rail is soldered to; supply: counted things.
 */
export type StockKind =
  | { readonly kind: 'rail'; readonly code: number; readonly lengthMm: number }
  | {
      readonly kind: 'roadbed'
      readonly material: Id
      readonly thicknessMm: number
      readonly widthMm: number
      readonly lengthMm: number
    }
  | { readonly kind: 'tie' | 'board'; readonly widthMm: number; readonly thicknessMm: number; readonly lengthMm: number }
  | { readonly kind: 'supply'; readonly what: 'spikes' | 'joiners' | 'insulatedJoiners' | 'shimTape' }

/** What lies on the shelf or can be had. An offcut is stock that cannot be bought. */
export interface Stock {
  readonly id: Id
  readonly name: string
  readonly of: StockKind
  /** Pieces at home. */
  readonly onHand: number
  readonly canBuy: boolean
  /** Pieces in a pack: nothing less is sold. */
  readonly packOf: number
  /** As typed, in whatever money; null: not known. */
  readonly packPrice: number | null
}

/** Where rails may be joined. Each is a distance along the rail that keeps clear of what it names. */
export interface JointRules {
  /** Beginning and end of curves, easements counted in. */
  readonly curveEndMm: number
  readonly pointsMm: number
  readonly frogMm: number
  readonly guardMm: number
  readonly gapMm: number
  /** To each side of the throw bar. */
  readonly throwBayMm: number
  /** Between a joint of one rail and the nearest of the other. */
  readonly staggerMm: number
  /** No piece of plain rail is shorter. */
  readonly leastPieceMm: number
}

export interface CuttingRules {
  readonly kerfMm: number
  /** What is longer is kept; what is shorter is waste. */
  readonly leastOffcutMm: number
  /** Rail that each joint takes beyond its two pieces' own length: 0 where ends meet; below 0 is refused. */
  readonly jointAllowanceMm: number
  /** Roadbed: between a joint of one strip and the nearest of the strip beside it. */
  readonly roadbedStaggerMm: number
}

/** The room on the day of laying, and the extremes that it will see. */
export interface Climate {
  readonly laidC: number
  readonly coldestC: number
  readonly hottestC: number
  /** Relative humidity, 0 to 1. */
  readonly laidHumidity: number
  readonly driestHumidity: number
  readonly dampestHumidity: number
  /** Growth of rail by kelvin. */
  readonly railPerK: number
  /** Growth of the benchwork along the track by unit of relative humidity: from dry to soaked air. */
  readonly benchPerHumidity: number
}

/** Which ties are spiked, counted from each joint. */
export interface SpikingRules {
  /** First pass: only so many. */
  readonly firstEvery: number
  readonly tangentEvery: number
  readonly curveEvery: number
  readonly turnoutEvery: number
}

/** The builder's own pace; null: not known, and then nothing is said of time. */
export interface Rates {
  readonly plainMmPerHour: number | null
  readonly turnoutHours: number | null
  readonly crossingHours: number | null
}

export interface LayingRules {
  readonly joints: JointRules
  readonly cutting: CuttingRules
  readonly climate: Climate
  readonly spiking: SpikingRules
  readonly rates: Rates
  /** Steepest ramp of roadbed between two thicknesses, rise over run. */
  readonly roadbedRamp: number
  /** One layer of tape or shim. */
  readonly shimMm: number
}

/**
 * A joint that the builder put where it is, or a stretch's joint moved by hand. station: of the track; on the rails through a turnout that
 * a track hangs on, the track's stationing goes on below 0 or past its length.
 */
export interface RailJoint {
  readonly id: Id
  readonly track: Id
  /** As seen along rising station. */
  readonly rail: 'left' | 'right'
  readonly stationMm: number
}

/** A piece of a list that is cut or laid: `piece` is its mark in that list. */
export interface Tick {
  readonly id: Id
  readonly list: 'rail' | 'roadbed' | 'tie'
  readonly piece: string
  readonly done: 'cut' | 'laid'
}
