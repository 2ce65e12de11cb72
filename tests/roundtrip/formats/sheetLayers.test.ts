import { describe, expect, it } from 'vitest'
import { layerChoices, lookUsual, sheetLayers, sheetsForSubject } from '../../../src/core/deliver/index.ts'
import type { LayerName, SheetOptions, SheetSubject } from '../../../src/core/deliver/index.ts'
import type { Point } from '../../../src/core/geom/index.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Derived } from '../../../src/core/pipeline/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { railsCreateDeriver } from '../../../src/core/rails/index.ts'
import { wiringOf } from '../../../src/core/turnout/index.ts'
import { sheetFontsRead } from '../../../src/engine/fonts.node.ts'
import { pdfFromSheets } from '../../../src/formats/pdf.ts'
import { pdfPathPoints, pdfRead } from '../../support/pdfPages.ts'
import { aPaper } from '../../support/paper.ts'
import { aBenchwork, aCorner, aTrack, aTurnout, planWith } from '../../support/plans.ts'
import { pageToPlanByHand } from '../../support/sheetProof.ts'

// What a sheet promises.
const PROMISE_MM = 0.02

const options: SheetOptions = {
  paper: { name: 'Roll', widthMm: 900, heightMm: 1500, isRoll: true },
  marginMm: 10,
  overlapMm: 12,
  calibrationX: 1,
  calibrationY: 1,
  units: 'metric',
  date: '2026-11-26',
  look: { ...lookUsual, without: [] },
}

interface Printed {
  readonly derived: Derived
  /** Paths of a layer in plan mm, as an independent reader finds them: corners, and points all along. */
  readonly of: (
    layer: LayerName,
  ) => readonly { readonly role: string; readonly corners: readonly Point[]; readonly points: readonly Point[] }[]
  readonly words: readonly string[]
}

async function printed(plan: Plan, subject: SheetSubject, change: Partial<SheetOptions> = {}): Promise<Printed> {
  const derived = pipelineCreate().derive(plan)
  const set = sheetsForSubject(derived, subject, { ...options, ...change })
  expect(set.problems).toEqual([])
  const { pages } = await pdfRead(await pdfFromSheets(set, await sheetFontsRead()))
  const full = set.sheets.flatMap((sheet, i) => {
    const page = pages[i]
    return sheet.kind === 'full-size' && page ? [{ sheet, page }] : []
  })
  return {
    derived,
    words: full.flatMap(({ page }) => page.texts),
    of: (layer) => {
      const title = sheetLayers.find(({ name }) => name === layer)?.title
      return full.flatMap(({ sheet, page }) =>
        page.paths
          .filter((path) => path.layer === title)
          .map((path) => ({
            role: path.role,
            corners: [path.start, ...path.segments.map(({ to }) => to)].map((p) => pageToPlanByHand(sheet, p)),
            points: pdfPathPoints(path).map((p) => pageToPlanByHand(sheet, p)),
          })),
      )
    },
  }
}

/** A bend of one arc: the tangents are the x axis and a line that leaves it at 45 degrees. */
const radius = 600
const bend = aTrack({
  corners: [aCorner({ x: 700, y: 0, radius, easementIn: 0, easementOut: 0 })],
  end: { kind: 'free', x: 1200, y: 500 },
})
const tangentMm = radius * Math.tan(Math.PI / 8)
const centre: Point = { x: 700 - tangentMm, y: radius }
const fromCentre = (p: Point): number => Math.hypot(p.x - centre.x, p.y - centre.y)
/** On the arc itself, clear of both tangents. */
const isOnArc = (p: Point): boolean => {
  const turned = Math.atan2(p.x - centre.x, centre.y - p.y)
  return turned > 0.02 && turned < Math.PI / 4 - 0.02
}

