import type { Box, Point } from '../geom/types.ts'
import type { BenchPractice } from '../turnout/types.ts'
import type { BenchSheetName } from './bench/names.ts'
import type { LayerChoice, LayerName } from './layers.ts'

export type { LayerChoice, LayerName } from './layers.ts'

/** What a line stands for; each format decides weight and dash from the role by one table (deliver/roles.ts). */
export type LineRole =
  | 'rail-head'
  | 'rail-foot'
  | 'rail-gauge'
  | 'centreline'
  | 'tie'
  | 'tangent'
  | 'tick'
  | 'mark'
  | 'gap'
  | 'hole'
  | 'match'
  | 'trim'
  | 'frame'
  | 'scale-bar'
  | 'benchwork'
  | 'joist'
  | 'roadbed'
  | 'tie-end'
  | 'joint'
  | 'offset'
  | 'punch'

export type Segment =
  | { readonly kind: 'line'; readonly to: Point }
  | { readonly kind: 'cubic'; readonly c1: Point; readonly c2: Point; readonly to: Point }

/** A stroked (or filled) path; points in mm, y up. */
export interface StrokeItem {
  readonly kind: 'stroke'
  readonly layer: LayerName
  readonly role: LineRole
  readonly start: Point
  readonly segments: readonly Segment[]
  readonly isClosed: boolean
  /** Grey level of a fill, 0 black to 1 white; null: stroke only. */
  readonly fill: number | null
}

export interface TextItem {
  readonly kind: 'text'
  readonly layer: LayerName
  /** Where the anchor stands on the base line. */
  readonly at: Point
  readonly text: string
  readonly sizeMm: number
  readonly angleRad: number
  readonly anchor: 'start' | 'middle' | 'end'
  readonly weight: 'regular' | 'bold'
  /** 0 black to 1 white. */
  readonly grey: number
  /** Stands on white paper whatever its layer; absent: as the words of its layer do. */
  readonly isOnPaper?: true
}

export type DrawItem = StrokeItem | TextItem

/** Paper by its size in mm. Sheets lie as it is given, or turned by a quarter where that saves sheets; a roll is never turned. */
export interface Paper {
  readonly name: string
  readonly widthMm: number
  readonly heightMm: number
  readonly isRoll?: boolean
}

/**
 * One page. Plan to page: page = scale(rotate(plan - planOrigin, -angle)) + pageOrigin; page mm from the lower left corner
 * of the paper. Both scales are 1 on a full-size sheet for a true printer, 1 / calibration for another one, and small on
 * the index; a list has no plan, and its window holds tables, cards or a drawing at a scale of its own. `window` is the printed part of the page; items are already in page mm and may run over it (the format clips
 * those of all layers but 'sheet').
 */
export interface Sheet {
  readonly kind: 'full-size' | 'index' | 'list'
  readonly name: string
  readonly title: string
  readonly paper: Paper
  readonly window: Box
  readonly toPage: PlanToPage
  readonly items: readonly DrawItem[]
  /** absent: as usual. A mirrored page is drawn the right way round and turned over as a whole by the format. */
  readonly look?: SheetLook
}

/** How sheets look. */
export interface SheetLook {
  /** Layers that are left out; the sheet's own frame and bars stay. */
  readonly without: readonly LayerChoice[]
  /** To be taken off on tape, or traced from behind. */
  readonly isMirrored: boolean
  readonly lines: 'hairline' | 'usual' | 'bold'
  readonly ink: 'black' | 'grey'
}

export interface PlanToPage {
  readonly planOrigin: Point
  readonly angleRad: number
  readonly pageOrigin: Point
  readonly scaleX: number
  readonly scaleY: number
}

export interface SheetSet {
  readonly title: string
  readonly sheets: readonly Sheet[]
  readonly problems: readonly string[]
}

/** Special work as the bench builds it. `of` absent: a turnout. */
export interface BuiltSubject {
  readonly id: string
  readonly of?: 'turnout' | 'crossing'
  readonly practice?: BenchPractice
}

export type SheetSubject =
  | { readonly kind: 'turnout'; readonly id: string }
  /** A crossing by the name that the network has for it. */
  | { readonly kind: 'crossing'; readonly id: string }
  /** Tables of special work: rails to cut, bends, filing, ordinates, wires; by the usual practice when none is given. */
  | ({ readonly kind: 'cutList' } & BuiltSubject)
  /** The cards to cut roadbed along, at full size: outline with its taper. */
  | ({ readonly kind: 'roadbed' } & BuiltSubject)
  /** The board in which ties of a class are laid to be taped. */
  | { readonly kind: 'tieJig'; readonly lineClass: string }
  | { readonly kind: 'curve'; readonly track: string; readonly corner: string }
  | { readonly kind: 'track'; readonly id: string }
  /** A track from one station to another; round a loop it may run over the place where stations begin. */
  | { readonly kind: 'stretch'; readonly track: string; readonly fromMm: number; readonly toMm: number | 'end' }
  /** All track in a rectangle of the plan. */
  | { readonly kind: 'region'; readonly box: Box }
  | { readonly kind: 'all' }
  /** What is read, cut or checked by beside the track. */
  | { readonly kind: 'bench'; readonly sheet: BenchSheetName }

export interface SheetOptions {
  readonly paper: Paper
  /** How sheets lie: in rows, each along the line, or as takes fewer of them (in rows among equals). absent: fewest. */
  readonly tiling?: 'fewest' | 'grid' | 'line'
  readonly marginMm: number
  readonly overlapMm: number
  /** Measured length of a 100 mm bar along the paper's width and height as given, divided by 100: 1 for a true printer. */
  readonly calibrationX: number
  readonly calibrationY: number
  readonly units: 'imperial' | 'metric'
  /** absent: as usual. */
  readonly look?: SheetLook
  /** Printed on the sheet as is; passed in because the core knows no clock. */
  readonly date: string
}
