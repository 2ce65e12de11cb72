import type { Manifold, ManifoldToplevel, Mat4, SimplePolygon, Vec2 } from 'manifold-3d'
import type { Jig, JigPiece, Prism } from '../core/jigs/index.ts'
import type { Point } from '../core/geom/index.ts'
import type { SolidPiece } from '../formats/solid/types.ts'
import { meshIsClosed, meshWelded } from './weld.ts'

/** Turns a described jig into closed solids, piece by piece. */
export type SolidsOf = (jig: Jig) => readonly SolidPiece[]

/** Corners of a flat outline nearer to a straight line than this say nothing: the cut through triangles left them, mm. */
const straightMm = 1e-5

/**
 * The solids kernel: it adds, cuts and parts bodies so that the surface of what comes out is closed. It keeps its objects outside of the
 * script's memory; each is given back.
 */
export function solidsMaker({ Manifold, CrossSection }: ManifoldToplevel): SolidsOf {
  return ({ body, pieces, heightMm, flatAtMm }) => {
    const held: { delete(): void }[] = []
    const hold = <T extends { delete(): void }>(what: T): T => {
      held.push(what)
      return what
    }

    function solidOf({ axis, polygon, fromMm, toMm }: Prism): Manifold {
      const rings = [polygon.outline, ...polygon.holes].map((ring) => ring.map(({ x, y }): Vec2 => [x, y]))
      const section = hold(new CrossSection(rings, 'EvenOdd'))
      const raised = hold(section.extrude(toMm - fromMm))
      return hold(axis === 'z' ? raised.translate(0, 0, fromMm) : hold(raised.transform(acrossToAlong)).translate(fromMm, 0, 0))
    }

    function pieceOf(whole: Manifold, { number, within, frame }: JigPiece, isCut: boolean): SolidPiece {
      const part = isCut ? hold(whole.intersect(solidOf({ axis: 'z', polygon: within, fromMm: -1, toMm: heightMm + 1 }))) : whole
      const degrees = (-frame.headingRad * 180) / Math.PI
      const turned = hold(hold(part.translate(-frame.x, -frame.y, 0)).rotate(0, 0, degrees))
      const corner = turned.boundingBox().min
      const laid = hold(turned.translate(-corner[0], -corner[1], -corner[2]))
      const status = laid.status()
      if (status !== 'NoError' || laid.isEmpty()) throw new Error(`piece ${number} came out as no solid (${status})`)
      const { min, max } = laid.boundingBox()
      const { vertProperties, numProp, triVerts } = laid.getMesh()
      const mesh = meshWelded(vertProperties, numProp, triVerts)
      // No printer gets a surface with a gap.
      if (!meshIsClosed(mesh))
        throw new Error(`piece ${number} came out with a gap in its surface; a number a little larger or smaller would do`)
      return {
        number,
        mesh,
        volumeMm3: laid.volume(),
        sizeMm: [max[0] - min[0], max[1] - min[1], max[2] - min[2]],
        outlines: flatAtMm === null ? null : outlinesOf(laid, flatAtMm),
      }
    }

    function outlinesOf(laid: Manifold, atMm: number): readonly (readonly Point[])[] {
      const section = hold(hold(laid.slice(atMm)).simplify(straightMm))
      return section.toPolygons().map((ring: SimplePolygon) => ring.map(([x, y]) => ({ x, y })))
    }

    try {
      const added = hold(Manifold.union(body.adds.map(solidOf)))
      const whole = body.cuts.length === 0 ? added : hold(added.subtract(hold(Manifold.union(body.cuts.map(solidOf)))))
      return pieces.map((piece) => pieceOf(whole, piece, pieces.length > 1))
    } finally {
      for (const what of held) what.delete()
    }
  }
}

/** Takes a profile's x, y and height to y, z and x, column by column. */
const acrossToAlong: Mat4 = [0, 1, 0, 0, 0, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0, 1]
