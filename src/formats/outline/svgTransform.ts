import type { Point } from '../../core/geom/index.ts'

/** x' = a x + c y + e, y' = b x + d y + f. */
export type Affine = readonly [a: number, b: number, c: number, d: number, e: number, f: number]

export const affineNone: Affine = [1, 0, 0, 1, 0, 0]

export const affineApply = ([a, b, c, d, e, f]: Affine, { x, y }: Point): Point => ({ x: a * x + c * y + e, y: b * x + d * y + f })

/** The second within the first. */
export function affineThen([a, b, c, d, e, f]: Affine, [p, q, r, s, t, u]: Affine): Affine {
  return [a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * u + e, b * t + d * u + f]
}

const about = (x: number, y: number, [a, b, c, d]: Affine): Affine => [a, b, c, d, x - a * x - c * y, y - b * x - d * y]

/** A list of transforms as SVG writes it; null: it cannot be read. [SVG-2] section 8.5. */
export function transformRead(text: string): Affine | null {
  let all: Affine = affineNone
  const rest = text.replaceAll(/([a-z]+)\s*\(([^()]*)\)[\s,]*/gi, (whole, name: string, list: string) => {
    const numbers = list
      .trim()
      .split(/[\s,]+/)
      .map(Number)
    const one = numbers.every(Number.isFinite) ? transformOf(name, numbers) : null
    if (one === null) return whole
    all = affineThen(all, one)
    return ''
  })
  return rest.trim() === '' ? all : null
}

function transformOf(name: string, numbers: readonly number[]): Affine | null {
  const [first = 0, second, third] = numbers
  const turn = (first * Math.PI) / 180
  switch (`${name} ${numbers.length}`) {
    case 'matrix 6': {
      const [a = 1, b = 0, c = 0, d = 1, e = 0, f = 0] = numbers
      return [a, b, c, d, e, f]
    }
    case 'translate 1':
    case 'translate 2':
      return [1, 0, 0, 1, first, second ?? 0]
    case 'scale 1':
    case 'scale 2':
      return [first, 0, 0, second ?? first, 0, 0]
    case 'rotate 1':
    case 'rotate 3':
      return about(second ?? 0, third ?? 0, [Math.cos(turn), Math.sin(turn), -Math.sin(turn), Math.cos(turn), 0, 0])
    case 'skewX 1':
      return [1, 0, Math.tan(turn), 1, 0, 0]
    case 'skewY 1':
      return [1, Math.tan(turn), 0, 1, 0, 0]
    default:
      return null
  }
}
