import { pathPoseAt } from './path.ts'
import type { Box, Path } from './types.ts'

/** Stretches shorter than this share of the box are not divided on: what is drawn beyond its edge costs less than finding it. */
const finestShare = 0.125

/**
 * The stretches of a path that pass within reach of a box, in order of station; what lies apart from it is left out.
 *
 * Derivation: stations are lengths along the line, so no point of a stretch is farther from its middle than half its length: one whose
 *             middle is farther from the box than that and the reach together has no point within reach. Others are halved.
 * Exactness:  every point within reach lies in a stretch; a stretch may go on beyond by an eighth of the box.
 * Domain:     a path without jumps, reach >= 0.
 */
export function pathStretchesWithin(path: Path, box: Box, reachMm: number): readonly { readonly fromMm: number; readonly toMm: number }[] {
  const finestMm = Math.max(finestShare * Math.hypot(box.maxX - box.minX, box.maxY - box.minY), 1e-3 * path.lengthMm)
  const found: { fromMm: number; toMm: number }[] = []
  const look = (fromMm: number, toMm: number): void => {
    const middleMm = (fromMm + toMm) / 2
    const { x, y } = pathPoseAt(path, middleMm)
    const away = Math.hypot(Math.max(box.minX - x, 0, x - box.maxX), Math.max(box.minY - y, 0, y - box.maxY))
    if (away > (toMm - fromMm) / 2 + reachMm) return
    if (toMm - fromMm > finestMm) {
      look(fromMm, middleMm)
      look(middleMm, toMm)
      return
    }
    const last = found.at(-1)
    if (last !== undefined && last.toMm === fromMm) last.toMm = toMm
    else found.push({ fromMm, toMm })
  }
  if (path.elements.length > 0) look(0, path.lengthMm)
  return found
}
