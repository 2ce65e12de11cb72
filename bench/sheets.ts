import { readFileSync } from 'node:fs'
import { deflateSync } from 'node:zlib'
import { PDFDocument } from '@cantoo/pdf-lib'
import { sheetsForSubject, USUAL_MARGIN_MM, USUAL_OVERLAP_MM } from '../src/core/deliver/index.ts'
import type { Paper, Sheet, SheetOptions, SheetSet, SheetSubject, StrokeItem } from '../src/core/deliver/index.ts'
import { pathOffsetPoint, pointDistance, type Point } from '../src/core/geom/index.ts'
import { pipelineCreate } from '../src/core/pipeline/index.ts'
import type { Derived } from '../src/core/pipeline/index.ts'
import { paperByName } from '../src/core/standards/index.ts'
import { tieCorners } from '../src/core/track/index.ts'
import { sheetFontsRead } from '../src/engine/fonts.node.ts'
import { pdfFromSheets } from '../src/formats/pdf.ts'
import { planRead } from '../src/formats/planjson.ts'
import { median, type BenchRow, type BenchTable } from './report.ts'

const pages = 100
const segments = 2000
const perStroke = 20
const timeTarget = 0.5
const bytesTarget = 1.1
const sheetsTarget = 1.25

/** Time and bytes of the PDF writer, and sheets used beside the least that could do. */
export async function benchSheets(): Promise<BenchTable> {
  const set = manySegments()
  const fonts = await sheetFontsRead()
  const ours = await secondsOf(() => pdfFromSheets(set, fonts), 3)
  const theirs = await secondsOf(() => oneByOne(set), 1)
  const bytes = (await pdfFromSheets(set, fonts)).length
  const byHand = handWritten(set)
  const [time, size] = [ours / theirs, bytes / byHand]
  const used = ['letter', 'a4'].map(sheetsUsed)
  return {
    title: 'Bench sheets',
    target: `${pages} pages of ${segments} segments in at most ${timeTarget} of the time of the PDF library's own drawing calls, at most ${bytesTarget} times the bytes of content streams written by hand; sheets of the demo's tracks and turnouts together at most ${sheetsTarget} times the least that could do`,
    isMet: time <= timeTarget && size <= bytesTarget && used.every(({ ratio }) => ratio <= sheetsTarget),
    rows: [
      {
        what: `${pages} pages of ${segments} segments`,
        figure: `${ours.toFixed(2)} s`,
        note: `${time.toFixed(2)} of the ${theirs.toFixed(2)} s that the library's drawing calls take, segment by segment`,
      },
      {
        what: 'bytes of that PDF',
        figure: `${(bytes / 1e6).toFixed(2)} MB`,
        note: `${size.toFixed(3)} of streams written by hand and compressed at the highest level`,
      },
      ...used.map(({ row }) => row),
    ],
  }
}

/** Lines and curves in turn, in strokes of twenty, as rails and ties mix. */
function manySegments(): SheetSet {
  const paper: Paper = { name: 'Letter', widthMm: 215.9, heightMm: 279.4 }
  const place = (n: number): Point => ({ x: 20 + ((n * 7.31) % 170), y: 45 + ((n * 3.17 + 11 * Math.sin(n)) % 220) })
  const stroke = (n: number): StrokeItem => {
    const ends = Array.from({ length: perStroke }, (_, i) => place(n * perStroke + i + 1))
    return {
      kind: 'stroke',
      layer: 'rail-head',
      role: 'rail-gauge',
      start: place(n * perStroke),
      segments: ends.map((to, i) => (i % 2 === 0 ? { kind: 'line', to } : { kind: 'cubic', c1: place(n + i), c2: place(n + 2 * i), to })),
      isClosed: false,
      fill: null,
    }
  }
  const sheets = Array.from(
    { length: pages },
    (_, page): Sheet => ({
      kind: 'full-size',
      name: String(page + 1),
      title: 'Segments',
      paper,
      window: { minX: 20, minY: 40, maxX: 210, maxY: 273 },
      toPage: { planOrigin: { x: 0, y: 0 }, angleRad: 0, pageOrigin: { x: 20, y: 40 }, scaleX: 1, scaleY: 1 },
      items: Array.from({ length: segments / perStroke }, (_, i) => stroke((page * segments) / perStroke + i)),
    }),
  )
  return { title: 'Segments', sheets, problems: [] }
}

async function secondsOf(run: () => Promise<unknown>, rounds: number): Promise<number> {
  await run()
  const times: number[] = []
  for (let round = 0; round < rounds; round++) {
    const from = performance.now()
    await run()
    times.push((performance.now() - from) / 1000)
  }
  return median(times.toSorted((a, b) => a - b))
}

/** The same segments through the library's calls: a line each, and a path each for curves. */
async function oneByOne(set: SheetSet): Promise<Uint8Array> {
  const doc = await PDFDocument.create({ updateMetadata: false })
  const u = (mm: number): number => (mm * 72) / 25.4
  for (const sheet of set.sheets) {
    const page = doc.addPage([u(sheet.paper.widthMm), u(sheet.paper.heightMm)])
    for (const item of sheet.items) {
      if (item.kind !== 'stroke') continue
      let from = item.start
      for (const segment of item.segments) {
        if (segment.kind === 'line') {
          page.drawLine({ start: { x: u(from.x), y: u(from.y) }, end: { x: u(segment.to.x), y: u(segment.to.y) }, thickness: u(0.1) })
        } else {
          // Paths of the library run downwards from where they stand.
          const at = (p: Point): string => `${u(p.x)} ${-u(p.y)}`
          page.drawSvgPath(`M ${at(from)} C ${at(segment.c1)} ${at(segment.c2)} ${at(segment.to)}`, { x: 0, y: 0, borderWidth: u(0.1) })
        }
        from = segment.to
      }
    }
  }
  return doc.save()
}

