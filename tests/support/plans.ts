import { editApply, patchApply } from '../../src/core/edit/index.ts'
import type { PlanCommand } from '../../src/core/edit/index.ts'
import { dataFreeze, planEmpty, standardCrossingBuild } from '../../src/core/plan/index.ts'
import type {
  AnyRecord,
  Benchwork,
  CarFrame,
  Corner,
  Crossing,
  Id,
  Plan,
  Railway,
  TableName,
  Track,
  Turnout,
  Vehicle,
} from '../../src/core/plan/index.ts'

type Listed = { readonly [T in TableName]?: readonly Plan[T][Id][] }

/** The empty HO plan with these records added to its tables (or put in place of those with the same id), frozen. */
export function planWith(change: Listed & { readonly railway?: Partial<Railway> } = {}): Plan {
  const { railway, ...lists } = change
  const empty = planEmpty()
  const tables = Object.entries(lists).map(([table, records]: [string, readonly AnyRecord[]]) => [
    table,
    { ...empty[table as TableName], ...Object.fromEntries(records.map((record) => [record.id, record])) },
  ])
  return dataFreeze({ ...empty, railway: { ...empty.railway, ...railway }, ...(Object.fromEntries(tables) as Partial<Plan>) })
}

/** The plan after commands that must all be good; a refused one fails the test with its problem. */
export function planAfter(plan: Plan, ...commands: readonly PlanCommand[]): Plan {
  return commands.reduce((at, command) => {
    const result = editApply(at, command)
    if (!result.ok) throw new Error(`${command.kind} refused: ${JSON.stringify(result.problem)}`)
    return patchApply(at, result.patch)
  }, plan)
}

/** A main track of 2 m along +x without corners; give what should differ. */
export function aTrack(change: Partial<Track> = {}): Track {
  return {
    id: 'track-1',
    name: 'Main',
    lineClass: 'main',
    start: { kind: 'free', x: 0, y: 0 },
    corners: [],
    end: { kind: 'free', x: 2000, y: 0 },
    ...change,
  }
}

/** An HO boxcar of 40 ft; give what should differ of it and of its body. */
export function aCar(change: Partial<Vehicle> = {}, body: Partial<CarFrame> = {}): Vehicle {
  return {
    id: 'car-1',
    name: 'Boxcar',
    wheels: null,
    overCouplersMm: 155,
    heightMm: 53,
    weightG: 110,
    couplerSwingRad: 0.349,
    frames: [{ kind: 'car', lengthMm: 146, widthMm: 36, truckCentresMm: 107, truckWheelbaseMm: 19, taper: null, ...body }],
    ...change,
  }
}

/** A PI whose radius and easements the class decides. */
export function aCorner(change: Partial<Corner> = {}): Corner {
  return { id: 'pi-1', x: 1000, y: 0, radius: 'class', easementIn: 'class', easementOut: 'class', ...change }
}

/** A No. 6 left-hand turnout, points 500 mm along track-1, facing rising stations, all of it standard. */
export function aTurnout(change: Partial<Turnout> = {}): Turnout {
  return {
    id: 'turnout-1',
    name: 'East',
    kind: { kind: 'plain' },
    track: 'track-1',
    stationMm: 500,
    facing: 'rising',
    hand: 'left',
    frog: 6,
    build: {
      points: 'straight',
      pointLengthMm: 'standard',
      pointThicknessMm: 'standard',
      heelSpreadMm: 'standard',
      toeLengthMm: 'standard',
      heelLengthMm: 'standard',
    },
    ...change,
  }
}

/** What was chosen where track-1 and track-2 cross: nothing but a name. */
export function aCrossing(change: Partial<Crossing> = {}): Crossing {
  return {
    id: 'crossing-1',
    name: 'Ice house',
    track: 'track-1',
    other: 'track-2',
    stationMm: 900,
    otherStationMm: 100,
    slip: 'none',
    build: standardCrossingBuild,
    ...change,
  }
}

/** A table top of 2.4 m by 0.6 m, its lower left corner at the origin. */
export function aBenchwork(change: Partial<Benchwork> = {}): Benchwork {
  return {
    id: 'benchwork-1',
    name: 'Table',
    outline: [
      { x: 0, y: 0 },
      { x: 2400, y: 0 },
      { x: 2400, y: 600 },
      { x: 0, y: 600 },
    ],
    holes: [],
    heightMm: 1100,
    ...change,
  }
}

/** A track of id 'bend' that turns 60 degrees with easements of 150 mm and a radius of 1000 mm. */
export function aBend(change: Partial<Track> = {}): Track {
  return aTrack({
    id: 'bend',
    name: 'Bend',
    start: { kind: 'free', x: 0, y: 0 },
    corners: [aCorner({ id: 'c1', x: 2000, y: 0, radius: 1000, easementIn: 150, easementOut: 150 })],
    end: { kind: 'free', x: 2000 + 2000 * Math.cos(Math.PI / 3), y: 2000 * Math.sin(Math.PI / 3) },
    ...change,
  })
}

/** A loop of four curves of 600 mm radius, 3 m by 2.2 m, eased in at each; its stations begin on a straight. */
export function aLoop(easementMm: number): Track {
  return aTrack({
    start: { kind: 'free', x: 1500, y: 0 },
    corners: [
      [3000, 0],
      [3000, 2200],
      [0, 2200],
      [0, 0],
    ].map(([x, y], i) => ({ id: `pi-${i + 1}`, x: x ?? 0, y: y ?? 0, radius: 600, easementIn: easementMm, easementOut: 0 })),
    end: { kind: 'closed' },
  })
}
