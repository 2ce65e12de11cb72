import type { RigidBody } from '../sweep/types.ts'
import type { TrainCar } from './types.ts'

/** Couplers and the gaps between bodies that lie over each other take this part of the whole length each. [COMMON-PRACTICE] */
const proudShare = 1 / 80

/**
 * Where the bodies of a car have their middles, counted forwards from the middle between its coupler faces.
 *
 * What the bodies leave of the length over couplers is shared evenly by both couplers and the gaps between bodies. Bodies longer than
 * that together are those of an articulated engine: the second one, with the boiler, lies over the first one.
 *
 * Units: mm on the model. Source: derived; the even share is common practice, no source.
 */
export function bodyPlaces({ bodies, overCouplersMm }: Pick<TrainCar, 'bodies' | 'overCouplersMm'>): readonly number[] {
  const ends = bodies.map(bodyEnds)
  const freeMm = ends.reduce((free, { frontMm, rearMm }) => free - (frontMm - rearMm), overCouplersMm)
  const joints = bodies.length + 1
  const isLapped = freeMm < 0 && bodies.length > 1
  const proudMm = isLapped ? overCouplersMm * proudShare : freeMm / joints
  const lapMm = isLapped ? joints * proudMm - freeMm : 0
  const places: number[] = []
  let front = overCouplersMm / 2 - proudMm
  for (const [i, { frontMm, rearMm }] of ends.entries()) {
    const place = front - frontMm
    places.push(place)
    front = place + rearMm - proudMm + (i === 0 ? lapMm : 0)
  }
  return places
}

/** Ends of a body, from its middle forwards. */
function bodyEnds({ ribs }: RigidBody): { readonly frontMm: number; readonly rearMm: number } {
  return { frontMm: ribs.at(-1)?.xMm ?? 0, rearMm: ribs[0]?.xMm ?? 0 }
}