describe('layers of a plain bend, read back', async () => {
  const plan = planWith({ tracks: [bend], benchworks: [aBenchwork()] })
  const joist = { id: 'joist-1', name: 'Rib', from: { x: 300, y: -200 }, to: { x: 380, y: 400 }, widthMm: 18 }
  const p = await printed({ ...plan, joists: { 'joist-1': joist } }, { kind: 'track', id: 'track-1' })
  const { railway, lineClasses } = p.derived.plan

  it('lines along the tie ends lie half a tie from the centreline', () => {
    const points = p.of('tie-ends').flatMap((line) => line.points.filter(isOnArc))
    expect(points.length).toBeGreaterThan(100)
    for (const point of points) expect(Math.abs(Math.abs(fromCentre(point) - radius) - railway.tieLengthMm / 2)).toBeLessThan(PROMISE_MM)
  })

  it('edges of the roadbed lie at its top and its foot', () => {
    const roadbed = Object.values(lineClasses).find(({ id }) => id === bend.lineClass)?.roadbed
    if (!roadbed) throw new Error('the class has no roadbed')
    const top = roadbed.topWidthMm / 2
    const foot = top + roadbed.shoulderRun * roadbed.thicknessMm
    const offs = p.of('roadbed').flatMap((line) => line.points.filter(isOnArc).map((point) => fromCentre(point) - radius))
    for (const edge of [top, foot, -top, -foot]) expect(offs.filter((off) => Math.abs(off - edge) < PROMISE_MM).length).toBeGreaterThan(20)
    for (const off of offs) expect(Math.min(Math.abs(Math.abs(off) - top), Math.abs(Math.abs(off) - foot))).toBeLessThan(PROMISE_MM)
  })

  it('joists have their width and their ends', () => {
    const [ring, ...more] = p.of('joists')
    expect(more).toEqual([])
    const [dx, dy] = [joist.to.x - joist.from.x, joist.to.y - joist.from.y]
    const length = Math.hypot(dx, dy)
    const seen = ring?.corners.map(({ x, y }) => ({
      along: ((x - joist.from.x) * dx + (y - joist.from.y) * dy) / length,
      across: ((y - joist.from.y) * dx - (x - joist.from.x) * dy) / length,
    }))
    expect(Math.min(...(seen?.map(({ along }) => along) ?? []))).toBeCloseTo(0, 2)
    expect(Math.max(...(seen?.map(({ along }) => along) ?? []))).toBeCloseTo(length, 2)
    for (const { across } of seen ?? []) expect(Math.abs(Math.abs(across) - 9)).toBeLessThan(PROMISE_MM)
  })

  // Plane geometry: the arc is R - sqrt(R² - x²) from its tangent, x along the tangent from where it touches.
  it('offsets from both tangents are those of the circle, and say so', () => {
    const lengths = p.of('offsets').map(({ corners: [a = { x: 0, y: 0 }, b = { x: 0, y: 0 }] }) => Math.hypot(b.x - a.x, b.y - a.y))
    const expected = [100, 200].map((x) => radius - Math.sqrt(radius * radius - x * x))
    expect(radius * Math.sin(Math.PI / 8)).toBeLessThan(300)
    expect(lengths).toHaveLength(4)
    for (const length of expected) {
      expect(lengths.filter((one) => Math.abs(one - length) < PROMISE_MM)).toHaveLength(2)
      expect(p.words.filter((word) => word === `${length.toFixed(1)} mm`)).toHaveLength(2)
    }
    // Every one begins on a tangent: the x axis, or y = x - 700.
    for (const { corners } of p.of('offsets')) {
      const { x, y } = corners[0] ?? { x: 0, y: 1 }
      expect(Math.min(Math.abs(y), Math.abs(x - 700 - y) / Math.SQRT2)).toBeLessThan(PROMISE_MM)
    }
  })

  it('marks to prick stand on every station of the centreline', () => {
    const middles = p
      .of('punch')
      .flatMap(({ corners }) =>
        corners.length === 2
          ? [{ x: ((corners[0]?.x ?? 0) + (corners[1]?.x ?? 0)) / 2, y: ((corners[0]?.y ?? 0) + (corners[1]?.y ?? 0)) / 2 }]
          : [],
      )
    const arcMm = radius * (Math.PI / 4)
    const start = 700 - tangentMm
    const place = (station: number): Point => {
      if (station <= start) return { x: station, y: 0 }
      if (station >= start + arcMm) {
        const along = (tangentMm + station - start - arcMm) * Math.SQRT1_2
        return { x: 700 + along, y: along }
      }
      const turned = (station - start) / radius
      return { x: centre.x + radius * Math.sin(turned), y: centre.y - radius * Math.cos(turned) }
    }
    const total = start + arcMm + Math.hypot(500, 500) - tangentMm
    for (let station = 0; station <= total; station += 50) {
      const at = place(station)
      expect(Math.min(...middles.map((m) => Math.hypot(m.x - at.x, m.y - at.y))), `station ${station}`).toBeLessThan(PROMISE_MM)
    }
  })

  it('the name of the track is written along it', () => {
    expect(p.words.filter((word) => word === bend.name).length).toBeGreaterThan(2)
  })

  it('joints have a tick on either side of the rail, clear of its foot', () => {
    const { joints, sections } = railsCreateDeriver()(p.derived)
    expect(joints.length).toBeGreaterThan(0)
    const ticks = p.of('joints')
    expect(ticks).toHaveLength(2 * joints.length)
    const { footMm, headMm } = sections[0] ?? { footMm: 0, headMm: 0 }
    for (const { points } of ticks) {
      const offs = points.filter(isOnArc).map((point) => Math.abs(fromCentre(point) - radius) - railway.gaugeMm / 2)
      // Head from 0 outwards, foot on either side of its middle.
      for (const off of offs) expect(Math.abs(off - headMm / 2)).toBeGreaterThan(footMm / 2)
      for (const off of offs) expect(Math.abs(off - headMm / 2)).toBeLessThan(footMm / 2 + 3)
    }
  })
})