/** Bytes of the plainest PDF that holds the same drawing to the same five places: one stream a page, deflated, and its objects. */
function handWritten(set: SheetSet): number {
  const n = (value: number): string => String(Number(value.toFixed(5)))
  const at = (p: Point): string => `${n(p.x)} ${n(p.y)}`
  const object = '1 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Contents 3 0 R/Resources<<>>>>endobj\n'
  let bytes = 200
  for (const { items } of set.sheets) {
    const lines = ['2.834645669291 0 0 2.834645669291 0 0 cm', '0.1 w']
    for (const item of items) {
      if (item.kind !== 'stroke') continue
      const path = item.segments.map((s) => (s.kind === 'line' ? `${at(s.to)} l` : `${at(s.c1)} ${at(s.c2)} ${at(s.to)} c`))
      lines.push(`${at(item.start)} m ${path.join(' ')} S`)
    }
    // Page and stream each have an object and a line of 20 bytes in the table of objects.
    bytes += deflateSync(lines.join('\n'), { level: 9 }).length + object.length + 60 + 40
  }
  return bytes
}

interface Used {
  readonly row: BenchRow
  readonly ratio: number
}

/** Sheets of all tracks and turnouts of the demo, each printed alone. */
function sheetsUsed(paperName: string): Used {
  const read = planRead(readFileSync('public/demo/fennimore.json', 'utf8'))
  const paper = paperByName(paperName)
  if (!read.ok || paper === null) throw new Error('the demo or its paper is not there')
  const derived = pipelineCreate().derive(read.plan)
  const options: SheetOptions = {
    paper,
    marginMm: USUAL_MARGIN_MM,
    overlapMm: USUAL_OVERLAP_MM,
    calibrationX: 1,
    calibrationY: 1,
    units: 'metric',
    date: '',
  }
  const subjects: readonly SheetSubject[] = [
    ...[...derived.network.tracks.keys()].map((id): SheetSubject => ({ kind: 'track', id })),
    ...[...derived.network.turnouts.keys()].map((id): SheetSubject => ({ kind: 'turnout', id })),
  ]
  let [all, least, rowsCount, over] = [0, 0, 0, 0]
  let worst = 0
  for (const subject of subjects) {
    const count = (tiling: 'fewest' | 'grid'): readonly Sheet[] =>
      sheetsForSubject(derived, subject, { ...options, tiling }).sheets.filter(({ kind }) => kind === 'full-size')
    const sheets = count('fewest')
    const bound = leastSheets(pointsOf(derived, subject), bandAreaMm2(derived, subject), paper)
    all += sheets.length
    least += bound
    rowsCount += count('grid').length
    worst = Math.max(worst, sheets.length / bound)
    if (sheets.length > sheetsTarget * bound) over++
  }
  const ratio = all / least
  return {
    ratio,
    row: {
      what: `sheets of ${subjects.length} tracks and turnouts, ${paper.name}`,
      figure: `${all}`,
      note: `${ratio.toFixed(2)} of the bound of ${least} (points farther apart than the printable diagonal, or area); ${rowsCount} in rows; ${over} of them alone over ${sheetsTarget}, at worst ${worst.toFixed(2)}: there a single sheet decides`,
    },
  }
}

/**
 * Sheets that no way of laying can do without: the area over the printable one, or places so far apart that no two of them
 * fit on a sheet, whichever is more. For a straight that is its length over the printable diagonal; a bent line is not
 * let off for ending near where it began.
 */
function leastSheets(points: readonly Point[], areaMm2: number, paper: Paper): number {
  const sides = [
    [paper.widthMm, paper.heightMm],
    [paper.heightMm, paper.widthMm],
  ].map(([w = 0, h = 0]) => ({ w: w - 2 * USUAL_MARGIN_MM - 14, h: h - 2 * USUAL_MARGIN_MM - 30 }))
  const diagonal = Math.max(...sides.map(({ w, h }) => Math.hypot(w, h)))
  const area = Math.max(...sides.map(({ w, h }) => w * h))
  const apart: Point[] = []
  for (const p of points) if (apart.every((q) => pointDistance(p, q) > diagonal)) apart.push(p)
  return Math.max(apart.length, Math.ceil(areaMm2 / area))
}

/** Places of a subject in order along it. */
function pointsOf(derived: Derived, subject: SheetSubject): readonly Point[] {
  if (subject.kind === 'track') {
    const alignment = derived.network.tracks.get(subject.id)?.alignment
    if (!alignment?.ok) return []
    const { path } = alignment
    const count = Math.ceil(path.lengthMm)
    return Array.from({ length: count + 1 }, (_, i) => pathOffsetPoint(path, (path.lengthMm * i) / count, 0))
  }
  if (subject.kind !== 'turnout') return []
  return (derived.trackwork.turnouts.get(subject.id)?.ties ?? []).flatMap((tie) => tieCorners(tie))
}

function bandAreaMm2(derived: Derived, subject: SheetSubject): number {
  if (subject.kind !== 'track') return 0
  const track = derived.network.tracks.get(subject.id)
  return track?.alignment.ok ? track.alignment.path.lengthMm * track.railway.tieLengthMm : 0
}
