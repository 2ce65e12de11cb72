import { boxContains, pathPoseAt, poseToPlan } from '../geom/index.ts'
import { freeSpacePlace, type FreeSpace, type Place } from './freeSpace.ts'
import type { PlanItem } from './planItem.ts'
import { placeBeside, type MarkedLine } from './stationItems.ts'
import type { PlanText } from './text.ts'
import type { SetTurnout } from './turnoutItems.ts'

/** A sheet of any paper shows a track's name once or twice. */
const EVERY_MM = 250

const look = { kind: 'text', layer: 'names', sizeMm: 3.6, weight: 'regular', grey: 0.25 } as const satisfies Partial<PlanText>

/** The name of a track along it, clear of its stations; left out where there is no room. */
export function trackNames(line: MarkedLine, name: string, space: FreeSpace): readonly PlanItem[] {
  if (name.trim() === '') return []
  const count = Math.max(1, Math.round((line.toMm - line.fromMm) / EVERY_MM))
  return Array.from({ length: count }, (_, i) => line.fromMm + ((i + 0.5) / count) * (line.toMm - line.fromMm)).flatMap((middle) => {
    const places = [0, -20, 20, -40, 40]
      .map((ahead) => middle + ahead)
      .filter((station) => station > line.fromMm && station < line.toMm && boxContains(space.within, pathPoseAt(line.path, station)))
      .flatMap((station) =>
        [12, -12, 18, -18].map((beyond) => placeBeside(line.path, station, beyond + Math.sign(beyond) * line.halfTieMm, 'middle', 0)),
      )
    return freeSpacePlace(space, { ...look, text: name }, places, 'leave-out') ?? []
  })
}

/** The name of a turnout beside it, on the straight side. */
export function turnoutName({ geometry, pose }: SetTurnout, name: string, space: FreeSpace): readonly PlanItem[] {
  if (name.trim() === '') return []
  const { request, frogPoint } = geometry
  const side = request.hand === 'left' ? -1 : 1
  const places = [18, 23, 28].flatMap((beyond) =>
    [0.5, 0.35, 0.65, 0.2, 0.8].map(
      (part): Place => ({
        middle: poseToPlan(pose, { x: frogPoint.x * part, y: side * (request.tieLengthMm / 2 + beyond) }),
        angleRad: pose.headingRad,
        anchor: 'middle',
      }),
    ),
  )
  const text = freeSpacePlace(space, { ...look, weight: 'bold', text: name }, places, 'leave-out')
  return text ? [text] : []
}
