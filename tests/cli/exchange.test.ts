import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Parser from 'dxf-parser'
import { describe, expect, it } from 'vitest'
import { planTracing } from '../../src/core/deliver/index.ts'
import { pathPoseAt, ringArea } from '../../src/core/geom/index.ts'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import { dxfRead } from '../../src/formats/dxf/read.ts'
import { planRead } from '../../src/formats/planjson.ts'
import { waybench, waybenchJson } from '../support/waybench.ts'

const demo = 'public/demo/fennimore.json'
const folder = mkdtempSync(join(tmpdir(), 'waybench-'))
const at = (name: string): string => join(folder, name)
const planAt = (path: string) => {
  const read = planRead(readFileSync(path, 'utf8'))
  if (!read.ok) throw new Error(JSON.stringify(read.problem))
  return read.plan
}
const derived = pipelineCreate().derive(planAt(demo))

interface Entity {
  readonly type: string
  readonly layer: string
  readonly center?: { readonly x: number; readonly y: number }
  readonly radius?: number
  readonly vertices?: readonly { readonly x: number; readonly y: number }[]
}

describe('waybench export', () => {
  it('writes a DXF that an independent reader finds arcs, layers and unit in, true to the plan', async () => {
    await waybench('export', demo, '--to', 'dxf', '--out', at('plan.dxf'))
    const drawing = new Parser().parseSync(readFileSync(at('plan.dxf'), 'utf8'))
    expect(drawing?.header['$INSUNITS']).toBe(4)
    expect(drawing?.header['$LASTSAVEDBY']).toBe('Waybench')
    const entities = (drawing?.entities ?? []) as unknown as readonly Entity[]
    const items = planTracing(derived, 0.01)
    expect(entities.length).toBe(items.length)
    const layers = new Set(entities.map(({ layer }) => layer))
    for (const layer of ['benchwork', 'wall', 'centreline', 'rail-gauge', 'rail-foot', 'tie', 'gap', 'throw-hole', 'name'])
      expect(layers).toContain(layer)
    // Every arc of every centreline is there as an arc of its radius about its centre.
    const arcs = entities.filter(({ type, layer }) => type === 'ARC' && layer === 'centreline')
    for (const { alignment } of derived.network.tracks.values()) {
      if (!alignment.ok) throw new Error('the demo has a track that is not solved')
      for (const { k0, k1, startStationMm, lengthMm } of alignment.path.elements) {
        if (k0 !== k1 || k0 === 0) continue
        const middle = pathPoseAt(alignment.path, startStationMm + lengthMm / 2)
        const mine = arcs.filter(
          ({ center, radius = NaN }) =>
            Math.abs(radius - Math.abs(1 / k0)) < 1e-3 &&
            Math.abs(Math.hypot(middle.x - (center?.x ?? NaN), middle.y - (center?.y ?? NaN)) - radius) < 1e-3,
        )
        expect(mine.length).toBeGreaterThan(0)
      }
    }
    const inches = await waybenchJson('export', demo, '--to', 'dxf', '--unit', 'in', '--out', at('inches.dxf'))
    expect(inches['counts']).toMatchObject({ benchwork: expect.any(Number) as number })
    const read = dxfRead(readFileSync(at('inches.dxf'), 'utf8'))
    expect(read.ok && read.unitMm).toBe(25.4)
  })

  it('writes an SVG of the true size', async () => {
    await waybench('export', demo, '--to', 'svg', '--out', at('plan.svg'))
    const text = readFileSync(at('plan.svg'), 'utf8')
    const [, width, height] = /width="([\d.]+)mm" height="([\d.]+)mm"/.exec(text) ?? []
    // The room of the demo is 11 ft 6 in by 9 ft within its walls; ten millimetres of white at each side.
    expect(Number(width)).toBeGreaterThan(11.5 * 304.8)
    expect(Number(width) / Number(height)).toBeLessThan(1.5)
    expect(text.match(/<g id="[\w-]+"/g)?.length).toBeGreaterThan(8)
  })

  it.each(['landxml', 'ifc'])('gives lines as %s that come back as tracks of the same length', async (to) => {
    await waybench('export', demo, '--to', to, '--out', at(`lines.${to}`))
    const answer = await waybenchJson('import', at(`lines.${to}`), '--class', 'main', '--out', at(`${to}.json`))
    const lengths = (plan: ReturnType<typeof planAt>): readonly number[] =>
      [...pipelineCreate().derive(plan).network.tracks.values()].map(({ alignment }) =>
        alignment.ok ? Math.round(alignment.path.lengthMm * 1e4) : NaN,
      )
    expect(answer['notes']).toEqual([])
    expect(lengths(planAt(at(`${to}.json`)))).toEqual(lengths(derived.plan))
  })

  it('says what is wrong with what was typed', async () => {
    expect((await waybench('export', demo, '--to', 'dwg', '--out', at('x'))).err).toContain('there is no such format')
    expect((await waybench('export', demo, '--to', 'dxf', '--unit', 'ell', '--out', at('x'))).err).toContain('mm or in')
  })
})

