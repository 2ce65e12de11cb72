import { pointDistance, ringArea, ringContains } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/index.ts'
import type { PlanCommand } from '../../core/edit/index.ts'
import type { Id } from '../../core/plan/index.ts'
import type { DrawnOutline } from '../outline/types.ts'

/** What the outlines of a drawing become. */
export type OutlineUse =
  | { readonly kind: 'benchwork' | 'wall' | 'obstacle' }
  /** Corners are where the straights of a track's line meet. */
  | { readonly kind: 'track'; readonly lineClass: Id }
export type OutlineUseKind = OutlineUse['kind']
export const outlineUses = ['benchwork', 'wall', 'obstacle', 'track'] as const satisfies readonly OutlineUseKind[]

/** Ends nearer than this, mm on the model, are one corner. */
const JOIN_MM = 0.5
/** Height of benchwork above the floor where a drawing knows none, mm: 48 in. */
const HEIGHT_MM = 1219.2
/** Thickness of a wall that was drawn as a line, mm. */
const WALL_MM = 100

export interface Intake {
  readonly commands: readonly PlanCommand[]
  /** Lines that bound nothing; of no use as benchwork or obstacle. */
  readonly open: number
}

/**
 * The commands that put the outlines of a drawing into a plan.
 *
 * Units:   mm is how long a unit of the drawing is on the model.
 * Outcome: lines that meet end to end are joined first. Benchwork and obstacles are closed outlines, those within one of benchwork are its
 *          holes; walls and tracks are closed or open.
 */
export function outlinesTakeIn(outlines: readonly DrawnOutline[], mm: number, use: OutlineUse): Intake {
  const isRing = use.kind === 'benchwork' || use.kind === 'obstacle'
  const chains = chainsJoined(
    outlines.map(({ points, isClosed }) => ({
      points: points.map(({ x, y }) => ({ x: x * mm, y: y * mm })),
      isClosed: isClosed ?? (isRing && points.length > 2),
    })),
  )
  if (use.kind === 'track') return { commands: chains.map((chain, i) => trackOf(chain, use.lineClass, i + 1)), open: 0 }
  if (use.kind === 'wall') {
    const commands = chains.map(
      ({ points, isClosed }, i): PlanCommand => ({
        kind: 'wall.add',
        record: { name: `Wall ${i + 1}`, points, isClosed, thicknessMm: WALL_MM },
      }),
    )
    return { commands, open: 0 }
  }
  const rings = chains.filter(({ isClosed, points }) => isClosed && points.length > 2).map(({ points }) => points)
  const open = chains.length - rings.length
  if (use.kind === 'obstacle')
    return {
      commands: rings.map((outline, i) => ({ kind: 'obstacle.add', record: { name: `Obstacle ${i + 1}`, outline, undersideMm: 0 } })),
      open,
    }
  const commands = ringsNested(rings).map(
    ({ outline, holes }, i): PlanCommand => ({
      kind: 'benchwork.add',
      record: { name: `Benchwork ${i + 1}`, outline, holes, heightMm: HEIGHT_MM },
    }),
  )
  return { commands, open }
}

interface ChainOfPoints {
  readonly points: readonly Point[]
  readonly isClosed: boolean
}

/** A track through a chain: its first and last points are its ends, or all are corners where it comes back to its beginning. */
function trackOf({ points, isClosed }: ChainOfPoints, lineClass: Id, number: number): PlanCommand {
  const [first = { x: 0, y: 0 }] = points
  const last = points.at(-1) ?? first
  const corners = (isClosed ? points.slice(1) : points.slice(1, -1)).map(
    ({ x, y }, i) => ({ id: `pi-${i + 1}`, x, y, radius: 'class', easementIn: 'class', easementOut: 'class' }) as const,
  )
  return {
    kind: 'track.add',
    record: {
      name: `Track ${number}`,
      lineClass,
      start: { kind: 'free', x: first.x, y: first.y },
      corners,
      end: isClosed ? { kind: 'closed' } : { kind: 'free', x: last.x, y: last.y },
    },
  }
}

/** Open chains whose ends meet are one; one whose own ends meet is closed. */
function chainsJoined(chains: readonly ChainOfPoints[]): readonly ChainOfPoints[] {
  const done: ChainOfPoints[] = chains.filter(({ isClosed }) => isClosed)
  const open = chains.filter(({ isClosed }) => !isClosed).map(({ points }) => points)
  while (open.length > 0) {
    let points = open.pop() ?? []
    for (let i = 0; i < open.length; ) {
      const joined = joinedTo(points, open[i] ?? [])
      if (joined === null) i += 1
      else {
        points = joined
        open.splice(i, 1)
        i = 0
      }
    }
    const [first, last] = [points[0], points.at(-1)]
    const isClosed = points.length > 3 && first !== undefined && last !== undefined && pointDistance(first, last) <= JOIN_MM
    done.push({ points: isClosed ? points.slice(0, -1) : points, isClosed })
  }
  return done
}

function joinedTo(points: readonly Point[], other: readonly Point[]): readonly Point[] | null {
  const [a, b, c, d] = [points[0], points.at(-1), other[0], other.at(-1)]
  if (a === undefined || b === undefined || c === undefined || d === undefined) return null
  if (pointDistance(b, c) <= JOIN_MM) return [...points, ...other.slice(1)]
  if (pointDistance(b, d) <= JOIN_MM) return [...points, ...other.toReversed().slice(1)]
  if (pointDistance(a, d) <= JOIN_MM) return [...other.slice(0, -1), ...points]
  if (pointDistance(a, c) <= JOIN_MM) return [...other.toReversed().slice(0, -1), ...points]
  return null
}

/** Outlines with the rings that lie in them, largest first; what lies in a hole is benchwork of its own. */
function ringsNested(
  rings: readonly (readonly Point[])[],
): readonly { readonly outline: readonly Point[]; readonly holes: (readonly Point[])[] }[] {
  const bySize = rings.toSorted((a, b) => Math.abs(ringArea(b)) - Math.abs(ringArea(a)))
  const pieces: { readonly outline: readonly Point[]; readonly holes: (readonly Point[])[] }[] = []
  for (const ring of bySize) {
    const [at] = ring
    if (at === undefined) continue
    const within = pieces.filter(({ outline }) => ringContains(outline, at)).at(-1)
    if (within === undefined || within.holes.some((hole) => ringContains(hole, at))) pieces.push({ outline: ring, holes: [] })
    else within.holes.push(ring)
  }
  return pieces
}
