import type { Point } from '../../core/geom/types.ts'
import { roomUsual } from '../../core/room/index.ts'
import type { DoorLeaf, Hatch, Joist, LineClass, Opening, Plan, Portal, Wall } from '../../core/plan/types.ts'
import type { Prefs } from '../../store/types.ts'
import { nextName } from '../shared/names.ts'
import { openingHeld, openingOf, openingWord } from '../shared/roomThings.ts'
import type { OpeningOf } from '../types.ts'

/* What a door, hatch, joist or portal is like as long as nobody said otherwise. Common practice, no source, where nothing else is said. */

type New<R> = Omit<R, 'id'>
type Units = Prefs['units']

/** A bore of a single track at full size: 22 ft above the rail, 3 ft of masonry; from memory. */
const boreFullMm = 22 * 304.8
const masonryFullMm = 3 * 304.8

/** An opening with its middle at a place along a wall; whoever makes a second one has the width of the last. */
export function openingUsual(plan: Plan, units: Units, wall: Wall, middleMm: number, of: OpeningOf, leaf: DoorLeaf): New<Opening> {
  const openings = Object.values(plan.openings)
  const { doorMm, sillMm } = roomUsual(units)
  const widthMm = openings.at(-1)?.widthMm ?? doorMm
  return {
    name: nextName(
      openingWord[of],
      openings.filter((one) => openingOf(one) === of),
    ),
    wall: wall.id,
    fromMm: openingHeld(wall, middleMm - widthMm / 2, widthMm),
    widthMm,
    leaf: of === 'door' ? leaf : null,
    sillMm: of === 'window' ? (openings.findLast((one) => one.sillMm !== null)?.sillMm ?? sillMm) : null,
  }
}

export function joistUsual(plan: Plan, units: Units, from: Point, to: Point): New<Joist> {
  const joists = Object.values(plan.joists)
  return { name: nextName('Joist', joists), from, to, widthMm: joists.at(-1)?.widthMm ?? roomUsual(units).joistMm }
}

export function hatchUsual(plan: Plan, outline: readonly Point[]): New<Hatch> {
  return { name: nextName('Hatch', Object.values(plan.hatches)), outline }
}

/** A portal as wide as one track of the class takes up, as high as a bore is. */
export function portalUsual(plan: Plan, track: string, lineClass: LineClass, stationMm: number): New<Portal> {
  const tenth = (mm: number): number => Math.round(mm * 10) / 10
  const { ratio } = plan.railway
  const halfMm = tenth(lineClass.trackCentresMm / 2)
  return {
    name: nextName('Portal', Object.values(plan.portals)),
    track,
    stationMm,
    leftMm: halfMm,
    rightMm: halfMm,
    lengthMm: tenth(masonryFullMm / ratio),
    heightMm: tenth(boreFullMm / ratio),
  }
}
