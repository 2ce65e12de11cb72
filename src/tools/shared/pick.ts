import {
  boxContains,
  boxGrow,
  pathBoxKept,
  pathNearest,
  pathPoseAt,
  pointDistance,
  polygonContains,
  polylineNearest,
  poseToLocal,
  ringContains,
  segmentNearest,
} from '../../core/geom/index.ts'
import type { Path, Point } from '../../core/geom/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import type { Id } from '../../core/plan/types.ts'
import { readingMeasure } from '../../core/readings/index.ts'
import type { Pick, ToolContext } from '../types.ts'
import { pickTolerancePx } from '../types.ts'
import { inSight } from './inSight.ts'
import { benchworkRing, benchworkRings, trackHandles } from './handles.ts'
import { turnKnobAt } from '../select/several.ts'
import { roomHandlePicks, roomThingPicks } from './roomPicks.ts'

/** How far from the pointer a thing may lie and still be meant, mm. */
export function pickToleranceMm(context: ToolContext): number {
  return pickTolerancePx / context.pxPerMm
}

/**
 * What lies under the pointer, the most likely meant first: what can be taken hold of of the selected thing, then turnouts,
 * crossings, tracks, things of the room, and at last the surfaces that they lie on.
 */
export function picksAt(context: ToolContext, at: Point): readonly Pick[] {
  const seen = inSight(context)
  return [
    ...knobPicks(seen, at),
    ...handlePicks(seen, at),
    ...roomHandlePicks(seen, at),
    ...turnoutPicks(seen, at),
    ...crossingPicks(seen, at),
    ...trackPicks(seen, at),
    ...roomThingPicks(seen, at),
    ...aidPicks(seen, at),
    ...surfacePicks(seen, at),
  ]
}

/** Pinned measurements by their lines, guides anywhere along them. */
function aidPicks(context: ToolContext, at: Point): readonly Pick[] {
  const { plan, derived } = context
  const tolerance = pickToleranceMm(context)
  const readings = Object.values(plan.readings).flatMap(({ id, of }): readonly Pick[] => {
    const measured = readingMeasure(of, derived.network)
    if (measured.kind === 'unknown') return []
    const [only] = measured.line
    const near = measured.line.length > 1 ? polylineNearest(measured.line, at)?.distanceMm : only && pointDistance(only, at)
    return (near ?? Infinity) <= tolerance ? [{ kind: 'reading', reading: id, at }] : []
  })
  const guides = Object.values(plan.guides).flatMap((guide): readonly Pick[] =>
    Math.abs(poseToLocal({ ...guide.at, headingRad: guide.angleRad }, at).y) <= tolerance ? [{ kind: 'guide', guide: guide.id, at }] : [],
  )
  return [...readings, ...guides]
}

function knobPicks(context: ToolContext, at: Point): readonly Pick[] {
  const knob = turnKnobAt(context)
  return knob !== null && pointDistance(knob, at) <= pickToleranceMm(context) ? [{ kind: 'turnKnob', at: knob }] : []
}

/** Handles show, and can be taken, only of what is selected: PIs and ends of a track, corners and sides of benchwork. */
function handlePicks(context: ToolContext, at: Point): readonly Pick[] {
  const tolerance = pickToleranceMm(context)
  const near: { readonly pick: Pick; readonly distance: number }[] = []
  const offer = (pick: Pick): void => {
    const distance = pointDistance(pick.at, at)
    if (distance <= tolerance) near.push({ pick, distance })
  }
  const trackId = selectedTrack(context)
  const networkTrack = trackId === null ? undefined : context.derived.network.tracks.get(trackId)
  if (networkTrack !== undefined) {
    const { track } = networkTrack
    const handles = trackHandles(networkTrack)
    handles.corners.forEach((corner, index) => {
      const stored = track.corners[index]
      if (stored !== undefined) offer({ kind: 'corner', track: track.id, corner: stored.id, index, at: corner })
    })
    if (handles.start !== null) offer({ kind: 'trackEnd', track: track.id, end: 'start', at: handles.start })
    if (handles.end !== null) offer({ kind: 'trackEnd', track: track.id, end: 'end', at: handles.end })
  }
  const benchworkId = selectedBenchwork(context)
  const benchwork = benchworkId === null ? undefined : context.plan.benchworks[benchworkId]
  if (benchwork !== undefined) {
    for (const [ring, points] of benchworkRings(benchwork)) {
      points.forEach((point, index) => offer({ kind: 'ringPoint', benchwork: benchwork.id, ring, index, at: point }))
    }
  }
  return near.sort((a, b) => a.distance - b.distance).map(({ pick }) => pick)
}

