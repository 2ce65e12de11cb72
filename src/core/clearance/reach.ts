import { pathFromElements, pathJumpBefore, pathsJoined, poseJumped } from '../geom/index.ts'
import type { Path } from '../geom/types.ts'
import { sweepSideFinder, sweepStations } from '../vehicles/index.ts'
import type { RigidBody, SideReach } from '../vehicles/index.ts'
import { lineZones, zoneLine } from './profile.ts'
import type { JumpedPath, Zone, ZoneElement, ZoneLine } from './profile.ts'
import { bodiesFeel, bodiesReach, elementReach, jumpReach, largerReach, noReach } from './steady.ts'

/** Left of a line, or right of it. */
export type LineSide = 1 | -1

/** How far what runs on a line reaches to both sides of it, asked station by station. mm. */
export interface LineReach {
  readonly sidesAt: (stationMm: number) => SideReach
  /** The same for one side, at half the price. */
  readonly sideAt: (stationMm: number, side: LineSide) => number
  /** Never less than what `sidesAt` says of any station not farther away than twice the most, and known at once. */
  readonly mostAt: (stationMm: number) => SideReach
  /** The most to either side anywhere. */
  readonly mostMm: number
  /** On a straight. */
  readonly halfMm: number
}

/** Reaches over a zone at rising stations, counted from its start, found when they are asked for. */
interface SweptZone {
  readonly stations: readonly number[]
  readonly sideOf: (station: number, side: LineSide) => number
}

/** The same at a place of a line. */
interface PlacedZone {
  readonly atMm: number
  readonly band: SweptZone
}

/** Keeps what was swept once. Forgetting costs time and changes nothing. */
export type ZoneStore = (bodies: readonly RigidBody[], line: ZoneLine) => SweptZone

/** Stations of a zone lie at most this far apart, kinks among them; between them the band's edge is straight: 0.015 mm on a bend of 550 mm. */
const zoneStepMm = 8
/** Where the line has a kink its edge bends at once, by as much as the end of a car leans: half the step, half of what chords leave. */
const kinkedStepMm = 4
/** As many zones as the bends of a large railway make, and again as many from before; a drag makes some at every step that nobody asks for again. */
const mostZones = 500

/** A store of swept zones. */
export function zoneStore(): ZoneStore {
  const ofBodies = new WeakMap<readonly RigidBody[], { known: Map<string, SweptZone>; older: Map<string, SweptZone> }>()
  return (bodies, line) => {
    const kept = ofBodies.get(bodies) ?? { known: new Map<string, SweptZone>(), older: new Map<string, SweptZone>() }
    ofBodies.set(bodies, kept)
    const key = zoneKey(line)
    const before = kept.known.get(key)
    if (before !== undefined) return before
    if (kept.known.size >= mostZones) {
      kept.older = kept.known
      kept.known = new Map()
    }
    const swept = kept.older.get(key) ?? zoneSwept(bodies, line)
    kept.known.set(key, swept)
    return swept
  }
}

/** What decides how a zone is swept, to the last digit. */
function zoneKey({ elements, overMm, lengthMm: zoneMm }: ZoneLine): string {
  const told = elements.flatMap(({ lengthMm, k0, k1, jump }) =>
    jump === null ? [lengthMm, k0, k1] : ['jump', jump.turnRad, jump.aheadMm, jump.leftMm, lengthMm, k0, k1],
  )
  return [overMm, zoneMm, ...told].join(' ')
}

/** The elements of a zone laid one behind another, from the origin on. */
function zonePath(elements: readonly ZoneElement[]): Path {
  let pose = { x: 0, y: 0, headingRad: 0 }
  return pathsJoined(
    elements.map((element) => {
      const part = pathFromElements(element.jump === null ? pose : poseJumped(pose, element.jump), [element])
      pose = part.end
      return part
    }),
  )
}

function zoneSwept(bodies: readonly RigidBody[], { elements, overMm: before, lengthMm: zoneMm }: ZoneLine): SweptZone {
  const path = zonePath(elements)
  const lengthMm = Math.min(zoneMm, path.lengthMm - before)
  const jumping = path.elements.filter((_, i) => pathJumpBefore(path, i) !== null)
  const stations = sweepStations({ elements: jumping }, before, before + lengthMm, jumping.length > 0 ? kinkedStepMm : zoneStepMm)
  const find = sweepSideFinder(path, bodies)
  const found = { leftMm: [] as number[], rightMm: [] as number[] }
  const ofElements = elements.reduce((sides, element) => largerReach(sides, elementReach(bodies, element)), noReach)
  const byJumps = elements.reduce((sum, { jump }) => sum + (jump === null ? 0 : jumpReach(bodies, jump)), 0)
  const most = { leftMm: ofElements.leftMm + byJumps, rightMm: ofElements.rightMm + byJumps }
  const sideOf = (station: number, side: LineSide): number => {
    const name = side === 1 ? 'leftMm' : 'rightMm'
    const known = found[name][station]
    if (known !== undefined) return known
    const stationMm = Math.min(path.lengthMm, stations[station] ?? path.lengthMm)
    const sweptMm = find(stationMm, name)
    // Where no body can stand the most that it could reach counts, so that nothing is held to be free for want of a car.
    const mm = sweptMm === 0 && find(stationMm, side === 1 ? 'rightMm' : 'leftMm') === 0 ? most[name] : sweptMm
    found[name][station] = mm
    return mm
  }
  return { stations: stations.map((station) => station - before), sideOf }
}

