import type { Point } from '../../core/geom/types.ts'
import { pictureToPlan } from '../../core/room/index.ts'
import type { PictureMap } from '../../core/room/index.ts'
import type { Underlay } from '../../core/plan/types.ts'

/** The frame of a picture in the plan; of a slanted one its four places, since its own frame may reach beyond the horizon. */
export function underlayOutline({ widthPx, heightPx, places }: Underlay, map: PictureMap): readonly Point[] {
  if (places.length > 2) return places.map(({ at }) => at)
  const corners = [
    { x: 0, y: 0 },
    { x: widthPx, y: 0 },
    { x: widthPx, y: heightPx },
    { x: 0, y: heightPx },
  ]
  return corners.flatMap((px) => pictureToPlan(map, px) ?? [])
}