describe('waybench import', () => {
  it('takes benchwork out of a DXF of the demo, holes and all', async () => {
    await waybench('export', demo, '--to', 'dxf', '--unit', 'in', '--out', at('room.dxf'))
    await waybench('import', at('room.dxf'), '--layer', 'benchwork', '--out', at('room.json'))
    const corners = (plan: ReturnType<typeof planAt>): readonly string[] =>
      Object.values(plan.benchworks)
        .flatMap(({ outline, holes }) => [outline, ...holes].flat())
        .map(({ x, y }) => `${x.toFixed(3)} ${y.toFixed(3)}`)
        .toSorted()
    expect(corners(planAt(at('room.json')))).toEqual(corners(derived.plan))
  })

  it('joins single lines to an outline, bends bulges, and asks for the unit', async () => {
    // A shelf of 40 by 20 with one side a half circle, drawn as lines and a polyline with a bulge of 1.
    const line = (x1: number, y1: number, x2: number, y2: number): string =>
      `0\nLINE\n8\nSHELF\n10\n${x1}\n20\n${y1}\n11\n${x2}\n21\n${y2}\n`
    const half = '0\nLWPOLYLINE\n8\nSHELF\n90\n2\n70\n0\n10\n40\n20\n0\n42\n1\n10\n40\n20\n20\n'
    writeFileSync(
      at('shelf.dxf'),
      `0\nSECTION\n2\nENTITIES\n${line(0, 0, 40, 0)}${line(0, 20, 0, 0)}${line(0, 20, 40, 20)}${half}0\nENDSEC\n0\nEOF\n`,
    )
    expect((await waybench('import', at('shelf.dxf'), '--out', at('shelf.json'))).err).toContain('does not say in what unit')
    await waybench('import', at('shelf.dxf'), '--unit', 'cm', '--out', at('shelf.json'))
    const [shelf] = Object.values(planAt(at('shelf.json')).benchworks)
    const xs = shelf?.outline.map(({ x }) => x) ?? []
    expect([Math.min(...xs), Object.keys(planAt(at('shelf.json')).benchworks).length]).toEqual([0, 1])
    // A half circle of 10 cm beyond the 40: to 50 cm.
    expect(Math.max(...xs)).toBeCloseTo(500, 0)
  })
})

describe('waybench import of pictures and lists', () => {
  const onePlan = async (name: string, text: string, ...more: readonly string[]) => {
    writeFileSync(at(name), text)
    const answer = await waybenchJson('import', at(name), ...more, '--out', at('taken.json'))
    return { answer, plan: planAt(at('taken.json')) }
  }

  it('takes benchwork out of an SVG of the demo, where its page puts it', async () => {
    await waybench('export', demo, '--to', 'svg', '--out', at('room.svg'))
    await waybench('import', at('room.svg'), '--layer', 'benchwork', '--out', at('room.json'))
    // Without the holes, which have no room of their own here: outlines that are alike but for where the page has its corner.
    const areas = (plan: ReturnType<typeof planAt>): readonly number[] =>
      Object.values(plan.benchworks)
        .map(({ outline, holes }) => Math.abs(ringArea(outline)) - holes.reduce((sum, hole) => sum + Math.abs(ringArea(hole)), 0))
        .toSorted((one, other) => one - other)
    const [mine, theirs] = [areas(planAt(at('room.json'))), areas(derived.plan)]
    expect(mine.length).toBe(theirs.length)
    for (const [i, area] of mine.entries()) expect(area / (theirs[i] ?? NaN)).toBeCloseTo(1, 5)
  })

  it('asks for the unit of a picture that is measured in pixels', async () => {
    writeFileSync(at('shelf.svg'), '<svg width="960" height="480"><rect width="960" height="480"/></svg>')
    expect((await waybench('import', at('shelf.svg'), '--out', at('x.json'))).err).toContain('does not say in what unit')
    await waybench('import', at('shelf.svg'), '--unit', 'px', '--out', at('shelf.json'))
    const [shelf] = Object.values(planAt(at('shelf.json')).benchworks)
    expect(Math.abs(ringArea(shelf?.outline ?? []))).toBeCloseTo(254 * 127, 6)
  })

  it('takes a list of corners as benchwork, wall or track', async () => {
    const list = 'x_in,y_in,name\n0,0,a\n40,0,b\n40,20,c\n'
    const shelf = await onePlan('corners.csv', list)
    expect(Object.values(shelf.plan.benchworks).map(({ outline }) => outline.at(-1))).toEqual([{ x: 1016, y: 508 }])
    const wall = await onePlan('corners.csv', list, '--as', 'wall')
    expect(Object.values(wall.plan.walls).map(({ isClosed, points }) => [isClosed, points.length])).toEqual([[false, 3]])
    const { plan } = await onePlan('corners.csv', 'x,y\n0,0\n2,0\n2,3', '--as', 'track', '--unit', 'm')
    const [track] = Object.values(plan.tracks)
    expect(track).toMatchObject({
      start: { kind: 'free', x: 0, y: 0 },
      corners: [{ x: 2000, y: 0, radius: 'class' }],
      end: { kind: 'free', x: 2000, y: 3000 },
    })
    const [solved] = pipelineCreate().derive(plan).network.tracks.values()
    expect(solved?.alignment.ok).toBe(true)
  })

  it('says what is wrong with a list', async () => {
    writeFileSync(at('bad.csv'), '0,0\n40,zero\n40,20\n')
    expect((await waybench('import', at('bad.csv'), '--unit', 'in', '--out', at('x.json'))).err).toContain('Line 2')
    writeFileSync(at('bare.csv'), '0,0\n40,0\n40,20\n')
    expect((await waybench('import', at('bare.csv'), '--out', at('x.json'))).err).toContain('does not say in what unit')
    expect((await waybench('import', at('bare.csv'), '--as', 'pond', '--unit', 'in', '--out', at('x.json'))).err).toContain(
      'benchwork, wall, obstacle or track',
    )
  })
})
