import { describe, expect, it } from 'vitest'
import { farPaint, farRepaint } from '../../../src/app/canvas/farPicture.ts'
import type { FarFrame } from '../../../src/app/canvas/farPicture.ts'
import { tracksIn } from '../../../src/app/canvas/tracksDrawn.ts'
import { boxesOverlap, pathBox, pathPoseAt, polylineNearest } from '../../../src/core/geom/index.ts'
import type { NetworkTrack } from '../../../src/core/network/types.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import type { Id } from '../../../src/core/plan/types.ts'
import { bigPlan, withCornerMoved } from '../../support/bigPlan.ts'

type Tracks = ReadonlyMap<Id, NetworkTrack>
type Place = readonly [x: number, y: number]

const plan = bigPlan()
// One pipeline: tracks that nothing has touched stay the same objects, as on the desk.
const pipeline = pipelineCreate()
const shown = pipeline.derive(plan).network.tracks
const [moved] = Object.values(plan.tracks).filter(({ corners }) => corners.length > 0)
if (moved === undefined) throw new Error('no track with a corner')
const now = pipeline.derive(withCornerMoved(plan, moved.id, moved.corners[0]?.id ?? '', 40, 25)).network.tracks

const frame: FarFrame = { minX: -1e5, maxY: 1e5, scale: 0.05, width: 10_000, height: 10_000, density: 1, ink: '#000' }

/** Writes down where lines begin, and what is wiped. */
function paper(): {
  readonly context: CanvasRenderingContext2D
  readonly begun: Place[]
  readonly lines: Place[][]
  readonly wiped: number[][]
} {
  const begun: Place[] = []
  const lines: Place[][] = []
  const wiped: number[][] = []
  const nothing = (): void => undefined
  const context = {
    clearRect: (...box: number[]) => wiped.push(box),
    moveTo: (x: number, y: number) => {
      begun.push([x, y])
      lines.push([[x, y]])
    },
    lineTo: (x: number, y: number) => lines.at(-1)?.push([x, y]),
    beginPath: nothing,
    stroke: nothing,
    save: nothing,
    restore: nothing,
    rect: nothing,
    clip: nothing,
  }
  return { context: context as unknown as CanvasRenderingContext2D, begun, lines, wiped }
}

const solved = (tracks: Tracks): readonly NetworkTrack[] => [...tracks.values()].filter(({ alignment }) => alignment.ok)

describe('lines from afar', () => {
  it('are each painted once', () => {
    const { context, begun } = paper()
    farPaint(context, frame, now)
    expect(begun).toHaveLength(solved(now).length)
  })

  // From a plan of a whole hall to one that fills the screen, and back: what is kept of one scale does not serve another.
  it.each([0.004, 0.05, 0.4, 0.05])('keep to the track within a quarter of a pixel at %d px to the mm', (scale) => {
    const { context, lines } = paper()
    const at: FarFrame = { ...frame, scale, width: 2e5 * scale, height: 2e5 * scale }
    farPaint(context, at, now)
    const tracks = solved(now)
    expect(lines).toHaveLength(tracks.length)
    for (const { alignment } of tracks) {
      if (!alignment.ok) continue
      const { path } = alignment
      const seen = (mm: number): { readonly x: number; readonly y: number } => {
        const { x, y } = pathPoseAt(path, mm)
        return { x: (x - at.minX) * scale, y: (at.maxY - y) * scale }
      }
      const [from, to] = [seen(0), seen(path.lengthMm)]
      const line = lines.find((one) => {
        const [[ax = 0, ay = 0] = [], [bx = 0, by = 0] = []] = [one[0], one.at(-1)]
        return Math.hypot(ax - from.x, ay - from.y) < 0.02 && Math.hypot(bx - to.x, by - to.y) < 0.02
      })
      const points = (line ?? []).map(([x, y]) => ({ x, y }))
      for (let i = 0; i <= 50; i++) {
        const p = seen((path.lengthMm * i) / 50)
        const near = polylineNearest(points, p)
        expect(near === null ? Infinity : near.distanceMm).toBeLessThan(0.25)
      }
    }
  })

  it('are painted again only where one has moved, with all that lie there', () => {
    const { context, begun, wiped } = paper()
    farRepaint(context, frame, shown, now)
    const [[left = 0, top = 0, width = 0, height = 0] = []] = wiped
    expect(wiped).toHaveLength(1)
    expect(begun.length).toBeGreaterThan(0)
    expect(begun.length).toBeLessThan(solved(now).length)
    // Whatever reaches into what was wiped is there again: boxes found anew, not those that are kept.
    const box = { minX: frame.minX + left / frame.scale, maxY: frame.maxY - top / frame.scale }
    const region = { ...box, maxX: box.minX + width / frame.scale, minY: box.maxY - height / frame.scale }
    const there = solved(now).filter(({ alignment }) => alignment.ok && boxesOverlap(pathBox(alignment.path, 0), region))
    expect(begun.length).toBeGreaterThanOrEqual(there.length)
    for (const { alignment } of there) {
      if (!alignment.ok) continue
      const start = alignment.path.elements[0]?.start ?? alignment.path.end
      const [x, y] = [(start.x - frame.minX) * frame.scale, (frame.maxY - start.y) * frame.scale]
      expect(begun.some(([bx, by]) => Math.hypot(bx - x, by - y) < 0.01)).toBe(true)
    }
  })

  it('stay as they are when nothing has moved', () => {
    const { context, begun, wiped } = paper()
    farRepaint(context, frame, now, now)
    expect([begun, wiped]).toEqual([[], []])
  })
})

describe('tracks in a region', () => {
  it.each([
    { minX: -500, minY: -500, maxX: 500, maxY: 500 },
    { minX: 1000, minY: 300, maxX: 3000, maxY: 900 },
    { minX: -9e6, minY: -9e6, maxX: -8e6, maxY: -8e6 },
  ])('are those that a look at every box anew finds: $minX to $maxX', (region) => {
    const slow = solved(now).flatMap(({ alignment, track }) =>
      alignment.ok && alignment.path.elements.length > 0 && boxesOverlap(pathBox(alignment.path, 0), region) ? [track.id] : [],
    )
    const fast = tracksIn(now, region).filter((id) => now.get(id)?.alignment.ok === true)
    expect(fast.toSorted()).toEqual(slow.toSorted())
  })
})