/** The track whose PIs and ends are shown. */
export function selectedTrack({ selection }: ToolContext): Id | null {
  if (selection.kind === 'corner' || selection.kind === 'trackEnd') return selection.track
  return selection.kind === 'record' && selection.table === 'tracks' ? selection.id : null
}

export function selectedBenchwork({ selection }: ToolContext): Id | null {
  if (selection.kind === 'ringPoint') return selection.benchwork
  return selection.kind === 'record' && selection.table === 'benchworks' ? selection.id : null
}

/** A turnout is meant on either of its routes, from the points to the end of the frog. */
function turnoutPicks(context: ToolContext, at: Point): readonly Pick[] {
  const tolerance = pickToleranceMm(context)
  const near: { readonly pick: Pick; readonly distance: number }[] = []
  for (const [id, { result }] of context.derived.network.turnouts) {
    const pose = result.pose
    if (pose === null || result.geometry === null) continue
    const { geometry } = result
    if (pointDistance(pose, at) > geometry.overallMm * 1.5 + tolerance) continue
    const cos = Math.cos(pose.headingRad)
    const sin = Math.sin(pose.headingRad)
    const local = { x: (at.x - pose.x) * cos + (at.y - pose.y) * sin, y: (at.y - pose.y) * cos - (at.x - pose.x) * sin }
    const distance = Math.min(...geometry.routes.map(({ centre }) => nearOnPath(centre, local)))
    if (distance <= Math.max(tolerance, geometry.request.gaugeMm / 2))
      near.push({ pick: { kind: 'turnout', turnout: id, at: pose }, distance })
  }
  return near.sort((a, b) => a.distance - b.distance).map(({ pick }) => pick)
}

/** A crossing is meant near its middle, where its tracks are a gauge or less apart. */
function crossingPicks(context: ToolContext, at: Point): readonly Pick[] {
  const reach = Math.max(pickToleranceMm(context), context.plan.railway.gaugeMm)
  return [...context.derived.network.crossings.values()]
    .map(({ id, pose }) => ({
      pick: { kind: 'crossing' as const, crossing: id, at: { x: pose.x, y: pose.y } },
      distance: pointDistance(pose, at),
    }))
    .filter(({ distance }) => distance <= reach)
    .sort((a, b) => a.distance - b.distance)
    .map(({ pick }) => pick)
}

function nearOnPath(path: Path, point: Point): number {
  return path.elements.length === 0 ? Infinity : pathNearest(path, point).distanceMm
}

