import { PDFDocument } from '@cantoo/pdf-lib'
import { beforeAll, describe, expect, it } from 'vitest'
import { sheetLayers, sheetsForSubject, textLayer } from '../../../src/core/deliver/index.ts'
import type { DrawItem, LayerName, SheetOptions, SheetSet, SheetSubject } from '../../../src/core/deliver/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Derived } from '../../../src/core/pipeline/index.ts'
import { planEmpty } from '../../../src/core/plan/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import type { Rail } from '../../../src/core/track/index.ts'
import { sheetFontsRead } from '../../../src/engine/fonts.node.ts'
import { pdfFromSheets, type SheetFonts } from '../../../src/formats/pdf.ts'
import { pdfRead, type PdfContent } from '../../support/pdfPages.ts'
import { aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'
import { crossesOf, worstCoverage, worstRailError, type ReadSheet } from '../../support/sheetProof.ts'
import { aPaper } from '../../support/paper.ts'

// What a sheet promises: a rail line within 0.02 mm, a tenth of the thinnest scribed line.
const PROMISE_MM = 0.02
// pdf.js hands out 32-bit numbers: 3e-5 mm at the far end of a page, twice that for a difference.
const READER_MM = 1e-4

const titleOf = (layer: LayerName): string => sheetLayers.find(({ name }) => name === layer)?.title ?? 'no such layer'

const options: SheetOptions = {
  paper: aPaper('letter'),
  marginMm: 10,
  overlapMm: 12,
  calibrationX: 1,
  calibrationY: 1,
  units: 'imperial',
  date: '2026-11-25',
}

/** A straight of 900 mm through the origin, turned. */
function straightAt(degrees: number) {
  const [x, y] = [900 * Math.cos((degrees * Math.PI) / 180), 900 * Math.sin((degrees * Math.PI) / 180)]
  return aTrack({ end: { kind: 'free', x, y } })
}

const turnout = aTurnout({ stationMm: 300 })
const curved = aTrack({
  corners: [aCorner({ x: 1200, y: 0, radius: 762, easementIn: 381, easementOut: 304.8 })],
  end: { kind: 'free', x: 1800, y: 1100 },
})
const planN: Plan = { ...(planEmpty('N') ?? planEmpty()), tracks: { 'track-1': straightAt(0) }, turnouts: { 'turnout-1': turnout } }

interface Case {
  readonly name: string
  readonly plan: Plan
  readonly subject: SheetSubject
  readonly options: SheetOptions
  /** The paper lies across: fewer sheets than upright. */
  readonly isTurned?: true
}

const cases: readonly Case[] = [
  {
    name: 'HO No. 8 left on Letter',
    plan: planWith({ tracks: [straightAt(0)], turnouts: [{ ...turnout, frog: 8 }] }),
    subject: { kind: 'turnout', id: 'turnout-1' },
    options,
  },
  {
    name: 'HO No. 6 left on Letter across',
    plan: planWith({ tracks: [straightAt(0)], turnouts: [turnout] }),
    subject: { kind: 'turnout', id: 'turnout-1' },
    options,
    isTurned: true,
  },
  {
    name: 'HO No. 9 right with curved points, falling, on a track at 37 degrees, A4, metric',
    plan: planWith({
      tracks: [straightAt(37)],
      turnouts: [aTurnout({ stationMm: 600, facing: 'falling', hand: 'right', frog: 9, build: { ...turnout.build, points: 'curved' } })],
    }),
    subject: { kind: 'turnout', id: 'turnout-1' },
    options: { ...options, paper: aPaper('a4'), units: 'metric' },
  },
  { name: 'N No. 6 on A4', plan: planN, subject: { kind: 'turnout', id: 'turnout-1' }, options: { ...options, paper: aPaper('a4') } },
  {
    name: 'curve with unequal easements on Letter',
    plan: planWith({ tracks: [curved] }),
    subject: { kind: 'curve', track: 'track-1', corner: 'pi-1' },
    options,
  },
  {
    name: 'the same curve for a printer that is not true',
    plan: planWith({ tracks: [curved] }),
    subject: { kind: 'curve', track: 'track-1', corner: 'pi-1' },
    options: { ...options, paper: aPaper('a4'), calibrationX: 0.996, calibrationY: 1.003 },
  },
]

let fonts: SheetFonts
beforeAll(async () => {
  fonts = await sheetFontsRead()
})

interface Printed {
  readonly derived: Derived
  readonly set: SheetSet
  readonly pdf: PdfContent
  readonly bytes: Uint8Array
  readonly full: readonly ReadSheet[]
}

async function printed({ plan, subject, options: chosen }: Case): Promise<Printed> {
  const derived = pipelineCreate().derive(plan)
  const set = sheetsForSubject(derived, subject, chosen)
  expect(set.problems).toEqual([])
  return { derived, set, ...(await readBack(set)) }
}

async function readBack(set: SheetSet): Promise<Pick<Printed, 'pdf' | 'bytes' | 'full'>> {
  const bytes = await pdfFromSheets(set, fonts)
  const pdf = await pdfRead(bytes)
  const full = set.sheets.flatMap((sheet, i) => {
    const page = pdf.pages[i]
    return sheet.kind === 'full-size' && page ? [{ sheet, page }] : []
  })
  return { pdf, bytes, full }
}

function allRails(derived: Derived): readonly Rail[] {
  return [...derived.trackwork.tracks.values(), ...derived.trackwork.turnouts.values()].flatMap((work) => work.rails)
}

/** Rails that the sheets must show: a turnout's own, or those of the curve between its ends. */
function subjectRails(derived: Derived, subject: SheetSubject): readonly Rail[] {
  if (subject.kind === 'turnout') return derived.trackwork.turnouts.get(subject.id)?.rails ?? []
  const track = derived.network.tracks.get('track-1')
  const corner = track?.alignment.ok ? track.alignment.corners[0] : undefined
  if (!corner) return []
  return allRails(derived).map((rail) => ({
    ...rail,
    gaugeLine: { ...rail.gaugeLine, fromMm: corner.tsMm - 100, toMm: corner.stMm + 100 },
  }))
}

describe.each(cases)('PDF sheets of $name', (one) => {
  let p: Printed
  beforeAll(async () => {
    p = await printed(one)
  })

  it('have every rail line within 0.02 mm of the computed rail', () => {
    const { worstMm, points } = worstRailError(p.full, allRails(p.derived))
    expect(points).toBeGreaterThan(500)
    expect(worstMm).toBeLessThan(PROMISE_MM)
  })

  it('leave no part of the rails out', () => {
    const rails = subjectRails(p.derived, one.subject)
    expect(rails.length).toBeGreaterThan(1)
    expect(worstCoverage(p.full, rails)).toBeLessThan(PROMISE_MM)
  })

  it('carry each match cross at the same plan point on two sheets or more', () => {
    const crosses = p.full.map(crossesOf)
    expect(p.full.length === 1).toBe(['N No. 6 on A4', 'HO No. 6 left on Letter across'].includes(one.name))
    if (p.full.length === 1) {
      expect(crosses).toEqual([[]])
      return
    }
    for (const [i, own] of crosses.entries()) {
      expect(own.length).toBeGreaterThanOrEqual(2)
      for (const cross of own) {
        const elsewhere = crosses.filter((_, k) => k !== i).flat()
        const nearest = Math.min(...elsewhere.map((q) => Math.hypot(q.x - cross.x, q.y - cross.y)))
        expect(nearest).toBeLessThan(PROMISE_MM)
      }
    }
  })

  it('have bars of 100 mm and 4 in along both axes on every page, as long as the printer needs', () => {
    const measured = [one.options.calibrationX, one.options.calibrationY]
    const [calibrationX = NaN, calibrationY = NaN] = one.isTurned ? measured.toReversed() : measured
    for (const page of p.pdf.pages) {
      const bars = page.paths
        .filter((path) => path.role === 'scale-bar')
        .map((path) => {
          const to = path.segments.at(-1)?.to ?? path.start
          return { dx: Math.abs(to.x - path.start.x), dy: Math.abs(to.y - path.start.y) }
        })
      const across = bars.filter((bar) => bar.dy < READER_MM).map((bar) => bar.dx * calibrationX)
      const up = bars.filter((bar) => bar.dx < READER_MM).map((bar) => bar.dy * calibrationY)
      for (const lengths of [across, up]) {
        expect(lengths).toHaveLength(2)
        const [short = 0, long = 0] = lengths.toSorted((a, b) => a - b)
        expect(Math.abs(short - 100)).toBeLessThan(READER_MM)
        expect(Math.abs(long - 101.6)).toBeLessThan(READER_MM)
      }
    }
  })

  it('have page boxes of the size of the paper', async () => {
    const { paper: given } = one.options
    const paper = one.isTurned ? { widthMm: given.heightMm, heightMm: given.widthMm } : given
    for (const page of p.pdf.pages) {
      expect(Math.abs(page.widthMm - paper.widthMm)).toBeLessThan(READER_MM)
      expect(Math.abs(page.heightMm - paper.heightMm)).toBeLessThan(READER_MM)
    }
    // pdf.js tells the crop box only; the other boxes through the writing library's own reader.
    const doc = await PDFDocument.load(p.bytes, { updateMetadata: false })
    for (const page of doc.getPages()) {
      for (const box of [page.getMediaBox(), page.getTrimBox(), page.getCropBox()]) {
        expect((box.width * 25.4) / 72).toBeCloseTo(paper.widthMm, 4)
        expect((box.height * 25.4) / 72).toBeCloseTo(paper.heightMm, 4)
      }
    }
  })

  it('clip every layer of the plan to the window, and nothing else', () => {
    for (const { sheet, page } of p.full) {
      for (const [layer, corners] of page.clips) {
        expect(layer).not.toBe(titleOf('sheet'))
        expect(Math.abs(Math.min(...corners.map((c) => c.x)) - sheet.window.minX)).toBeLessThan(READER_MM)
        expect(Math.abs(Math.max(...corners.map((c) => c.y)) - sheet.window.maxY)).toBeLessThan(READER_MM)
      }
      for (const layer of ['rail-head', 'rail-foot', 'ties'] as const) expect([...page.clips.keys()]).toContain(titleOf(layer))
    }
  })

  it('name their layers and ask not to be scaled', () => {
    const drawn = new Set(p.set.sheets.flatMap(({ items }) => items.map(({ layer }) => titleOf(layer))))
    expect(drawn.size).toBeGreaterThan(6)
    expect(p.pdf.layers.toSorted()).toEqual([...drawn, textLayer.title].toSorted())
    expect(p.pdf.printScaling).toBe('None')
    for (const { page } of p.full) {
      for (const path of page.paths) {
        if (path.role.startsWith('rail-')) expect(path.layer).toBe(titleOf(path.role === 'rail-foot' ? 'rail-foot' : 'rail-head'))
      }
    }
    // Words go with their own layer and with all words; nothing else is bound to two.
    const both = p.full.flatMap(({ page }) => page.together.filter((names) => names.length > 1))
    expect(both.length).toBeGreaterThan(0)
    for (const names of both) expect(names).toEqual([names[0], textLayer.title])
  })

  it('are the same bytes when made twice', async () => {
    const again = await pdfFromSheets(sheetsForSubject(pipelineCreate().derive(one.plan), one.subject, one.options), fonts)
    expect(Buffer.compare(Buffer.from(again), Buffer.from(p.bytes))).toBe(0)
  })

  it('say what they are', () => {
    for (const [i, page] of p.pdf.pages.entries()) {
      const text = page.texts.join(' ')
      expect(text).toContain(p.set.sheets[i]?.name)
      expect(text).toContain('100 %')
      expect(text).toContain(one.options.date)
      expect(text).toContain(one.plan.railway.title)
    }
    const all = p.pdf.pages.flatMap((page) => page.texts).join(' ')
    if (one.options.units === 'imperial') expect(all).toMatch(/[½¼¾⅛⅜⅝⅞]|[⁰-⁹¹²³]⁄[₀-₉]/)
    if (one.subject.kind === 'curve') for (const mark of ['TS', 'SC', 'CS', 'ST']) expect(all).toMatch(new RegExp(`\\b${mark} `))
    else
      for (const mark of ['PS', 'Heel', 'PF', one.options.units === 'metric' ? 'Actual point' : '½″ point', 'Throw hole'])
        expect(all).toContain(mark)
  })
})

describe('the proof itself', () => {
  const [first] = cases
  if (!first) throw new Error('no case')

  it('sees a gauge line that is 0.1 mm off', async () => {
    const { derived, set } = await printed(first)
    const falsified = { ...set, sheets: set.sheets.map((sheet) => ({ ...sheet, items: sheet.items.map(moved) })) }
    const { worstMm } = worstRailError((await readBack(falsified)).full, allRails(derived))
    expect(worstMm).toBeGreaterThan(0.09)
    expect(worstMm).toBeLessThan(0.11)
  })

  it('sees that a sheet is missing', async () => {
    const { derived, full } = await printed(first)
    expect(worstCoverage(full.slice(1), subjectRails(derived, first.subject))).toBeGreaterThan(10)
  })

  it('sees match marks that do not meet', async () => {
    const { full } = await printed(first)
    const [a, b] = full
    if (!a || !b) throw new Error('two sheets expected')
    const shifted = {
      ...b,
      sheet: {
        ...b.sheet,
        toPage: { ...b.sheet.toPage, planOrigin: { x: b.sheet.toPage.planOrigin.x + 0.05, y: b.sheet.toPage.planOrigin.y } },
      },
    }
    const [cross] = crossesOf(a)
    const distances = crossesOf(shifted).map((q) => Math.hypot(q.x - (cross?.x ?? 0), q.y - (cross?.y ?? 0)))
    expect(Math.min(...distances)).toBeGreaterThan(PROMISE_MM)
  })
})

/** Every gauge line 0.1 mm up the page. */
function moved(item: DrawItem): DrawItem {
  if (item.kind !== 'stroke' || item.role !== 'rail-gauge') return item
  const up = <P extends { readonly x: number; readonly y: number }>(p: P) => ({ x: p.x, y: p.y + 0.1 })
  return {
    ...item,
    start: up(item.start),
    segments: item.segments.map((segment) =>
      segment.kind === 'line'
        ? { kind: 'line', to: up(segment.to) }
        : { kind: 'cubic', c1: up(segment.c1), c2: up(segment.c2), to: up(segment.to) },
    ),
  }
}
