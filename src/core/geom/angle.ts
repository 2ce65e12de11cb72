const fullTurn = 2 * Math.PI

/** The same direction in (-pi, pi], rad. Exact within that range, else up to rounding of the whole turns. */
export function angleWrap(angleRad: number): number {
  if (angleRad > -Math.PI && angleRad <= Math.PI) return angleRad
  const wrapped = angleRad - fullTurn * Math.round(angleRad / fullTurn)
  return wrapped <= -Math.PI ? wrapped + fullTurn : wrapped
}

/** Turn that leads from one direction to another the short way, rad in (-pi, pi], positive to the left. */
export function angleBetween(fromRad: number, toRad: number): number {
  return angleWrap(toRad - fromRad)
}
