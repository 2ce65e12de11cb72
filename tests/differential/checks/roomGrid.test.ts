import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { planFindings } from '../../support/checks.ts'
import { aTrack, planWith } from '../../support/plans.ts'
import { aPost, aRoom, aShelf, box } from '../../support/rooms.ts'

const SEED = 20261126

interface Rect {
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
}

const WIDTH = 3000
const HEIGHT = 2400
const GRID = 20
/** No point of the floor is farther than this from a point of the grid. */
const GRID_MM = GRID * Math.SQRT1_2

const columns = WIDTH / GRID + 1
const rows = HEIGHT / GRID + 1

/** How far a point is from all that stands in the room and from its walls, by the plainest means. */
function clearance(rects: readonly Rect[], x: number, y: number): number {
  let least = Math.min(x, y, WIDTH - x, HEIGHT - y)
  for (const { minX, minY, maxX, maxY } of rects) {
    least = Math.min(least, Math.hypot(Math.max(minX - x, 0, x - maxX), Math.max(minY - y, 0, y - maxY)))
  }
  return least
}

function field(rects: readonly Rect[]): Float64Array {
  const values = new Float64Array(columns * rows)
  for (let j = 0; j < rows; j++) for (let i = 0; i < columns; i++) values[j * columns + i] = clearance(rects, i * GRID, j * GRID)
  return values
}

/** Distance to the nearest point of the grid that is so far from everything. */
function nearestStanding(values: Float64Array, leastMm: number, x: number, y: number): number {
  let best = Infinity
  values.forEach((value, at) => {
    if (value >= leastMm) best = Math.min(best, Math.hypot((at % columns) * GRID - x, Math.floor(at / columns) * GRID - y))
  })
  return best
}

/** Twice the most clearance that a way from one point of the grid to another keeps: flooded from wide to narrow. */
function widestWay(values: Float64Array, from: number, to: number): number {
  const order = [...values.keys()].toSorted((a, b) => (values[b] ?? 0) - (values[a] ?? 0))
  const parent = new Int32Array(values.length).fill(-1)
  const find = (at: number): number => {
    let root = at
    while (parent[root] !== root) root = parent[root] ?? root
    let next = at
    while (next !== root) {
      const up = parent[next] ?? root
      parent[next] = root
      next = up
    }
    return root
  }
  for (const at of order) {
    parent[at] = at
    const [i, j] = [at % columns, Math.floor(at / columns)]
    for (let dj = -1; dj <= 1; dj++)
      for (let di = -1; di <= 1; di++) {
        const [ni, nj] = [i + di, j + dj]
        const next = nj * columns + ni
        if (ni < 0 || nj < 0 || ni >= columns || nj >= rows || parent[next] === -1) continue
        parent[find(next)] = find(at)
      }
    if (parent[from] !== -1 && parent[to] !== -1 && find(from) === find(to)) return 2 * (values[at] ?? 0)
  }
  return 0
}

const room = aRoom({ points: box(0, 0, WIDTH, HEIGHT) })
const rectOf = ({ minX, minY, maxX, maxY }: Rect) => box(minX, minY, maxX, maxY)
const rect: fc.Arbitrary<Rect> = fc
  .record({
    x: fc.integer({ min: 0, max: 2400 }),
    y: fc.integer({ min: 0, max: 1800 }),
    w: fc.integer({ min: 100, max: 1400 }),
    h: fc.integer({ min: 100, max: 1200 }),
  })
  .map(({ x, y, w, h }) => ({ minX: x, minY: y, maxX: Math.min(WIDTH, x + w), maxY: Math.min(HEIGHT, y + h) }))

describe('reach and aisle against a grid of points', () => {
  it('measures the reach that the grid measures', () => {
    fc.assert(
      fc.property(
        fc.array(rect, { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 100, max: 2300 }),
        fc.integer({ min: 250, max: 600 }),
        (rects, y, standMm) => {
          const plan = planWith({
            railway: { reachMm: 1, aisleMm: standMm, hatchMm: standMm },
            walls: [room],
            benchworks: rects.map((one, i) => aShelf(rectOf(one), { id: `benchwork-${i}` })),
            tracks: [aTrack({ start: { kind: 'free', x: 100, y }, end: { kind: 'free', x: 2900, y } })],
          })
          const values = field(rects)
          for (const { measured, x, y: atY } of planFindings(plan).filter(({ rule }) => rule === 'reach')) {
            // The grid's standing points are some of all; the looser ones lie near each of all.
            const strict = nearestStanding(values, standMm / 2, x, atY) - standMm / 2
            const loose = nearestStanding(values, standMm / 2 - GRID_MM, x, atY) - standMm / 2
            if (measured === null) expect(strict).toBe(Infinity)
            else {
              expect(strict).toBeGreaterThan(measured - 0.3)
              expect(loose).toBeLessThan(measured + GRID_MM + 0.3)
            }
          }
          return true
        },
      ),
      { seed: SEED, numRuns: 60 },
    )
  })

  it('finds the width of the widest way round what stands between two ends of a room', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 200, max: 2000 }),
        fc.integer({ min: -500, max: 500 }),
        fc.integer({ min: 100, max: 900 }),
        fc.boolean(),
        (lower, shift, gap, hasPost) => {
          const rects: readonly Rect[] = [
            { minX: 1400, minY: 0, maxX: 1500, maxY: lower },
            { minX: 1400 + shift, minY: Math.min(HEIGHT - 50, lower + gap), maxX: 1500 + shift, maxY: HEIGHT },
          ]
          const posts: readonly Rect[] = hasPost ? [{ minX: 1480, minY: lower + 80, maxX: 1500, maxY: lower + 100 }] : []
          const plan = planWith({
            railway: { aisleMm: 610, hatchMm: 508 },
            walls: [room],
            benchworks: rects.map((one, i) => aShelf(rectOf(one), { id: `benchwork-${i}` })),
            obstacles: posts.map((one, i) => aPost(rectOf(one), { id: `obstacle-${i}` })),
          })
          const values = field([...rects, ...posts])
          const place = (x: number, y: number): number => Math.round(y / GRID) * columns + Math.round(x / GRID)
          const widest = widestWay(values, place(400, 1200), place(2600, 1200))
          const told = planFindings(plan).filter(({ rule }) => rule === 'aisle')
          const narrowest = Math.min(610, ...told.map(({ measured }) => measured ?? 0))
          // On the grid a way keeps up to a step's half diagonal less than the true one.
          expect(narrowest).toBeGreaterThan(Math.min(610, widest) - 0.3)
          expect(narrowest).toBeLessThan(Math.min(610, widest + 2 * GRID_MM) + 0.3)
        },
      ),
      { seed: SEED, numRuns: 60 },
    )
  })
})