/** A line of which no car is known: as far to both sides, all along. */
export function evenReach(halfMm: number): LineReach {
  const sides = { leftMm: halfMm, rightMm: halfMm }
  return { sidesAt: () => sides, sideAt: () => halfMm, mostAt: () => sides, mostMm: halfMm, halfMm }
}

/**
 * The reach of bodies along a line, swept only where it is asked for: by the closed formula where a car stands on one curvature, along the
 * line's zones from one sweep of each.
 *
 * Units:      mm. The path goes on before and behind the stretch that is asked about, as far as cars stand there (bodiesFeel).
 * Exactness:  that of sweepReach at steps of 8 mm, straight in between. `mostAt` bounds it: a chord leaves a line whose curvature
 *             stays within two bounds by no more than it would leave either.
 * Throws:     never.
 */
export function lineReach(path: Path, bodies: readonly RigidBody[], swept: ZoneStore): LineReach {
  const feelMm = bodiesFeel(bodies)
  const most = path.elements.map((element) => elementReach(bodies, element))
  const all = most.reduce(largerReach, noReach)
  const line: JumpedPath = { path, jumps: path.elements.map((_, i) => pathJumpBefore(path, i)) }
  const byJump = line.jumps.map((jump) => (jump === null ? 0 : jumpReach(bodies, jump)))
  const mostMm = Math.max(all.leftMm, all.rightMm) + byJump.reduce((sum, mm) => sum + mm, 0) + roundingMm
  let zones: readonly Zone[] | null = null
  const bands = new Map<Zone, PlacedZone>()
  const bandOf = (zone: Zone): PlacedZone => {
    const told = zoneLine(line, zone, feelMm)
    return { atMm: told.atMm, band: swept(bodies, told) }
  }
  const sideAt = (stationMm: number, side: LineSide): number => {
    zones ??= lineZones(line, feelMm)
    const zone = zoneAt(zones, stationMm)
    if (zone === null) return sideOfReach(most[elementAt(path, stationMm)] ?? noReach, side)
    const placed = bands.get(zone) ?? bandOf(zone)
    bands.set(zone, placed)
    return between(placed.band, stationMm - placed.atMm, side)
  }
  const sidesAt = (stationMm: number): SideReach => ({ leftMm: sideAt(stationMm, 1), rightMm: sideAt(stationMm, -1) })
  const mostAt = (stationMm: number): SideReach => {
    const fromMm = stationMm - feelMm - 2 * mostMm
    const toMm = stationMm + feelMm + 2 * mostMm
    let [leftMm, rightMm] = [0, 0]
    let jumpsMm = 0
    const first = elementAt(path, fromMm)
    for (let i = first; i < path.elements.length; i++) {
      if ((path.elements[i]?.startStationMm ?? Infinity) > toMm) break
      const sides = most[i] ?? noReach
      if (i > first) jumpsMm += byJump[i] ?? 0
      if (sides.leftMm > leftMm) leftMm = sides.leftMm
      if (sides.rightMm > rightMm) rightMm = sides.rightMm
    }
    return { leftMm: leftMm + jumpsMm + roundingMm, rightMm: rightMm + jumpsMm + roundingMm }
  }
  return { sidesAt, sideAt, mostAt, mostMm, halfMm: bodiesReach(bodies, 0).leftMm }
}

/** What a sweep may say more than the closed formula, mm. */
const roundingMm = 0.01

/** Index of the element over a station; the first or last one beyond the ends. */
function elementAt({ elements }: Path, stationMm: number): number {
  let [low, high] = [0, elements.length - 1]
  while (low < high) {
    const middle = Math.ceil((low + high) / 2)
    if ((elements[middle]?.startStationMm ?? Infinity) <= stationMm) low = middle
    else high = middle - 1
  }
  return Math.max(0, low)
}

function zoneAt(zones: readonly Zone[], stationMm: number): Zone | null {
  let [low, high] = [0, zones.length - 1]
  while (low <= high) {
    const middle = (low + high) >> 1
    const zone = zones[middle]
    if (zone === undefined) return null
    if (stationMm < zone.fromMm) high = middle - 1
    else if (stationMm > zone.toMm) low = middle + 1
    else return zone
  }
  return null
}

function between({ stations, sideOf }: SweptZone, alongMm: number, side: LineSide): number {
  let [low, high] = [0, Math.max(0, stations.length - 2)]
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if ((stations[middle] ?? Infinity) <= alongMm) low = middle
    else high = middle - 1
  }
  const [fromMm, toMm] = [stations[low] ?? 0, stations[low + 1] ?? 0]
  const share = toMm > fromMm ? Math.min(Math.max((alongMm - fromMm) / (toMm - fromMm), 0), 1) : 0
  const a = sideOf(low, side)
  return share === 0 ? a : a + (sideOf(low + 1, side) - a) * share
}

export const sideOfReach = ({ leftMm, rightMm }: SideReach, side: LineSide): number => (side === 1 ? leftMm : rightMm)
