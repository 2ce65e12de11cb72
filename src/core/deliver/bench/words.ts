import { MM_PER_INCH } from '../../units/index.ts'
import type { ListColumn, ListTable } from '../listPages.ts'

export const left = (head: string): ListColumn => ({ head, align: 'left' })
export const right = (head: string): ListColumn => ({ head, align: 'right' })

/** Thousandths of an inch and hundredths of a millimetre. */
export function thouWords(mm: number | null): string {
  return mm === null ? '–' : (mm / MM_PER_INCH).toFixed(4)
}

export function hundredthWords(mm: number | null): string {
  return mm === null ? '–' : mm.toFixed(3)
}

/** Only tables that say something. */
export function filledTables(tables: readonly ListTable[]): readonly ListTable[] {
  return tables.filter(({ rows }) => rows.length > 0)
}

/** Cautions of the bench. They name the danger and defer to labels and local rules. Common practice, no source. */
export const benchCautions = {
  blade:
    'Cut away from the hand along a metal rule, many light strokes, a mat below. Mask for the dust of cork, fibreboard and foam, and take it up damp. ' +
    'Keep blades and dust from children. Labels and local rules come first.',
  rail:
    'Eye protection: cut ends fly. Hold short pieces in a vice, file burrs off before they are handled. Discs throw sparks: guard on, nothing near that burns. ' +
    'Keep from children. Labels and local rules come first.',
  file:
    'Eye protection. A handle on every file, the rail in a vice, strokes away from the hand. Brush filings up, never blow. ' +
    'Wash hands after nickel silver and brass. Keep from children. Labels and local rules come first.',
  wood:
    'Look for wires and pipes before a hole is drilled; mains work is for licensed people. Eye protection and mask when sawing and drilling. ' +
    'Keep from children. Labels and local rules come first.',
  room: 'Measure twice before wood is cut. Keep ways out, meters and heaters free; mains work is for licensed people. Labels and local rules come first.',
  read: 'For reading beside the work: switch layout power off before metal gauges are laid across the rails. Labels and local rules come first.',
} as const
