import cephes from 'cephes'
import type { CurveElement, Pose } from '../../src/core/geom/types.ts'

/** Fresnel integrals C and S as Abramowitz & Stegun 7.3.1-2 define them, by the general-purpose library cephes. Await cephes.compiled first. */
export function fresnel(v: number): { readonly c: number; readonly s: number } {
  const [, integrals] = cephes.fresnl(v)
  return { c: integrals.cca, s: integrals.ssa }
}

/**
 * Pose along an element by Fresnel integrals, independent of our own series: the parabola of the heading is completed to a square,
 *   heading = phase + sign(c) (pi/2) v^2,   v = sqrt(|c|/pi) (s + k0/c).
 * Loses digits as the curvatures become equal: about 1e-16 k0^2/(2 c) rad and 1e-16 sqrt(pi/|c|) mm.
 */
export function fresnelPose(element: CurveElement, start: Pose, s: number): Pose {
  const c = (element.k1 - element.k0) / element.lengthMm
  const scale = Math.sqrt(Math.abs(c) / Math.PI)
  const from = fresnel((scale * element.k0) / c)
  const to = fresnel(scale * (s + element.k0 / c))
  const along = (to.c - from.c) / scale
  const across = (Math.sign(c) * (to.s - from.s)) / scale
  const phase = start.headingRad - (element.k0 * element.k0) / (2 * c)
  return {
    x: start.x + along * Math.cos(phase) - across * Math.sin(phase),
    y: start.y + along * Math.sin(phase) + across * Math.cos(phase),
    headingRad: start.headingRad + element.k0 * s + 0.5 * c * s * s,
  }
}

/** Error of fresnelPose from rounding alone, mm. */
export function fresnelPoseRounding(element: CurveElement, s: number): number {
  const c = Math.abs(element.k1 - element.k0) / element.lengthMm
  return 1e-14 * (s * (1 + (element.k0 * element.k0) / (2 * c)) + Math.sqrt(Math.PI / c))
}

/** Nodes and weights of Gauss-Legendre quadrature on [-1, 1], by Newton's method on the Legendre polynomial. */
function gaussLegendre(count: number): readonly { readonly node: number; readonly weight: number }[] {
  return Array.from({ length: count }, (_, i) => {
    let node = Math.cos((Math.PI * (i + 0.75)) / (count + 0.5))
    let slope = 1
    for (let step = 0; step < 50; step++) {
      let before = 1
      let here = node
      for (let n = 2; n <= count; n++) [before, here] = [here, ((2 * n - 1) * node * here - (n - 1) * before) / n]
      slope = (count * (node * here - before)) / (node * node - 1)
      node -= here / slope
    }
    return { node, weight: 2 / ((1 - node * node) * slope * slope) }
  })
}

const sixteen = gaussLegendre(16)

/** Pose along an element by 16-point Gauss-Legendre quadrature of the direction, in panels that turn by half a radian at most. Slow and plain. */
export function quadraturePose(element: CurveElement, start: Pose, s: number, panelRad = 0.5): Pose {
  const c = (element.k1 - element.k0) / element.lengthMm
  const turn = Math.max(Math.abs(element.k0), Math.abs(element.k0 + c * s)) * Math.abs(s)
  const panels = Math.max(1, Math.ceil(turn / panelRad))
  const half = s / (2 * panels)
  let x = start.x
  let y = start.y
  for (let i = 0; i < panels; i++) {
    for (const { node, weight } of sixteen) {
      const at = (2 * i + 1 + node) * half
      const heading = start.headingRad + at * (element.k0 + 0.5 * c * at)
      x += weight * half * Math.cos(heading)
      y += weight * half * Math.sin(heading)
    }
  }
  return { x, y, headingRad: start.headingRad + s * (element.k0 + 0.5 * c * s) }
}
