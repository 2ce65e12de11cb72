import type { ChainProblem } from '../core/alignment/index.ts'
import type { LineFileProblem } from '../formats/line/types.ts'
import type { DrawingKind, DrawingProblem } from '../formats/outline/types.ts'
import { angleText, lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'

/** Why a file of lines cannot be read, in sentences. */
export function lineFileProblemText(problem: LineFileProblem): string {
  switch (problem.kind) {
    case 'foreign':
      return `This is no ${problem.expected} file.`
    case 'damaged':
      return `The file cannot be read on from line ${problem.line}, column ${problem.column}: ${problem.says}.`
    case 'noLines':
      return 'There are no alignments in the file.'
    case 'unit':
      return problem.says === null
        ? 'The file does not say in what unit it measures, so nothing can be taken from it.'
        : `The file measures in “${problem.says}”, which is not known here. Millimetres, metres, inches, feet and their kin are.`
    case 'badElement':
      return `Element ${problem.element} of alignment “${problem.line}” lacks ${problem.what}, or it is not a number.`
    case 'otherSpiral':
      return `Element ${problem.element} of alignment “${problem.line}” is of type “${problem.type}”; tracks here are lines, arcs and clothoids.`
  }
}

const rightDrawing = {
  DXF: 'A DXF file in text form is, an SVG picture, and a list of points whose name ends in .csv.',
  SVG: 'An SVG picture of paths, rectangles, circles and polygons is.',
  points: 'A list with x and y on each line is.',
} as const satisfies Record<DrawingKind, string>

const noOutlines = {
  DXF: 'There are no lines, polylines, arcs or circles in the drawing that stand outside of blocks.',
  SVG: 'There are no paths, rectangles, circles or polygons in the picture that are drawn where they stand.',
  points: 'There are fewer than two points in the list; each line holds one, as x and y.',
} as const satisfies Record<DrawingKind, string>

/** Why a drawing cannot be taken in. */
export function drawingProblemText(problem: DrawingProblem): string {
  switch (problem.kind) {
    case 'notDrawing':
      return `This is no drawing that can be read: ${problem.says}. ${rightDrawing[problem.expected]}`
    case 'noOutlines':
      return noOutlines[problem.expected]
    case 'mixedUnits':
      return 'Some of the measures have a unit and others have none, so that nobody can tell how long those are. Give all of them a unit, or none.'
  }
}

/** Why a line cannot be a track. Elements are counted from 1 for people. */
export function chainProblemText(problem: ChainProblem, prefs: MeasurePrefs): string {
  switch (problem.kind) {
    case 'empty':
      return 'It has no elements.'
    case 'notFinite':
      return `Element ${problem.element + 1} has a length or a place that is no number.`
    case 'broken':
      return `Element ${problem.element + 1} begins ${lengthText(problem.gapMm, prefs)} from the end of the one before it, turned by ${angleText(problem.turnRad)}; they should meet.`
    case 'spiralWithoutArc':
      return `Element ${problem.element + 1} is an easement that begins or ends at a curvature without an arc of that radius beside it; a track needs the arc.`
  }
}

/** A line of a file that no track can have, and why. */
export function lineLeftOutText({ name, problem }: { readonly name: string; readonly problem: ChainProblem }, prefs: MeasurePrefs): string {
  return `“${name}” was left out. ${chainProblemText(problem, prefs)}`
}

/** What was left out of a drawing: lines that bound nothing, and things by their kind. */
export function outlinesLeftOutTexts(open: number, kinds: ReadonlyMap<string, number>): readonly string[] {
  const left = [...kinds].map(([kind, count]) => `${count} of kind ${kind} left out.`)
  return open > 0 ? [`${open} lines that bound nothing left out.`, ...left] : left
}
