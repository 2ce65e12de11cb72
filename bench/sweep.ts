import { pathFromElements } from '../src/core/geom/index.ts'
import type { Path } from '../src/core/geom/types.ts'
import { bodiesBothWays, sweepAlong, vehicleBodies, vehicleByKey } from '../src/core/vehicles/index.ts'
import type { RigidBody } from '../src/core/vehicles/index.ts'
import { median, secondsPerRound, type BenchRow, type BenchTable } from './report.ts'

/** So that a band can follow a dragged line. */
const targetMs = 40

/** Ten metres: a curve with its two easements between straights. */
function line(): Path {
  const k = 1 / 700
  return pathFromElements({ x: 0, y: 0, headingRad: 0 }, [
    { lengthMm: 3500, k0: 0, k1: 0 },
    { lengthMm: 500, k0: 0, k1: k },
    { lengthMm: 2000, k0: k, k1: k },
    { lengthMm: 500, k0: k, k1: 0 },
    { lengthMm: 3500, k0: 0, k1: 0 },
  ])
}

function bodies(key: string): readonly RigidBody[] {
  const row = vehicleByKey(key)
  if (row === null) throw new Error(`no vehicle ${key}`)
  return bodiesBothWays(vehicleBodies(row, 87.1))
}

/** The swept path of one car and of an articulated engine either way round, along ten metres. */
export function benchSweep(): BenchTable {
  const path = line()
  const timed = (key: string, stepMm: number): number => {
    const set = bodies(key)
    return 1000 * median(secondsPerRound(9, () => void sweepAlong(path, set, { stepMm, isClosed: false })))
  }
  const row = (key: string, stepMm: number, ms: number): BenchRow => ({
    what: `${key}, every ${stepMm} mm`,
    figure: `${ms.toFixed(1)} ms`,
    note: `10 m; bodies: ${bodies(key).length}`,
  })
  const car = timed('passenger-85', 50)
  const fine = timed('passenger-85', 10)
  const engine = timed('steam-2-8-8-2', 10)
  return {
    title: 'Swept path along ten metres with two easements',
    target: `at most ${targetMs} ms for one car at stations of 50 mm`,
    isMet: car <= targetMs,
    rows: [row('passenger-85', 50, car), row('passenger-85', 10, fine), row('steam-2-8-8-2', 10, engine)],
  }
}
