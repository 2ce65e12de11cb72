import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs'
import type { Point } from '../../src/core/geom/index.ts'

/** A path as an independent reader finds it on a page, in page millimetres. layer: '' where none is known. */
export interface PdfPath {
  readonly layer: string
  readonly role: string
  readonly start: Point
  readonly segments: readonly PdfSegment[]
}
export type PdfSegment =
  | { readonly kind: 'line'; readonly to: Point }
  | { readonly kind: 'cubic'; readonly c1: Point; readonly c2: Point; readonly to: Point }

export interface PdfPage {
  readonly widthMm: number
  readonly heightMm: number
  readonly paths: readonly PdfPath[]
  /** White paper under words. */
  readonly grounds: readonly PdfPath[]
  /** Clip rectangles by layer, in page mm; a layer without one is printed whole. */
  readonly clips: ReadonlyMap<string, readonly Point[]>
  readonly texts: readonly string[]
  /** Layers that must be on together for something to be seen; each once. */
  readonly together: readonly (readonly string[])[]
}

export interface PdfContent {
  readonly pages: readonly PdfPage[]
  readonly layers: readonly string[]
  readonly printScaling: string
}

type Matrix = readonly [number, number, number, number, number, number]
const mmPerUnit = 25.4 / 72

/** Reads a PDF back with pdf.js, which shares no code with the writer: every path through its transforms to page mm. */
export async function pdfRead(bytes: Uint8Array): Promise<PdfContent> {
  const doc = await getDocument({ data: bytes.slice(), verbosity: 0 }).promise
  const config = await doc.getOptionalContentConfig()
  const layerNames = new Map<string, string>()
  for (const [id, group] of config) layerNames.set(id, String(group.name))
  const preferences = (await doc.getViewerPreferences()) as { readonly PrintScaling?: string } | null
  const pages: PdfPage[] = []
  for (let number = 1; number <= doc.numPages; number++) {
    const page = await doc.getPage(number)
    const [x0 = 0, y0 = 0, x1 = 0, y1 = 0] = page.view
    const operators = await page.getOperatorList()
    const { paths: all, clips, together } = pathsOf(operators, layerNames)
    const [paths, grounds] = [all.filter(({ role }) => role !== 'text'), all.filter(({ role }) => role === 'text')]
    const texts = (await page.getTextContent()).items.flatMap((item) => ('str' in item && item.str !== '' ? [item.str] : []))
    pages.push({ widthMm: (x1 - x0) * mmPerUnit, heightMm: (y1 - y0) * mmPerUnit, paths, grounds, clips, texts, together })
  }
  await doc.destroy()
  return { pages, layers: [...layerNames.values()], printScaling: preferences?.PrintScaling ?? '' }
}

/** Follows save, restore, transform and marked content; pdf.js gives paths as runs of 0 move, 1 line, 2 cubic, 4 close. */
function pathsOf(
  operators: { readonly fnArray: readonly number[]; readonly argsArray: readonly unknown[] },
  layerNames: ReadonlyMap<string, string>,
): Pick<PdfPage, 'paths' | 'clips' | 'together'> {
  const paths: PdfPath[] = []
  const clips = new Map<string, readonly Point[]>()
  let matrix: Matrix = [1, 0, 0, 1, 0, 0]
  const saved: Matrix[] = []
  const together: (readonly string[])[] = []
  const content: { readonly kind: 'layer' | 'role'; readonly name: string }[] = []
  const innermost = (kind: 'layer' | 'role'): string => content.findLast((mark) => mark.kind === kind)?.name ?? ''
  let isClip = false
  operators.fnArray.forEach((operator, i) => {
    const args = operators.argsArray[i]
    if (operator === OPS.save) saved.push(matrix)
    else if (operator === OPS.restore) matrix = saved.pop() ?? matrix
    else if (operator === OPS.transform) matrix = multiply(matrix, args as Matrix)
    else if (operator === OPS.beginMarkedContentProps) {
      // A group by its id, or several of which the first is the layer and the others are to be on as well.
      const [, { id, ids }] = args as [string, { readonly id?: string; readonly ids?: readonly string[] }]
      const names = [id ?? [], ids ?? []].flat().map((one) => layerNames.get(one) ?? '')
      content.push({ kind: 'layer', name: names[0] ?? '' })
      together.push(names)
    } else if (operator === OPS.beginMarkedContent) {
      const [tag] = args as [{ readonly name: string }]
      content.push({ kind: 'role', name: tag.name })
    } else if (operator === OPS.endMarkedContent) content.pop()
    else if (operator === OPS.clip || operator === OPS.eoClip) isClip = true
    else if (operator === OPS.constructPath) {
      const [, [numbers]] = args as [number, [ArrayLike<number> | null]]
      if (!numbers) return
      for (const subpath of subpathsOf(numbers, matrix)) {
        const path = { layer: innermost('layer'), role: innermost('role'), ...subpath }
        if (isClip) clips.set(path.layer, [path.start, ...path.segments.map((segment) => segment.to)])
        else paths.push(path)
      }
      isClip = false
    }
  })
  return { paths, clips, together: together.filter((names, i) => together.findIndex((other) => other.join('|') === names.join('|')) === i) }
}

