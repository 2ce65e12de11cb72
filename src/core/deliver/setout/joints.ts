import type { Path, PathElement } from '../../geom/types.ts'

/** A place where the line changes its law, by its name in the trade. */
export interface Joint {
  readonly stationMm: number
  readonly name: string
}

type ElementKind = 'line' | 'arc' | 'easement'

export function elementKind({ k0, k1 }: PathElement): ElementKind {
  return k0 === 0 && k1 === 0 ? 'line' : k0 === k1 ? 'arc' : 'easement'
}

/**
 * The joints of a line in order of station, its two ends among them: TS, SC, CS, ST; PC and PT without easement,
 * PCC and PRC where arc meets arc, SC CS where two easements meet without arc, ST TS where they meet without tangent.
 */
export function pathJoints(path: Path): readonly Joint[] {
  const inner = path.elements.flatMap((element, i) => {
    const next = path.elements[i + 1]
    const name = next ? jointName(element, next) : null
    return next && name !== null ? [{ stationMm: next.startStationMm, name }] : []
  })
  return [{ stationMm: 0, name: 'start' }, ...inner, { stationMm: path.lengthMm, name: 'end' }]
}

function jointName(before: PathElement, after: PathElement): string | null {
  switch (`${elementKind(before)} ${elementKind(after)}` as const) {
    case 'line easement':
      return 'TS'
    case 'easement arc':
      return 'SC'
    case 'arc easement':
      return 'CS'
    case 'easement line':
      return 'ST'
    case 'line arc':
      return 'PC'
    case 'arc line':
      return 'PT'
    case 'arc arc':
      return before.k1 * after.k0 < 0 ? 'PRC' : before.k1 === after.k0 ? null : 'PCC'
    case 'easement easement':
      return before.k1 === 0 && after.k0 === 0 ? 'ST TS' : 'SC CS'
    case 'line line':
      return null
  }
}

/** Two stations closer than this are one, mm. */
export const SAME_STATION_MM = 1e-6

/** Name of the joint at a station; empty when there is none. */
export function jointNameAt(joints: readonly Joint[], stationMm: number): string {
  return joints.find((joint) => Math.abs(joint.stationMm - stationMm) <= SAME_STATION_MM)?.name ?? ''
}

/** The first station, every step from it, the last one, and the joints between: rising, none twice. */
export function stationsEven(fromMm: number, toMm: number, stepMm: number, joints: readonly Joint[]): readonly number[] {
  const count = Math.floor((toMm - fromMm) / stepMm + 1e-9)
  const even = Array.from({ length: count + 1 }, (_, i) => Math.min(fromMm + i * stepMm, toMm))
  const inside = joints.map(({ stationMm }) => stationMm).filter((station) => station > fromMm && station < toMm)
  // A joint before an even step in the sort wins, so that its name is found at its own station.
  const all = [...inside, ...even, toMm].toSorted((a, b) => a - b)
  return all.filter((station, i) => i === 0 || station - (all[i - 1] ?? -Infinity) > SAME_STATION_MM)
}
