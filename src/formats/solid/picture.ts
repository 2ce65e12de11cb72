import { normalOf, cornerOf } from './stl.ts'
import type { Mesh } from './types.ts'

/** A picture in red, green, blue and opacity, row by row from the top. */
export interface Picture {
  readonly width: number
  readonly height: number
  readonly pixels: Uint8ClampedArray<ArrayBuffer>
}

/** What a solid is drawn with; 0 to 255. */
export interface PictureInks {
  readonly face: readonly [number, number, number]
  readonly edge: readonly [number, number, number]
}

/** Sub-pixels each way: edges are smooth. */
const fine = 2
/** Free round the solid, part of the picture. */
const marginPart = 0.04
/** The sight line, level as in an isometric drawing but turned by 30 degrees instead of 45: long things lie along the picture. */
const turnRad = -Math.PI / 6
const rise = Math.asin(Math.tan(Math.PI / 6))
/** Faces that turn by more than this share an edge line. */
const creaseCos = Math.cos((20 * Math.PI) / 180)
const light = unit([-0.45, -0.6, 0.9])
const dark = 0.55

/**
 * A solid seen from the front and above, in parallel projection: faces shaded by their slope, lines where they meet at a crease or where one stands before another. Each
 * point of the picture takes the face nearest to the eye.
 */
export function solidPicture(meshes: readonly Mesh[], width: number, height: number, inks: PictureInks): Picture {
  const [w, h] = [width * fine, height * fine]
  const faces = meshes.flatMap(facesOf)
  const { scale, left, top } = viewOf(faces, w, h)
  const nearness = new Float64Array(w * h).fill(-Infinity)
  const seen = new Int32Array(w * h).fill(-1)
  faces.forEach(({ points }, index) => {
    const [a, b, c] = points.map(([x, y, near]) => [(x - left) * scale, (top - y) * scale, near] as const)
    if (a === undefined || b === undefined || c === undefined) return
    const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    if (Math.abs(area) < 1e-9) return
    const [x0, x1] = spanOf([a[0], b[0], c[0]], w)
    const [y0, y1] = spanOf([a[1], b[1], c[1]], h)
    for (let py = y0; py <= y1; py++) {
      for (let px = x0; px <= x1; px++) {
        const [x, y] = [px + 0.5, py + 0.5]
        const u = ((b[0] - x) * (c[1] - y) - (b[1] - y) * (c[0] - x)) / area
        const v = ((c[0] - x) * (a[1] - y) - (c[1] - y) * (a[0] - x)) / area
        const t = 1 - u - v
        if (u < 0 || v < 0 || t < 0) continue
        const near = u * a[2] + v * b[2] + t * c[2]
        const at = py * w + px
        if (near <= (nearness[at] ?? 0)) continue
        nearness[at] = near
        seen[at] = index
      }
    }
  })
  const isEdge = edgeAt(faces, seen, nearness, w, h, scale)
  return { width, height, pixels: inked(faces, seen, isEdge, width, height, inks) }
}

interface Face {
  /** Right, up, and towards the eye. */
  readonly points: readonly (readonly [number, number, number])[]
  readonly normal: readonly [number, number, number]
  readonly shade: number
}

function facesOf({ corners, triangles }: Mesh): readonly Face[] {
  const faces: Face[] = []
  for (let i = 0; i + 2 < triangles.length; i += 3) {
    const places = [0, 1, 2].map((k) => cornerOf(corners, triangles[i + k] ?? 0))
    const normal = normalOf(places)
    const points = places.map(seenFrom)
    if (seenFrom(normal)[2] <= 0) continue
    const slope = Math.max(0, normal[0] * light[0] + normal[1] * light[1] + normal[2] * light[2])
    faces.push({ points, normal, shade: dark + (1 - dark) * slope })
  }
  return faces
}

function seenFrom([x = 0, y = 0, z = 0]: readonly number[]): readonly [number, number, number] {
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)]
  const right = x * cos - y * sin
  const back = x * sin + y * cos
  return [right, back * Math.sin(rise) + z * Math.cos(rise), -back * Math.cos(rise) + z * Math.sin(rise)]
}

function viewOf(faces: readonly Face[], w: number, h: number): { readonly scale: number; readonly left: number; readonly top: number } {
  let [minX, maxX, minY, maxY] = [Infinity, -Infinity, Infinity, -Infinity]
  for (const { points } of faces) {
    for (const [x, y] of points) {
      minX = Math.min(minX, x)
      maxX = Math.max(maxX, x)
      minY = Math.min(minY, y)
      maxY = Math.max(maxY, y)
    }
  }
  if (!(maxX > minX && maxY > minY)) return { scale: 1, left: 0, top: 0 }
  const scale = (1 - 2 * marginPart) * Math.min(w / (maxX - minX), h / (maxY - minY))
  return { scale, left: (minX + maxX) / 2 - w / 2 / scale, top: (minY + maxY) / 2 + h / 2 / scale }
}

function spanOf(values: readonly number[], size: number): readonly [number, number] {
  return [Math.max(0, Math.floor(Math.min(...values))), Math.min(size - 1, Math.ceil(Math.max(...values)))]
}

/** True where the neighbour to the right or below belongs to a face across a crease, or to one that stands well behind or before. */
function edgeAt(
  faces: readonly Face[],
  seen: Int32Array,
  nearness: Float64Array,
  w: number,
  h: number,
  scale: number,
): (x: number, y: number) => boolean {
  const parts = (at: number, other: number): boolean => {
    const [a, b] = [faces[seen[at] ?? -1], faces[seen[other] ?? -1]]
    if (a === b) return false
    if (a === undefined || b === undefined) return true
    const turn = a.normal[0] * b.normal[0] + a.normal[1] * b.normal[1] + a.normal[2] * b.normal[2]
    return turn < creaseCos || Math.abs((nearness[at] ?? 0) - (nearness[other] ?? 0)) * scale > 6
  }
  return (x, y) => {
    const at = y * w + x
    return (x + 1 < w && parts(at, at + 1)) || (y + 1 < h && parts(at, at + w))
  }
}

function inked(
  faces: readonly Face[],
  seen: Int32Array,
  isEdge: (x: number, y: number) => boolean,
  width: number,
  height: number,
  { face, edge }: PictureInks,
): Uint8ClampedArray<ArrayBuffer> {
  const pixels = new Uint8ClampedArray(width * height * 4)
  const w = width * fine
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const sum = [0, 0, 0, 0]
      for (let k = 0; k < fine * fine; k++) {
        const [px, py] = [x * fine + (k % fine), y * fine + Math.floor(k / fine)]
        const found = faces[seen[py * w + px] ?? -1]
        const line = isEdge(px, py)
        if (found === undefined && !line) continue
        const ink = line || found === undefined ? edge : face.map((value) => value * found.shade)
        ink.forEach((value, i) => {
          sum[i] = (sum[i] ?? 0) + value
        })
        sum[3] = (sum[3] ?? 0) + 1
      }
      const count = sum[3] ?? 0
      if (count === 0) continue
      const at = 4 * (y * width + x)
      pixels.set(
        [0, 1, 2].map((i) => (sum[i] ?? 0) / count),
        at,
      )
      pixels[at + 3] = (255 * count) / (fine * fine)
    }
  }
  return pixels
}

function unit([x, y, z]: readonly [number, number, number]): readonly [number, number, number] {
  const length = Math.hypot(x, y, z)
  return [x / length, y / length, z / length]
}
