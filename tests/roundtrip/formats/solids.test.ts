import Parser from 'dxf-parser'
import { unzipSync } from 'fflate'
import { JSDOM } from 'jsdom'
import { STLLoader } from 'three/addons/loaders/STLLoader.js'
import { ThreeMFLoader } from 'three/addons/loaders/3MFLoader.js'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ringArea } from '../../../src/core/geom/index.ts'
import { jigKinds } from '../../../src/core/jigs/index.ts'
import { jigFiles } from '../../../src/formats/solid/jigFile.ts'
import type { JigFile } from '../../../src/formats/solid/jigFile.ts'
import type { Mesh } from '../../../src/formats/solid/types.ts'
import { jigOf, meshBox, meshVolume, openEdges, solidsOfJig } from '../../support/solids.ts'

type Attribute = ReturnType<ReturnType<STLLoader['parse']>['getAttribute']>

const bufferOf = ({ bytes }: JigFile): ArrayBuffer => new Uint8Array(bytes).buffer

function meshFrom(position: Attribute, index: Attribute | null): Mesh {
  const corners = Array.from({ length: position.count }, (_, i) => [position.getX(i), position.getY(i), position.getZ(i)])
  const triangles = Array.from({ length: index === null ? position.count : index.count }, (_, i) => (index === null ? i : index.getX(i)))
  return { corners: Float32Array.from(corners.flat()), triangles: Uint32Array.from(triangles) }
}

describe.each(jigKinds)('%s, read by another program’s reader', (kind) => {
  const small = { bedXMm: 120, bedYMm: 120 }

  it('is the same closed solid in STL, a file a piece', async () => {
    const pieces = await solidsOfJig(jigOf(kind, {}, small))
    const files = jigFiles('stl', 'jig', 'Prüfstück', pieces, 'mm')
    expect(files.map(({ name }) => name)).toEqual(pieces.length === 1 ? ['jig.stl'] : pieces.map(({ number }) => `jig-${number}.stl`))
    files.forEach((file, i) => {
      const mesh = meshFrom(new STLLoader().parse(bufferOf(file)).getAttribute('position'), null)
      const piece = pieces[i]
      if (piece === undefined) throw new Error('a file without a piece')
      expect(openEdges(mesh)).toEqual([])
      expect(mesh.triangles.length).toBe(piece.mesh.triangles.length)
      expect(Math.abs(meshVolume(mesh) / piece.volumeMm3 - 1)).toBeLessThan(1e-5)
      expect(meshBox(mesh).most).toEqual(piece.sizeMm.map((mm) => expect.closeTo(mm, 3)))
      // A text STL begins with that word, and readers go by it.
      expect(new TextDecoder().decode(file.bytes.slice(0, 5))).not.toBe('solid')
    })
  })

  describe('in 3MF', () => {
    // The reader wants a browser's reader of XML.
    const before = globalThis.DOMParser
    beforeAll(() => {
      globalThis.DOMParser = new JSDOM().window.DOMParser
    })
    afterAll(() => {
      globalThis.DOMParser = before
    })

    it('is the same closed solids, side by side', async () => {
      const pieces = await solidsOfJig(jigOf(kind, {}, small))
      const [file] = jigFiles('3mf', 'jig', 'Jig <1> & "two"', pieces, 'mm')
      if (file === undefined) throw new Error('no file')
      const group = new ThreeMFLoader().parse(bufferOf(file))
      group.updateMatrixWorld(true)
      const meshes: Mesh[] = []
      group.traverse((object) => {
        if (object.geometry === undefined) return
        const placed = object.geometry.applyMatrix4(object.matrixWorld)
        meshes.push(meshFrom(placed.getAttribute('position'), placed.index))
      })
      expect(meshes).toHaveLength(pieces.length)
      let free = 0
      meshes.forEach((mesh, i) => {
        expect(openEdges(mesh)).toEqual([])
        const { least, most } = meshBox(mesh)
        const { sizeMm, volumeMm3 } = pieces[i] ?? { sizeMm: [], volumeMm3: NaN }
        expect(Math.abs(meshVolume(mesh) / volumeMm3 - 1)).toBeLessThan(1e-4)
        expect(most.map((value, k) => value - (least[k] ?? 0))).toEqual(sizeMm.map((mm) => expect.closeTo(mm, 3)))
        expect(least[1]).toBeGreaterThanOrEqual(free)
        free = most[1] ?? NaN
      })
    })

    it('declares millimetres, in a part that its relations point to, and is the same bytes again', async () => {
      const pieces = await solidsOfJig(jigOf(kind, {}, small))
      const [file, again] = [1, 2].flatMap(() => jigFiles('3mf', 'jig', 'Jig', pieces, 'mm'))
      if (file === undefined || again === undefined) throw new Error('no file')
      expect(file.bytes).toEqual(again.bytes)
      const parts = unzipSync(file.bytes)
      const text = (name: string): string => new TextDecoder().decode(parts[name])
      expect(text('_rels/.rels')).toContain('Target="/3D/3dmodel.model"')
      const model = new DOMParser().parseFromString(text('3D/3dmodel.model'), 'application/xml').documentElement
      expect(model.getAttribute('unit')).toBe('millimeter')
      expect(model.getElementsByTagName('object')).toHaveLength(pieces.length)
      expect(model.getElementsByTagName('item')).toHaveLength(pieces.length)
    })
  })

  it('has the outlines of a flat jig in DXF and SVG, at true size', async () => {
    const jig = jigOf(kind, {}, small)
    const pieces = await solidsOfJig(jig)
    const [drawing] = jigFiles('dxf', 'jig', 'Jig', pieces, 'in')
    const [picture] = jigFiles('svg', 'jig', 'Jig', pieces, 'mm')
    const read = new Parser().parseSync(new TextDecoder().decode(drawing?.bytes))
    const rings = (read?.entities ?? []).map((entity) => ('vertices' in entity ? (entity.vertices as { x: number; y: number }[]) : []))
    if (jig.flatAtMm === null) {
      expect(rings).toEqual([])
      return
    }
    // Holes run the other way round, so that areas add up to what is left. A template's upper face is broader than its foot.
    const areaMm2 = rings.reduce((sum, ring) => sum + ringArea(ring), 0) * 25.4 ** 2
    const solidMm3 = pieces.reduce((sum, { volumeMm3 }) => sum + volumeMm3, 0)
    if (kind === 'curve') expect(areaMm2 * jig.heightMm).toBeGreaterThan(solidMm3)
    else expect(Math.abs((areaMm2 * jig.heightMm) / solidMm3 - 1)).toBeLessThan(1e-4)
    const svg = new JSDOM(new TextDecoder().decode(picture?.bytes), { contentType: 'image/svg+xml' }).window.document
    expect(svg.querySelectorAll('#cut path')).toHaveLength(rings.length)
    const widest = Math.max(...pieces.map(({ sizeMm }) => sizeMm[0]))
    expect(Number.parseFloat(svg.documentElement.getAttribute('width') ?? '')).toBeCloseTo(widest + 20, 2)
    expect(svg.documentElement.getAttribute('width')).toMatch(/mm$/)
  })
})
