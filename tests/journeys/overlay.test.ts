import { describe, expect, it } from 'vitest'
import { sheetsForSubject } from '../../src/core/deliver/index.ts'
import type { Sheet, SheetOptions } from '../../src/core/deliver/types.ts'
import type { Point } from '../../src/core/geom/types.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import { sheetFontsRead } from '../../src/engine/fonts.node.ts'
import { pdfFromSheets } from '../../src/formats/pdf.ts'
import { pdfRead } from '../support/pdfPages.ts'
import { pdfRaster, type LaidPage, type Picture, type Raster } from '../support/pdfPixels.ts'
import { aPaper } from '../support/paper.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../support/plans.ts'
import { crossesOf, type ReadSheet } from '../support/sheetProof.ts'
import { journeysBrowser } from '../support/journeysBrowser.ts'

const browser = await journeysBrowser()

/** 200 dots to the inch, nearly: a rail head of HO is eight of them wide. */
const PX_PER_MM = 8
/** What has to go on over the edge: heads of the rails. Dashes begin anew on each page, and words stand where there is room. */
const RAILS = 'Head of the rails, with the gauge line'

type Tiling = NonNullable<SheetOptions['tiling']>

interface Printed extends ReadSheet {
  /** Of its page in the PDF, from 1. */
  readonly number: number
  /** Middles of its match crosses: on the page from above in dots, and in the plan to know which are the same. */
  readonly crosses: readonly { readonly dot: Point; readonly plan: Point }[]
}

const bent = aTrack({
  corners: [aCorner({ x: 1200, y: 0, radius: 762, easementIn: 381, easementOut: 304.8 })],
  end: { kind: 'free', x: 1800, y: 1100 },
})

interface Print {
  readonly pages: readonly Printed[]
  readonly raster: Raster
}

const prints = new Map<string, Promise<Print>>()

/** Each print is made and opened once, whatever is looked for in it. */
function print(kind: 'turnout' | 'track', tiling: Tiling): Promise<Print> {
  const name = `${kind} in tiles of a ${tiling}`
  const made = prints.get(name) ?? printMade(kind, tiling)
  prints.set(name, made)
  return made
}

async function printMade(kind: 'turnout' | 'track', tiling: Tiling): Promise<Print> {
  const plan = planWith({ tracks: [bent], turnouts: [aTurnout({ stationMm: 300, frog: 9 })] })
  const set = sheetsForSubject(pipelineCreate().derive(plan), kind === 'turnout' ? { kind, id: 'turnout-1' } : { kind, id: 'track-1' }, {
    paper: aPaper('letter'),
    marginMm: 10,
    overlapMm: 14,
    calibrationX: 1,
    calibrationY: 1,
    units: 'imperial',
    date: '2026-11-26',
    tiling,
  })
  const bytes = await pdfFromSheets(set, await sheetFontsRead())
  const { pages } = await pdfRead(bytes)
  const printed = set.sheets.flatMap((sheet, i): readonly Printed[] => {
    const page = pages[i]
    if (sheet.kind !== 'full-size' || !page) return []
    const middles = page.paths
      .filter(({ role }) => role === 'match')
      .map(({ start, segments }) => ({ x: (start.x + (segments.at(-1)?.to.x ?? 0)) / 2, y: (start.y + (segments.at(-1)?.to.y ?? 0)) / 2 }))
    const dots = middles
      .filter((p, k) => middles.findIndex((q) => Math.hypot(p.x - q.x, p.y - q.y) < 0.5) === k)
      .map((p) => dotOf(sheet, p))
    const inPlan = crossesOf({ sheet, page })
    expect(inPlan).toHaveLength(dots.length)
    return [{ sheet, page, number: i + 1, crosses: dots.flatMap((dot, k) => (inPlan[k] ? [{ dot, plan: inPlan[k] }] : [])) }]
  })
  return { pages: printed, raster: await pdfRaster(browser, bytes, PX_PER_MM) }
}

function dotOf({ paper }: Sheet, { x, y }: Point): Point {
  return { x: x * PX_PER_MM, y: (paper.heightMm - y) * PX_PER_MM }
}

/** A page laid on another one so that two crosses meet; the scale is left alone: paper does not stretch. */
interface Laid {
  readonly a: Printed
  readonly b: Printed
  readonly turnRad: number
  readonly x: number
  readonly y: number
}

function laidAtMarks(a: Printed, b: Printed): Laid | null {
  const pairs = a.crosses.flatMap((one) => {
    const other = b.crosses.find(({ plan }) => Math.hypot(plan.x - one.plan.x, plan.y - one.plan.y) < 0.02)
    return other ? [{ onA: one.dot, onB: other.dot }] : []
  })
  const [first, second] = pairs
  if (!first || !second) return null
  const across = (p: Point, q: Point): { readonly length: number; readonly rad: number } => ({
    length: Math.hypot(q.x - p.x, q.y - p.y),
    rad: Math.atan2(q.y - p.y, q.x - p.x),
  })
  const [onA, onB] = [across(first.onA, second.onA), across(first.onB, second.onB)]
  expect(Math.abs(onA.length - onB.length) / PX_PER_MM).toBeLessThan(0.02)
  const turnRad = onA.rad - onB.rad
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)]
  return {
    a,
    b,
    turnRad,
    x: first.onA.x - (cos * first.onB.x - sin * first.onB.y),
    y: first.onA.y - (sin * first.onB.x + cos * first.onB.y),
  }
}

