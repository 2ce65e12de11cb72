import type { ChainElement } from '../../core/alignment/index.ts'
import type { Path } from '../../core/geom/index.ts'

/** A line to be written: a track by its name. */
export interface LineOut {
  readonly name: string
  readonly path: Path
}

/** A line as a file states it, mm on the model. */
export interface LineIn {
  readonly name: string
  readonly elements: readonly ChainElement[]
}

export type LineFileProblem =
  /** Not the kind of file that was asked for. */
  | { readonly kind: 'foreign'; readonly expected: 'LandXML' | 'IFC' }
  /** Cannot be read on from here; lines and columns from 1. */
  | { readonly kind: 'damaged'; readonly line: number; readonly column: number; readonly says: string }
  | { readonly kind: 'noLines' }
  /** The file does not say in what it measures, or in something that is not known here. */
  | { readonly kind: 'unit'; readonly says: string | null }
  /** An element of a line lacks something or holds what is no number. */
  | { readonly kind: 'badElement'; readonly line: string; readonly element: number; readonly what: string }
  /** A kind of transition that is no clothoid. */
  | { readonly kind: 'otherSpiral'; readonly line: string; readonly element: number; readonly type: string }

export type LineFileResult =
  | { readonly ok: true; readonly lines: readonly LineIn[] }
  | { readonly ok: false; readonly problem: LineFileProblem }
