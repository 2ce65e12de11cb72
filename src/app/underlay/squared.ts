import { pictureInverse, pictureToPlan } from '../../core/room/index.ts'
import type { PictureMap, PicturePlace } from '../../core/room/index.ts'
import { boxOfPoints } from '../../core/geom/index.ts'
import type { Box } from '../../core/geom/types.ts'

/** Pixels along the longer side of a picture that is seen square again. */
const sideMost = 2048
/** Beyond the four places so much of their own size is shown on each side: farther off a slanted photo is nothing but blur. */
const beyond = 0.6

export interface Squared {
  readonly box: Box
  readonly canvas: HTMLCanvasElement
}

/** A slanted picture seen from straight above, its plane as the plan's; null: this browser draws no pictures. */
export function pictureSquared(image: ImageBitmap, map: PictureMap, places: readonly PicturePlace[]): Squared | null {
  const four = boxOfPoints(places.map(({ at }) => at))
  const source = pixelsOf(image)
  if (four === null || source === null) return null
  const [edgeX, edgeY] = [(four.maxX - four.minX) * beyond, (four.maxY - four.minY) * beyond]
  const box: Box = { minX: four.minX - edgeX, minY: four.minY - edgeY, maxX: four.maxX + edgeX, maxY: four.maxY + edgeY }
  const scale = sideMost / Math.max(box.maxX - box.minX, box.maxY - box.minY)
  const [width, height] = [Math.ceil((box.maxX - box.minX) * scale), Math.ceil((box.maxY - box.minY) * scale)]
  const canvas = document.createElement('canvas')
  canvas.width = width
  canvas.height = height
  const context = canvas.getContext('2d')
  if (context === null) return null
  const out = context.createImageData(width, height)
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, i = 0] = pictureInverse(map)
  const to32 = new Uint32Array(out.data.buffer)
  const from32 = new Uint32Array(source.data.buffer)
  for (let row = 0; row < height; row++) {
    const y = box.maxY - (row + 0.5) / scale
    for (let column = 0; column < width; column++) {
      const x = box.minX + (column + 0.5) / scale
      const w = g * x + h * y + i
      const u = Math.floor((a * x + b * y + c) / w)
      const v = Math.floor((d * x + e * y + f) / w)
      if (u < 0 || v < 0 || u >= source.width || v >= source.height) continue
      // Behind the camera the same pixels come up once more.
      if (pictureToPlan(map, { x: u + 0.5, y: v + 0.5 }) === null) continue
      to32[row * width + column] = from32[v * source.width + u] ?? 0
    }
  }
  context.putImageData(out, 0, 0)
  return { box, canvas }
}

function pixelsOf(image: ImageBitmap): ImageData | null {
  const canvas = document.createElement('canvas')
  canvas.width = image.width
  canvas.height = image.height
  const context = canvas.getContext('2d')
  if (context === null) return null
  context.drawImage(image, 0, 0)
  return context.getImageData(0, 0, image.width, image.height)
}