/** Dots of A's page that lie well inside of both windows. */
function sharedDots({ a, b, turnRad, x, y }: Laid): { readonly from: Point; readonly to: Point; readonly isShared: (p: Point) => boolean } {
  const rim = 3
  const inside = ({ sheet: { window, paper } }: Printed, p: Point): boolean =>
    p.x > window.minX * PX_PER_MM + rim &&
    p.x < window.maxX * PX_PER_MM - rim &&
    p.y > (paper.heightMm - window.maxY) * PX_PER_MM + rim &&
    p.y < (paper.heightMm - window.minY) * PX_PER_MM - rim
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)]
  const isShared = (p: Point): boolean => {
    const [dx, dy] = [p.x - x, p.y - y]
    return inside(a, p) && inside(b, { x: cos * dx + sin * dy, y: cos * dy - sin * dx })
  }
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity]
  const { widthMm, heightMm } = a.sheet.paper
  for (let px = 0; px < widthMm * PX_PER_MM; px += 4) {
    for (let py = 0; py < heightMm * PX_PER_MM; py += 4) {
      if (!isShared({ x: px, y: py })) continue
      ;[minX, minY, maxX, maxY] = [Math.min(minX, px), Math.min(minY, py), Math.max(maxX, px), Math.max(maxY, py)]
    }
  }
  return { from: { x: minX, y: minY }, to: { x: maxX, y: maxY }, isShared }
}

interface Met {
  /** Dark dots of both pages in what they share. */
  readonly dark: number
  /** Those that the other page has none within a dot of. */
  readonly alone: number
}

async function overlaid(raster: Raster, laid: Laid, layer: string, shiftMm = 0): Promise<Met> {
  const { from, to, isShared } = sharedDots(laid)
  const [width, height] = [to.x - from.x + 1, to.y - from.y + 1]
  const shift = shiftMm * PX_PER_MM
  const onA: LaidPage = { page: laid.a.number, turnRad: 0, x: -from.x, y: -from.y }
  const onB: LaidPage = { page: laid.b.number, turnRad: laid.turnRad, x: laid.x - from.x + shift, y: laid.y - from.y + shift }
  const [one, other] = [await raster.picture(onA, width, height, [layer]), await raster.picture(onB, width, height, [layer])]
  const met = (p: Picture, q: Picture): Met => {
    let [dark, alone] = [0, 0]
    for (let y = 1; y < height - 1; y++) {
      for (let x = 1; x < width - 1; x++) {
        if (p.dark[y * width + x] !== 1 || !isShared({ x: x + from.x, y: y + from.y })) continue
        dark++
        let isMet = false
        for (let dy = -1; dy <= 1; dy++) for (let dx = -1; dx <= 1; dx++) isMet ||= q.dark[(y + dy) * width + x + dx] === 1
        if (!isMet) alone++
      }
    }
    return { dark, alone }
  }
  const [forth, back] = [met(one, other), met(other, one)]
  return { dark: forth.dark + back.dark, alone: forth.alone + back.alone }
}

describe('neighbouring pages of a PDF as pictures, laid on each other at their match marks', () => {
  it.each([
    ['turnout', 'grid'],
    ['track', 'grid'],
    ['track', 'line'],
  ] as const)('of a %s in tiles of a %s: rails go on', async (kind, tiling) => {
    const { pages, raster } = await print(kind, tiling)
    expect(raster.layers).toContain(RAILS)
    const joined = pages.flatMap((a, i) => pages.slice(i + 1).flatMap((b) => laidAtMarks(a, b) ?? []))
    expect(joined.length).toBeGreaterThanOrEqual(pages.length - 1)
    let rails = 0
    for (const laid of joined.slice(0, 2)) {
      const names = `${laid.a.sheet.name} on ${laid.b.sheet.name}`
      const { dark, alone } = await overlaid(raster, laid, RAILS)
      rails += dark
      expect(alone, `${names}: of ${dark} dark dots`).toBeLessThanOrEqual(0.003 * dark)
    }
    expect(rails).toBeGreaterThan(1000)
  })

  it('sees a page that lies a third of a millimetre off its marks', async () => {
    const { pages, raster } = await print('track', 'line')
    const [a, b] = pages
    const laid = a && b ? laidAtMarks(a, b) : null
    if (laid === null) throw new Error('no neighbours')
    const { dark, alone } = await overlaid(raster, laid, RAILS, 0.25)
    expect(alone).toBeGreaterThan(0.02 * dark)
  })
})
