/** A tie of a stretch, at its station. isJoint: beside a joint. */
export interface PlacedTie {
  readonly stationMm: number
  readonly isJoint: boolean
}

/**
 * Ties of a stretch with a pair closed up at every joint: the joint hangs midway between two ties, so far apart as joints ask for, and the rest
 * are spaced evenly between the pairs. The first and the last tie stay; a joint that would bring its pair too near to them or to the pair before
 * it is passed over.
 *
 * Domain: stations rising, spacings above 0. Joints in any order.
 */
export function tiesAtJoints(
  stations: readonly number[],
  joints: readonly number[],
  spacingMm: number,
  jointSpacingMm: number,
): readonly PlacedTie[] {
  const [first, last] = [stations[0], stations.at(-1)]
  if (first === undefined || last === undefined) return []
  const anchors: PlacedTie[] = [{ stationMm: first, isJoint: false }]
  for (const joint of joints.toSorted((a, b) => a - b)) {
    const [before, behind] = [joint - jointSpacingMm / 2, joint + jointSpacingMm / 2]
    if (before < (anchors.at(-1)?.stationMm ?? first) + jointSpacingMm || behind > last - jointSpacingMm) continue
    anchors.push({ stationMm: before, isJoint: true }, { stationMm: behind, isJoint: true })
  }
  if (anchors.length === 1) return stations.map((stationMm) => ({ stationMm, isJoint: false }))
  if (last > first) anchors.push({ stationMm: last, isJoint: false })
  return anchors.flatMap((anchor, i): readonly PlacedTie[] => {
    const next = anchors[i + 1]
    if (!next) return [anchor]
    const isPair = anchor.isJoint && next.isJoint && next.stationMm - anchor.stationMm <= jointSpacingMm * (1 + 1e-9)
    const gaps = isPair ? 1 : Math.max(1, Math.round((next.stationMm - anchor.stationMm) / spacingMm))
    const step = (next.stationMm - anchor.stationMm) / gaps
    const between = Array.from({ length: gaps - 1 }, (_, n) => ({ stationMm: anchor.stationMm + (n + 1) * step, isJoint: false }))
    return [anchor, ...between]
  })
}
