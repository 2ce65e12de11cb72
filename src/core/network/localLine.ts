import type { Alignment } from '../alignment/types.ts'
import { elementReverse, pathFromElements, pathPoseAt, pathSlice } from '../geom/index.ts'
import type { CurveElement, Path, Pose } from '../geom/types.ts'
import type { Facing } from '../plan/types.ts'
import type { HostLine } from '../turnout/types.ts'

export type SolvedAlignment = Extract<Alignment, { ok: true }>

/**
 * As much of a track as a turnout or crossing looks at: its bends alone, wherever in the plan they lie. Two tracks that bend alike
 * there are one to it, so a track that moves or changes elsewhere leaves it as it was.
 */
export interface LocalLine {
  readonly elements: readonly CurveElement[]
  readonly atMm: number
}

/** Distances ahead of and behind a place, mm, both >= 0. */
export interface Reach {
  readonly aheadMm: number
  readonly behindMm: number
}

/**
 * The line about a station, as met by one who travels in the direction given. Where an open track ends so does the line; on a loop
 * it goes on across station zero, at most half a lap either way.
 */
export function localLine({ path, isClosed }: SolvedAlignment, stationMm: number, facing: Facing, reach: Reach): LocalLine {
  const mostMm = isClosed ? path.lengthMm / 2 : Infinity
  const isRising = facing === 'rising'
  const beforeMm = Math.min(mostMm, isRising ? reach.aheadMm : reach.behindMm)
  const beyondMm = Math.min(mostMm, isRising ? reach.behindMm : reach.aheadMm)
  const fromMm = isClosed ? stationMm - beforeMm : Math.min(stationMm, Math.max(0, stationMm - beforeMm))
  const toMm = isClosed ? stationMm + beyondMm : Math.max(stationMm, Math.min(path.lengthMm, stationMm + beyondMm))
  const elements = elementsBetween(path, isClosed, fromMm, toMm)
  return isRising ? { elements, atMm: stationMm - fromMm } : { elements: elements.toReversed().map(elementReverse), atMm: toMm - stationMm }
}

function elementsBetween(path: Path, isClosed: boolean, fromMm: number, toMm: number): readonly CurveElement[] {
  const { lengthMm } = path
  const part = (from: number, to: number): readonly CurveElement[] => {
    const [low, high] = [Math.max(0, from), Math.min(lengthMm, to)]
    if (high <= low) return []
    return pathSlice(path, low, high).elements.map(({ lengthMm: length, k0, k1 }) => ({ lengthMm: length, k0, k1 }))
  }
  if (!isClosed) return part(fromMm, toMm)
  return [...part(fromMm + lengthMm, lengthMm), ...part(fromMm, toMm), ...part(0, toMm - lengthMm)]
}

export function localLineEquals(a: LocalLine | null, b: LocalLine | null): boolean {
  if (a === null || b === null) return a === b
  return (
    a.atMm === b.atMm &&
    a.elements.length === b.elements.length &&
    a.elements.every((element, i) => {
      const other = b.elements[i]
      return other !== undefined && element.lengthMm === other.lengthMm && element.k0 === other.k0 && element.k1 === other.k1
    })
  )
}

export function localLineIsStraight({ elements }: LocalLine): boolean {
  return elements.every(({ k0, k1 }) => k0 === 0 && k1 === 0)
}

/** The line in the frame of what stands on it: its place at the origin, there heading by `headingRad` from +x. */
export function localPath({ elements, atMm }: LocalLine, headingRad = 0): Path {
  const straight = pathFromElements({ x: 0, y: 0, headingRad: 0 }, elements)
  const there = elements.length === 0 ? straight.end : pathPoseAt(straight, Math.min(atMm, straight.lengthMm))
  const turnRad = headingRad - there.headingRad
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)]
  const start: Pose = { x: there.y * sin - there.x * cos, y: -there.x * sin - there.y * cos, headingRad: turnRad }
  return pathFromElements(start, elements)
}

export function hostLine(line: LocalLine): HostLine {
  return { path: localPath(line), psMm: line.atMm }
}
