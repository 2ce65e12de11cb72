import { SaxesParser } from 'saxes'
import { boxOfPoints } from '../../core/geom/index.ts'
import { svgPageMm, svgUserLength } from './svgLength.ts'
import { svgShapeChains, svgShapeNames } from './svgShape.ts'
import type { Attributes } from './svgShape.ts'
import { affineNone, affineThen, transformRead } from './svgTransform.ts'
import type { Affine } from './svgTransform.ts'
import type { DrawingResult, DrawnOutline } from './types.ts'

/** What stands in these is drawn elsewhere, or not at all. */
const asideNames = new Set(['defs', 'clipPath', 'mask', 'marker', 'pattern', 'symbol', 'metadata', 'style', 'title', 'desc', 'script'])
/** Drawn, and no outline of its own. */
const otherNames = new Set(['use', 'text', 'image', 'foreignObject', 'svg', 'switch'])
/** The layer of what stands in no group that has a name. */
const noLayer = 'drawing'

interface Within {
  readonly name: string
  readonly matrix: Affine
  readonly layer: string | null
  readonly isAside: boolean
}

interface Page {
  readonly unitMm: number | null
  /** Lower left corner in user units, whose y goes down; null: the drawing does not say how large it is. */
  readonly corner: { readonly x: number; readonly y: number } | null
}

/** Thrown within the reader where it cannot go on; never leaves it. */
class NotSvg extends Error {}

/**
 * Outlines of an SVG picture: paths, rectangles, circles, ellipses, lines and polygons with all transforms carried out, curves as chains of
 * points. Texts, pictures and what is drawn by reference are counted and left out.
 *
 * Units:      user units with the page's lower left corner at the origin and y up; unitMm where width or height is stated in mm, in or
 *             their kin. px says nothing: programs mean different lengths by it.
 * Layers:     the outermost group that has an id.
 * Throws:     never.
 * Source:     [SVG-2]
 */
export function svgRead(text: string): DrawingResult {
  try {
    const { page, outlines, leftOut } = parsed(text)
    if (outlines.length === 0) return { ok: false, problem: { kind: 'noOutlines', expected: 'SVG' } }
    const box = boxOfPoints(outlines.flatMap(({ points }) => points))
    const corner = page.corner ?? (box === null ? { x: 0, y: 0 } : { x: box.minX, y: box.maxY })
    const upright = outlines.map((outline) => ({
      ...outline,
      points: outline.points.map(({ x, y }) => ({ x: x - corner.x, y: corner.y - y })),
    }))
    return { ok: true, unitMm: page.unitMm, outlines: upright, leftOut }
  } catch (error) {
    if (!(error instanceof NotSvg)) throw error
    return { ok: false, problem: { kind: 'notDrawing', expected: 'SVG', says: error.message } }
  }
}

function parsed(text: string): {
  readonly page: Page
  readonly outlines: readonly DrawnOutline[]
  readonly leftOut: ReadonlyMap<string, number>
} {
  const parser = new SaxesParser({ xmlns: false })
  const outlines: DrawnOutline[] = []
  const leftOut = new Map<string, number>()
  const within: Within[] = []
  let page: Page | null = null
  const refuse = (says: string): never => {
    throw new NotSvg(`line ${parser.line}: ${says}`)
  }
  const leave = (what: string): void => void leftOut.set(what, (leftOut.get(what) ?? 0) + 1)
  parser.on('error', (error) => refuse(error.message.replace(/^\d+:\d+: /, '')))
  parser.on('opentag', ({ name: full, attributes }) => {
    const name = full.replace(/^.*:/, '')
    const outer = within.at(-1)
    if (outer === undefined) {
      if (name !== 'svg') refuse(`it begins with “${full}”, not with svg`)
      page = pageOf(attributes)
      within.push({ name, matrix: affineNone, layer: null, isAside: false })
      return
    }
    const own = attributes['transform'] === undefined ? affineNone : transformRead(attributes['transform'])
    if (own === null) return refuse(`the transform “${attributes['transform']}” cannot be read`)
    const matrix = affineThen(outer.matrix, own)
    const isHidden = attributes['display'] === 'none' || /(?:^|;)\s*display\s*:\s*none/.test(attributes['style'] ?? '')
    const isAside = outer.isAside || isHidden || asideNames.has(name) || otherNames.has(name)
    within.push({ name, matrix, layer: outer.layer ?? (name === 'g' ? (attributes['id'] ?? null) : null), isAside })
    if (outer.isAside) return
    if (isHidden) return leave(`hidden ${name}`)
    if (otherNames.has(name)) return leave(name)
    if (!svgShapeNames.has(name)) return
    const chains = shapeChains(name, attributes, matrix, refuse)
    if (chains === null) leave(name)
    else outlines.push(...chains.map((chain) => ({ layer: outer.layer ?? noLayer, ...chain })))
  })
  parser.on('closetag', () => void within.pop())
  parser.write(text).close()
  return page === null ? refuse('there is nothing in it') : { page, outlines, leftOut }
}

function shapeChains(
  name: string,
  attributes: Attributes,
  matrix: Affine,
  refuse: (says: string) => never,
): ReturnType<typeof svgShapeChains> {
  try {
    const chains = svgShapeChains(name, attributes, matrix)
    const isWhole = chains?.every(({ points }) => points.every(({ x, y }) => Number.isFinite(x) && Number.isFinite(y))) ?? true
    return isWhole ? chains : refuse(`the numbers of this ${name} are too large`)
  } catch (error) {
    if (error instanceof NotSvg) throw error
    return refuse(`the ${name} cannot be read (${error instanceof Error ? error.message : String(error)})`)
  }
}

/** A page keeps its picture's shape, so that the smaller of both scales holds, unless it is told to be filled. [SVG-2] section 8.2. */
function pageOf(attributes: Attributes): Page {
  const [x, y, width, height] = (attributes['viewBox'] ?? '')
    .trim()
    .split(/[\s,]+/)
    .map(Number)
  const [wideMm, highMm] = [svgPageMm(attributes['width']), svgPageMm(attributes['height'])]
  if (x !== undefined && y !== undefined && width !== undefined && height !== undefined && width > 0 && height > 0) {
    const scales = [wideMm === null ? [] : wideMm / width, highMm === null ? [] : highMm / height].flat()
    const fit = attributes['preserveAspectRatio'] ?? ''
    const isBent = fit.includes('none') && scales.length === 2 && Math.abs((scales[0] ?? 1) / (scales[1] ?? 1) - 1) > 1e-3
    const unitMm = scales.length === 0 || isBent ? null : fit.includes('slice') ? Math.max(...scales) : Math.min(...scales)
    return { unitMm, corner: { x, y: y + height } }
  }
  // Without a box of its own, a user unit is a pixel of which 96 are an inch; that counts where the page is measured by a rule.
  const tall = svgUserLength(attributes['height'])
  return { unitMm: wideMm === null && highMm === null ? null : 25.4 / 96, corner: tall === null ? null : { x: 0, y: tall } }
}
