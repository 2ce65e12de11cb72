import { poseToPlan } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { NetworkTurnout } from '../../core/network/types.ts'

/** A name as it stands on the picture: along the track, never upside down. */
export interface NamePlace {
  readonly name: string
  /** Middle of its foot. */
  readonly at: Point
  readonly angleRad: number
}

/** Height to width of a letter, on the safe side. */
const letterWide = 0.55

/**
 * A name for every turnout: beside the middle of its straight side, and where another word stands there, farther along, farther away, or on
 * the other side. Where all of that is taken it stands where it covers least, for a name that is missing helps nobody.
 */
export function turnoutNames(turnouts: Iterable<NetworkTurnout>, heightMm: number, taken: readonly Point[]): readonly NamePlace[] {
  const covered = [...taken]
  const names: NamePlace[] = []
  for (const { turnout, result } of turnouts) {
    if (!result.ok || turnout.name.trim() === '') continue
    const { pose, geometry } = result
    const straight = turnout.hand === 'left' ? -1 : 1
    const isTurned = Math.cos(pose.headingRad) < -1e-9
    const places = [straight, 2 * straight, -2 * straight].flatMap((away) =>
      [0.5, 0, 1].map((part) => {
        const foot = (away > 0 !== isTurned ? 0.4 : 1.2) * heightMm + (Math.abs(away) - 1) * heightMm
        const off = geometry.request.tieLengthMm / 2 + foot
        const at = poseToPlan(pose, { x: part * geometry.leadMm, y: Math.sign(away) * off })
        return { name: turnout.name, at, angleRad: pose.headingRad + (isTurned ? Math.PI : 0) }
      }),
    )
    const clashes = places.map((place) => wordPoints(place, heightMm).filter((point) => isCovered(point, covered, heightMm)).length)
    const best = places[clashes.indexOf(Math.min(...clashes))]
    if (best === undefined) continue
    names.push(best)
    covered.push(...wordPoints(best, heightMm))
  }
  return names
}

/** Middles of its letters. */
function wordPoints({ name, at, angleRad }: NamePlace, heightMm: number): readonly Point[] {
  return Array.from(name, (_, i) =>
    poseToPlan({ ...at, headingRad: angleRad }, { x: (i - (name.length - 1) / 2) * letterWide * heightMm, y: heightMm / 2 }),
  )
}

const isCovered = ({ x, y }: Point, covered: readonly Point[], heightMm: number): boolean =>
  covered.some((other) => Math.hypot(other.x - x, other.y - y) < heightMm)
