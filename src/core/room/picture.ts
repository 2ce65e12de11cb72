import type { Point } from '../geom/types.ts'

/** A place of a picture in its pixels (y down) and in the plan. */
export interface PicturePlace {
  readonly px: Point
  readonly at: Point
}

/** From pixels to the plan by a projective map: x = (m0 u + m1 v + m2) / w, y = (m3 u + m4 v + m5) / w, w = m6 u + m7 v + m8, above 0 at its places. */
export type PictureMap = readonly [number, number, number, number, number, number, number, number, number]

/**
 * How a picture lies in the plan. By two places: turned, scaled and not bent, its upper side stays on its left hand as in the picture.
 * By four: a plane photographed at a slant, seen square again.
 *
 * Outcome: null where the places do not say: two of them one, three of four in a line, or four round which no plane can be seen (crossed over).
 * Source:  two unknown factors and a shift of complex numbers; the plane projectivity through four points, eight linear equations.
 */
export function pictureMap(places: readonly PicturePlace[]): PictureMap | null {
  const [a, b, c, d] = places
  if (a === undefined || b === undefined) return null
  return c === undefined || d === undefined ? turnedMap(a, b) : slantedMap([a, b, c, d])
}

function turnedMap(a: PicturePlace, b: PicturePlace): PictureMap | null {
  // Pixels with y up: u - iv. at = f (u - iv) + g.
  const [u, v] = [b.px.x - a.px.x, -(b.px.y - a.px.y)]
  const [x, y] = [b.at.x - a.at.x, b.at.y - a.at.y]
  const square = u * u + v * v
  if (!(square > 0) || !(x * x + y * y > 0)) return null
  const [fx, fy] = [(x * u + y * v) / square, (y * u - x * v) / square]
  return [fx, fy, a.at.x - fx * a.px.x - fy * a.px.y, fy, -fx, a.at.y - fy * a.px.x + fx * a.px.y, 0, 0, 1]
}

/** Of the size of what its three points span, so small an area is a line. */
const FLAT = 1e-6

function slantedMap(places: readonly [PicturePlace, PicturePlace, PicturePlace, PicturePlace]): PictureMap | null {
  for (const of of ['px', 'at'] as const) {
    for (let leave = 0; leave < 4; leave++) {
      const [p, q, r] = places.filter((_, i) => i !== leave).map((place) => place[of])
      if (p === undefined || q === undefined || r === undefined) return null
      const area = (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x)
      const size = Math.max((q.x - p.x) ** 2 + (q.y - p.y) ** 2, (r.x - p.x) ** 2 + (r.y - p.y) ** 2)
      if (!(Math.abs(area) > FLAT * size)) return null
    }
  }
  const rows = places.flatMap(({ px: { x: u, y: v }, at: { x, y } }) => [
    [u, v, 1, 0, 0, 0, -u * x, -v * x, x],
    [0, 0, 0, u, v, 1, -u * y, -v * y, y],
  ])
  const found = solved(rows)
  if (found === null) return null
  const weights = places.map(({ px: { x, y } }) => found[6] * x + found[7] * y + 1)
  // Four places of one plane that a camera saw are all before it.
  if (weights.every((w) => w > 0)) return found
  return weights.every((w) => w < 0) ? negated(found) : null
}

const negated = ([a, b, c, d, e, f, g, h, i]: PictureMap): PictureMap => [-a, -b, -c, -d, -e, -f, -g, -h, -i]

/** Eight linear equations, each row with its right side last, by elimination with the largest pivot. */
function solved(rows: readonly (readonly number[])[]): PictureMap | null {
  const m = rows.map((row) => [...row])
  for (let k = 0; k < 8; k++) {
    const scale = (row: readonly number[] | undefined): number => Math.max(...(row ?? []).slice(0, 8).map(Math.abs), 1e-300)
    let best = k
    for (let i = k; i < 8; i++) if (Math.abs(m[i]?.[k] ?? 0) / scale(m[i]) > Math.abs(m[best]?.[k] ?? 0) / scale(m[best])) best = i
    const [pivot, other] = [m[best], m[k]]
    if (pivot === undefined || other === undefined) return null
    m[best] = other
    m[k] = pivot
    const at = pivot[k] ?? 0
    if (at === 0) return null
    for (let i = 0; i < 8; i++) {
      const row = m[i]
      if (i === k || row === undefined) continue
      const factor = (row[k] ?? 0) / at
      if (factor !== 0) for (let j = k; j < 9; j++) row[j] = (row[j] ?? 0) - factor * (pivot[j] ?? 0)
    }
  }
  const [a, b, c, d, e, f, g, h] = m.map((row, k) => (row[8] ?? NaN) / (row[k] ?? NaN))
  const found = [a ?? NaN, b ?? NaN, c ?? NaN, d ?? NaN, e ?? NaN, f ?? NaN, g ?? NaN, h ?? NaN, 1] as const
  return found.every(Number.isFinite) ? found : null
}

/** Where a pixel lies in the plan; null beyond the horizon of a slanted picture. */
export function pictureToPlan(map: PictureMap, { x: u, y: v }: Point): Point | null {
  const w = map[6] * u + map[7] * v + map[8]
  return w > 0 ? { x: (map[0] * u + map[1] * v + map[2]) / w, y: (map[3] * u + map[4] * v + map[5]) / w } : null
}

/** The map the other way: from the plan to pixels, as nine coefficients up to a factor. Domain: a map of `pictureMap`. */
export function pictureInverse(map: PictureMap): readonly number[] {
  const [a, b, c, d, e, f, g, h, i] = map
  return [
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ]
}
