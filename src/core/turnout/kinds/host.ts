import { pathCurvatureAt, pathFromElements, pathMirror, pathMove, pathOffset, pathPoseAt, pathSlice, rootBrent } from '../../geom/index.ts'
import type { CurveElement, Path, Pose } from '../../geom/types.ts'
import { straight } from '../bend.ts'
import type { HostLine, TurnoutProblem, TurnoutRequest } from '../types.ts'
import type { Side } from '../work/types.ts'

/**
 * As much of the host as a turnout may need, PS at the origin along +x, with its two gauge lines. Where the host given ends, this
 * one runs on at the curvature of that end, so that what is missing can be told.
 */
export interface Host {
  readonly centre: Path
  readonly psMm: number
  readonly left: Path
  readonly right: Path
  readonly gaugeMm: number
}

/** A host is read no farther than it turns by this from PS: beyond, 'nearest' and 'square to' would find another lap. */
const mostTurnRad = 2.5
const turnSteps = 64
const stationToleranceMm = 1e-12

/** The host from `aheadMm` ahead of PS to `behindMm` behind it; null when a curve in it is tighter than the gauge. */
export function hostPrepare(line: HostLine | null, gaugeMm: number, aheadMm: number, behindMm: number): Host | null {
  const { centre, psMm } = line ? hostWindow(line, aheadMm, behindMm) : straightWindow(aheadMm, behindMm)
  if (centre.elements.some(({ k0, k1 }) => Math.max(Math.abs(k0), Math.abs(k1)) * gaugeMm >= 1)) return null
  return { centre, psMm, left: pathOffset(centre, gaugeMm / 2), right: pathOffset(centre, -gaugeMm / 2), gaugeMm }
}

interface Window {
  readonly centre: Path
  readonly psMm: number
}

function straightWindow(aheadMm: number, behindMm: number): Window {
  return { centre: pathFromElements({ x: -aheadMm, y: 0, headingRad: 0 }, [straight(aheadMm + behindMm)]), psMm: aheadMm }
}

function hostWindow({ path, psMm }: HostLine, aheadMm: number, behindMm: number): Window {
  const from = psMm - aheadMm
  const to = psMm + behindMm
  const given = pathSlice(path, Math.max(0, from), Math.min(path.lengthMm, to))
  const runOn = (lengthMm: number, k: number): CurveElement => ({ lengthMm: Math.max(0, lengthMm), k0: k, k1: k })
  const elements: readonly CurveElement[] = [
    runOn(-from, pathCurvatureAt(path, 0)),
    ...given.elements,
    runOn(to - path.lengthMm, path.elements[path.elements.length - 1]?.k1 ?? 0),
  ]
  const whole = pathFromPs(elements, aheadMm)
  const reach = (toward: 1 | -1, mostMm: number): number => {
    for (let i = 1; i <= turnSteps; i++) {
      const heading = pathPoseAt(whole, aheadMm + (toward * mostMm * i) / turnSteps).headingRad
      if (Math.abs(heading) > mostTurnRad) return (mostMm * (i - 1)) / turnSteps
    }
    return mostMm
  }
  const ahead = reach(-1, aheadMm)
  return { centre: pathSlice(whole, aheadMm - ahead, aheadMm + reach(1, behindMm)), psMm: ahead }
}

/** A path of these elements whose place at a station is the origin along +x. */
function pathFromPs(elements: readonly CurveElement[], psMm: number): Path {
  const path = pathFromElements({ x: 0, y: 0, headingRad: 0 }, elements)
  const ps = pathPoseAt(path, psMm)
  const turned = pathMove(path, { x: 0, y: 0, headingRad: -ps.headingRad })
  const at = pathPoseAt(turned, psMm)
  return pathMove(turned, { x: -at.x, y: -at.y, headingRad: 0 })
}

/** Pose of the host's centreline at a distance behind PS (negative: ahead). */
export function hostPoseAt({ centre, psMm }: Host, fromPsMm: number): Pose {
  const { x, y, headingRad } = pathPoseAt(centre, psMm + fromPsMm)
  return { x, y, headingRad }
}

/**
 * Station on a gauge line of the host abreast of a distance behind PS. An offset d is shorter by d times the turn: exact.
 */