describe('layers of a turnout, read back', async () => {
  const turnout = aTurnout({ stationMm: 300 })
  const p = await printed(planWith({ tracks: [aTrack({ end: { kind: 'free', x: 900, y: 0 } })], turnouts: [turnout] }), {
    kind: 'turnout',
    id: turnout.id,
  })
  const result = p.derived.network.turnouts.get(turnout.id)?.result
  if (!result?.ok) throw new Error('no turnout')
  const { geometry, pose } = result
  const local = ({ x, y }: Point): Point => {
    const [dx, dy, cos, sin] = [x - pose.x, y - pose.y, Math.cos(pose.headingRad), Math.sin(pose.headingRad)]
    return { x: dx * cos + dy * sin, y: dy * cos - dx * sin }
  }

  it('the throw hole is as large as the cut list says for the usual wire, and its drill is named', () => {
    const [hole] = wiringOf(geometry).slots
    const ring =
      p
        .of('holes')
        .find(({ role, points }) => role === 'hole' && points.length > 20)
        ?.points.map(local) ?? []
    const span = (values: readonly number[]): number => Math.max(...values) - Math.min(...values)
    expect(Math.abs(span(ring.map(({ x }) => x)) - (hole?.widthMm ?? 0))).toBeLessThan(PROMISE_MM)
    expect(Math.abs(span(ring.map(({ y }) => y)) - (hole?.drillMm ?? 0))).toBeLessThan(PROMISE_MM)
    const drill = Number(/drill ([\d.]+) mm/.exec(p.words.join(' '))?.[1])
    expect(drill).toBeGreaterThanOrEqual((hole?.widthMm ?? 0) - 1e-9)
    expect(drill).toBeLessThan((hole?.widthMm ?? 0) + 0.1)
  })

  it('the clearance point spans the two centrelines', () => {
    const lines = p.of('clearance')
    expect(lines).toHaveLength(1)
    const [a, b] = lines[0]?.corners.map(local) ?? []
    expect(Math.hypot((a?.x ?? 0) - (b?.x ?? 0), (a?.y ?? 0) - (b?.y ?? 0))).toBeCloseTo(geometry.request.foulingMm, 2)
    expect(a?.x).toBeCloseTo(geometry.frogPoint.x + geometry.foulingMm, 2)
  })

  it('every gap is a stroke across its rail', () => {
    const strokes = p.of('gaps')
    expect(geometry.gaps.length).toBeGreaterThan(0)
    for (const { at } of geometry.gaps) {
      const off = Math.min(...strokes.flatMap(({ points }) => points.map(local).map((q) => Math.hypot(q.x - at.x, q.y - at.y))))
      expect(off).toBeLessThan(1)
    }
  })

  it('every layer that a turnout has is there, each in its own group', () => {
    const there: readonly LayerName[] = [
      'ties',
      'tie-ends',
      'rail-foot',
      'rail-head',
      'centreline',
      'stations',
      'gaps',
      'wires',
      'holes',
      'clearance',
      'points',
      'punch',
      'roadbed',
      'marks',
    ]
    for (const layer of there) expect(p.of(layer).length, layer).toBeGreaterThan(0)
    expect(p.words).toContain(turnout.name)
  })
})

describe('layers that are left out', () => {
  it('are not read back, whichever', async () => {
    const plan = planWith({ tracks: [aTrack({ end: { kind: 'free', x: 900, y: 0 } })], turnouts: [aTurnout({ stationMm: 300 })] })
    const only = await printed(
      plan,
      { kind: 'turnout', id: 'turnout-1' },
      {
        paper: aPaper('letter'),
        look: { ...lookUsual, without: layerChoices.map(({ name }) => name).filter((name) => name !== 'rail-head') },
      },
    )
    for (const { name } of sheetLayers) {
      const expected = name === 'rail-head' || name === 'sheet'
      expect(only.of(name).length > 0, name).toBe(expected)
    }
  })
})