function subpathsOf(numbers: ArrayLike<number>, matrix: Matrix): readonly Pick<PdfPath, 'start' | 'segments'>[] {
  const found: { start: Point; segments: PdfSegment[] }[] = []
  const point = (at: number): Point => apply(matrix, numbers[at] ?? NaN, numbers[at + 1] ?? NaN)
  let i = 0
  while (i < numbers.length) {
    const code = numbers[i++]
    const last = found.at(-1)
    if (code === 0) {
      found.push({ start: point(i), segments: [] })
      i += 2
    } else if (code === 1 && last) {
      last.segments.push({ kind: 'line', to: point(i) })
      i += 2
    } else if (code === 2 && last) {
      last.segments.push({ kind: 'cubic', c1: point(i), c2: point(i + 2), to: point(i + 4) })
      i += 6
    } else if (code === 4 && last) last.segments.push({ kind: 'line', to: last.start })
    else throw new Error(`a path operator that this reader does not know: ${code}`)
  }
  return found
}

function multiply(m: Matrix, n: Matrix): Matrix {
  return [
    m[0] * n[0] + m[2] * n[1],
    m[1] * n[0] + m[3] * n[1],
    m[0] * n[2] + m[2] * n[3],
    m[1] * n[2] + m[3] * n[3],
    m[0] * n[4] + m[2] * n[5] + m[4],
    m[1] * n[4] + m[3] * n[5] + m[5],
  ]
}

function apply(m: Matrix, x: number, y: number): Point {
  return { x: (m[0] * x + m[2] * y + m[4]) * mmPerUnit, y: (m[1] * x + m[3] * y + m[5]) * mmPerUnit }
}

/** Points along a path: the ends of straight segments, every 2 mm or closer between them, and 16 to a curve. */
export function pdfPathPoints(path: Pick<PdfPath, 'start' | 'segments'>): readonly Point[] {
  const points: Point[] = [path.start]
  let from = path.start
  for (const segment of path.segments) {
    const count = segment.kind === 'cubic' ? 16 : Math.max(1, Math.ceil(Math.hypot(segment.to.x - from.x, segment.to.y - from.y) / 2))
    for (let i = 1; i <= count; i++) points.push(segmentPoint(from, segment, i / count))
    from = segment.to
  }
  return points
}

function segmentPoint(from: Point, segment: PdfSegment, t: number): Point {
  const u = 1 - t
  if (segment.kind === 'line') return { x: u * from.x + t * segment.to.x, y: u * from.y + t * segment.to.y }
  const [a, b, c, d] = [u ** 3, 3 * u * u * t, 3 * u * t * t, t ** 3]
  return {
    x: a * from.x + b * segment.c1.x + c * segment.c2.x + d * segment.to.x,
    y: a * from.y + b * segment.c1.y + c * segment.c2.y + d * segment.to.y,
  }
}
