import { pointDistance } from '../../geom/index.ts'
import type { Path, Pose } from '../../geom/types.ts'
import { baseMeasure, basePieces } from './baseline.ts'
import { alongAndOffset, evenSteps, groupsRefuse, ROWS_MAX, stationPoint, stepRows, type GroupsResult } from './rows.ts'
import { roomBlocks, setoutEdges, sightBlocked } from './room.ts'
import type { SetoutBy, SetoutEdge, SetoutNote, SetoutRequest, SetoutRow, SetoutSubject } from './types.ts'

/** Places of the stretch by which the best facing edge is chosen. */
const FACING_SAMPLES = 48

/** A place this far from an edge is worth half of one at it, mm: a square of an arm's length is hard to hold true. Common sense, no source. */
const ARM_MM = 600

type EdgeChoice = Extract<SetoutBy, { kind: 'edge' }>['edge']

function edgeIsOf(edge: SetoutEdge, choice: EdgeChoice): boolean {
  if (choice === null) return true
  if (edge.table !== choice.table || edge.id !== choice.id) return false
  return !('edge' in choice) || (edge.ring === choice.ring && edge.edge === choice.edge)
}

export function edgeFrame({ a, b }: SetoutEdge): Pose {
  return { x: a.x, y: a.y, headingRad: Math.atan2(b.y - a.y, b.x - a.x) }
}

/** Distances square to a side of a wall or of benchwork, at even steps along it; every place where the square meets the line. */
export function edgeGroups(subject: SetoutSubject, request: SetoutRequest, choice: EdgeChoice, fromMm: number, toMm: number): GroupsResult {
  const { path, room } = subject
  const edges = setoutEdges(room)
  if (edges.length === 0) return groupsRefuse({ kind: 'noEdges' })
  const choices = edges.filter((edge) => edgeIsOf(edge, choice))
  if (choices.length === 0) return groupsRefuse({ kind: 'edgeMissing' })
  const [only] = choices
  const isNamed = choice !== null && 'edge' in choice
  const edge = isNamed && only ? only : edgeBestFacing(subject, choices, fromMm, toMm)
  if (edge === null) return groupsRefuse({ kind: 'edgeNotFacing', name: null })
  const frame = edgeFrame(edge)
  const steps = evenSteps(0, pointDistance(edge.a, edge.b), request.stepMm)
  if (steps === null)
    return groupsRefuse({ kind: 'tooManyRows', rows: Math.ceil(pointDistance(edge.a, edge.b) / request.stepMm), most: ROWS_MAX })
  const rows = stepRows(path, frame, basePieces(path, frame, fromMm, toMm), steps, request.marks)
  if (rows.length === 0) return groupsRefuse({ kind: 'edgeNotFacing', name: edge.name })
  if (rows.length > ROWS_MAX) return groupsRefuse({ kind: 'tooManyRows', rows: rows.length, most: ROWS_MAX })
  return {
    ok: true,
    groups: [
      {
        base: { kind: 'edge', edge, frame },
        title: `Square to ${edge.name}, from corner ${edge.edge + 1}`,
        facts: [],
        columns: alongAndOffset,
        rows,
      },
    ],
  }
}

/** Rows whose tape would pass through something. */
export function edgeNotes(subject: SetoutSubject, edge: SetoutEdge, rows: readonly SetoutRow[]): readonly SetoutNote[] {
  const blocks = roomBlocks(subject.room)
  const frame = edgeFrame(edge)
  const blocked = rows.flatMap((row) => {
    const along = row.values[0]?.exact ?? 0
    const foot = { x: frame.x + along * Math.cos(frame.headingRad), y: frame.y + along * Math.sin(frame.headingRad) }
    // A wall is thick to the right of its points: what lies there lies behind it.
    const isBehind = edge.table === 'walls' && (row.values[1]?.exact ?? 0) < 0
    const by = isBehind ? edge.name : sightBlocked(blocks, foot, row.at)
    return by === null ? [] : [{ row, by }]
  })
  const first = blocked[0]
  return first ? [{ kind: 'sightBlocked', stationMm: first.row.stationMm, by: first.by, rows: blocked.length }] : []
}

/** The edge that most of the stretch lies square to and near to, with nothing between. */
function edgeBestFacing(subject: SetoutSubject, edges: readonly SetoutEdge[], fromMm: number, toMm: number): SetoutEdge | null {
  const blocks = roomBlocks(subject.room)
  const stations = Array.from({ length: FACING_SAMPLES }, (_, i) => fromMm + ((toMm - fromMm) * (i + 0.5)) / FACING_SAMPLES)
  let best: { readonly edge: SetoutEdge; readonly worth: number } | null = null
  for (const edge of edges) {
    const distances = stations.flatMap((station) => edgeDistance(subject.path, blocks, edge, station))
    const worth = distances.reduce((sum, distance) => sum + 1 / (1 + distance / ARM_MM), 0)
    if (distances.length > 0 && (best === null || worth > best.worth)) best = { edge, worth }
  }
  return best?.edge ?? null
}

function edgeDistance(path: Path, blocks: ReturnType<typeof roomBlocks>, edge: SetoutEdge, station: number): readonly number[] {
  const frame = edgeFrame(edge)
  const { x, y } = baseMeasure(path, frame, station)
  if (x < 0 || x > pointDistance(edge.a, edge.b) || (edge.table === 'walls' && y < 0)) return []
  const foot = { x: frame.x + x * Math.cos(frame.headingRad), y: frame.y + x * Math.sin(frame.headingRad) }
  return sightBlocked(blocks, foot, stationPoint(path, station)) === null ? [Math.abs(y)] : []
}