/** The nearest place of every track within reach of the pointer, nearest track first. A track is as broad as its gauge. */
export function trackPicks(all: ToolContext, at: Point): readonly Extract<Pick, { kind: 'track' }>[] {
  const context = inSight(all)
  const found: { readonly pick: Extract<Pick, { kind: 'track' }>; readonly distance: number }[] = []
  const reach = Math.max(pickToleranceMm(context), context.plan.railway.gaugeMm / 2)
  for (const networkTrack of context.derived.network.tracks.values()) {
    for (const path of drawnPaths(networkTrack)) {
      if (path.elements.length === 0 || !boxContains(boxGrow(pathBoxKept(path), reach), at)) continue
      const near = pathNearest(path, at)
      if (near.distanceMm > reach) continue
      const { headingRad } = pathPoseAt(path, near.stationMm)
      const pick = {
        kind: 'track',
        track: networkTrack.track.id,
        stationMm: near.stationMm,
        headingRad,
        at: { x: near.x, y: near.y },
      } as const
      found.push({ pick, distance: near.distanceMm })
    }
    if (!networkTrack.alignment.ok) {
      for (const [a, b] of trackHandles(networkTrack).sides) {
        const near = segmentNearest(a, b, at)
        if (near.distanceMm > reach) continue
        const headingRad = Math.atan2(b.y - a.y, b.x - a.x)
        const pick = { kind: 'track', track: networkTrack.track.id, stationMm: 0, headingRad, at: near.at } as const
        found.push({ pick, distance: near.distanceMm })
      }
    }
  }
  return found.sort((a, b) => a.distance - b.distance).map(({ pick }) => pick)
}

function drawnPaths({ alignment }: NetworkTrack): readonly Path[] {
  return alignment.ok ? [alignment.path] : alignment.pieces
}

/** The side of the selected track's polygon, or of the selected benchwork, under the pointer: where a point can be put in. */
export function sidePick(context: ToolContext, at: Point): Pick | null {
  const tolerance = pickToleranceMm(context)
  const benchworkId = selectedBenchwork(context)
  const benchwork = benchworkId === null ? undefined : context.plan.benchworks[benchworkId]
  let best: { readonly pick: Pick; readonly distance: number } | null = null
  const offer = (pick: Pick): void => {
    const distance = pointDistance(pick.at, at)
    if (distance <= tolerance && (best === null || distance < best.distance)) best = { pick, distance }
  }
  if (benchwork !== undefined) {
    for (const [ring] of benchworkRings(benchwork)) {
      const points = benchworkRing(benchwork, ring)
      points.forEach((b, i) => {
        const index = i === 0 ? points.length : i
        offer({ kind: 'ringSide', benchwork: benchwork.id, ring, index, at: segmentNearest(points.at(i - 1) ?? b, b, at).at })
      })
    }
  }
  const trackId = selectedTrack(context)
  const networkTrack = trackId === null ? undefined : context.derived.network.tracks.get(trackId)
  if (networkTrack !== undefined) {
    trackHandles(networkTrack).sides.forEach(([a, b], side) => {
      offer({ kind: 'trackSide', track: networkTrack.track.id, side, at: segmentNearest(a, b, at).at })
    })
  }
  return best === null ? null : (best as { readonly pick: Pick }).pick
}

function surfacePicks(context: ToolContext, at: Point): readonly Pick[] {
  const picks: Pick[] = []
  const tolerance = pickToleranceMm(context)
  for (const wall of Object.values(context.plan.walls)) {
    // Once the room stands a wall is meant only by its very line: what is pointed at beside it is a track, or nothing.
    const reach = context.isRoomWork === false ? tolerance / 3 : Math.max(tolerance, wall.thicknessMm)
    const sides = wall.points.map((b, i) => [i === 0 && !wall.isClosed ? b : (wall.points.at(i - 1) ?? b), b] as const)
    if (sides.some(([a, b]) => segmentNearest(a, b, at).distanceMm <= reach)) picks.push({ kind: 'wall', wall: wall.id, at })
  }
  for (const obstacle of Object.values(context.plan.obstacles)) {
    if (ringContains(obstacle.outline, at)) picks.push({ kind: 'obstacle', obstacle: obstacle.id, at })
  }
  const boards = Object.values(context.plan.benchworks).filter((benchwork) => polygonContains(benchwork, at))
  // The last drawn lies on top.
  for (const benchwork of boards.toReversed()) picks.push({ kind: 'benchwork', benchwork: benchwork.id, at })
  return picks
}