export function railStationAt(host: Host, side: Side, fromPsMm: number): number {
  const station = host.psMm + fromPsMm
  const turn = pathPoseAt(host.centre, station).headingRad - pathPoseAt(host.centre, 0).headingRad
  return station - offsetOf(host, side) * turn
}

/** The reverse of railStationAt; to 1e-12 mm, the nearer end of the host outside it. */
export function hostStationOf(host: Host, side: Side, railStationMm: number): number {
  const { psMm, centre } = host
  const root = rootBrent((s) => railStationAt(host, side, s) - railStationMm, -psMm, centre.lengthMm - psMm, stationToleranceMm)
  if (root.ok) return root.x
  return railStationMm <= 0 ? -psMm : centre.lengthMm - psMm
}

/** Part of a gauge line between two distances behind PS. */
export function hostRail(host: Host, side: Side, fromMm: number, toMm: number): Path {
  return pathSlice(host[side], railStationAt(host, side, fromMm), railStationAt(host, side, toMm))
}

function offsetOf({ gaugeMm }: Host, side: Side): number {
  return side === 'left' ? gaugeMm / 2 : -gaugeMm / 2
}

/** The same host seen in a mirror along +x: its left hand is the right. */
export function hostMirror(line: HostLine | null): HostLine | null {
  return line && { path: pathMirror(line.path), psMm: line.psMm }
}

/** A host of these elements as seen from a turnout whose PS lies `psMm` along it. */
export function hostOfElements(elements: readonly CurveElement[], psMm: number): HostLine {
  return { path: pathFromPs(elements, psMm), psMm }
}

/** The host with all its curvature times a factor. */
export function hostEased({ path, psMm }: HostLine, factor: number): HostLine {
  const elements = path.elements.map(({ lengthMm, k0, k1 }) => ({ lengthMm, k0: k0 * factor, k1: k1 * factor }))
  return { path: pathFromPs(elements, psMm), psMm }
}

/** Sharpest curvature of a host between two distances behind PS, 1/mm, without sign. */
export function hostSharpest({ path, psMm }: HostLine, fromMm: number, toMm: number): number {
  const [from, to] = [fromMm, toMm].map((mm) => Math.min(path.lengthMm, Math.max(0, psMm + mm)))
  const part = pathSlice(path, from ?? 0, to ?? path.lengthMm)
  return Math.max(0, ...part.elements.map(({ k0, k1 }) => Math.max(Math.abs(k0), Math.abs(k1))))
}

/** The frog lies within this many leads of the same turnout on a straight host. */
const mostLeads = 3

/** The host as far as a turnout of this request can reach; `furtherMm`: so much farther ahead. */
export function hostForRequest(request: TurnoutRequest, frogAngleRad: number, furtherMm = 0): Host | null {
  const { gaugeMm, pointThicknessMm: t, heelSpreadMm, pointLengthMm, railHeadMm, tieSpacingMm, toeLengthMm, heelLengthMm } = request
  const switchRad = Math.asin(Math.min(1, (heelSpreadMm - t) / pointLengthMm))
  const setMm = gaugeMm * Math.tan(switchRad / 2) + t / Math.sin(switchRad) + railHeadMm
  const leadMm = pointLengthMm + gaugeMm / Math.tan(frogAngleRad / 2) + toeLengthMm
  const apartMm = Math.max(request.tieLengthMm, request.foulingMm) / Math.sin(frogAngleRad)
  return hostPrepare(
    request.host,
    gaugeMm,
    furtherMm + 2 * tieSpacingMm + mostLeads * setMm,
    mostLeads * leadMm + heelLengthMm + 2 * apartMm,
  )
}

/** A host bends where it turns by more than this, 1/mm: rounding of what was straight. */
const straightCurvature = 1e-12
const hostSlackMm = 1e-6

/** Why a host is not straight from a distance behind PS (below 0: ahead) to PS; null: it is. */
export function hostStraightFrom({ path, psMm }: HostLine, fromMm: number): TurnoutProblem | null {
  const shortByMm = -fromMm - psMm
  if (shortByMm > hostSlackMm) return { kind: 'hostTooShort', end: 'ahead', shortByMm }
  const isStraight = hostSharpest({ path, psMm }, fromMm + hostSlackMm, -hostSlackMm) <= straightCurvature
  return isStraight ? null : { kind: 'hostNotStraight', fromMm }
}
