import * as v from 'valibot'
import { guideEntries, lockEntries, readingEntries, underlayEntries } from './aidsSchema.ts'
import { layingRules, materialEntries, railJointEntries, railSize, roadbed, stockEntries, tickEntries, tieSize } from './layingSchema.ts'
import { makerEntries } from './makersSchema.ts'
import { benchworkEntries, hatchEntries, joistEntries, obstacleEntries, openingEntries, portalEntries, wallEntries } from './roomSchema.ts'
import {
  above,
  classText,
  coordinate,
  frogNumber,
  idSchema,
  length,
  lengthOrZero,
  notBelow,
  part,
  partOrZero,
  pointEntries,
  text,
} from './schemaParts.ts'
import { planVersion } from './tables.ts'
import { crossingEntries, turnoutEntries } from './turnoutSchema.ts'
import type {
  Benchwork,
  Crossing,
  Guide,
  Hatch,
  Joist,
  LineClass,
  Lock,
  Maker,
  Material,
  Obstacle,
  Opening,
  Plan,
  Portal,
  RailJoint,
  Railway,
  Reading,
  Silence,
  Stock,
  TableName,
  Tick,
  Track,
  Turnout,
  Underlay,
  Vehicle,
  Wall,
} from './types.ts'

// The one description of what the document can hold. The file reader, the edits and the published JSON Schema all come from
// here. Every message is the completion of "expected ...". Objects are loose: keys that we do not know live on.

const easementLength = v.union([lengthOrZero, v.literal('class')], `a length of 0 mm or more, ${classText}`)

const easementRule = v.variant(
  'kind',
  [
    v.looseObject({ kind: v.literal('none') }),
    v.looseObject({ kind: v.literal('length'), lengthMm: lengthOrZero }),
    v.looseObject({ kind: v.literal('shift'), shiftMm: lengthOrZero }),
  ],
  "an easement rule of kind 'none', 'length' or 'shift'",
)

export const railwayEntries = {
  title: text,
  northRad: v.nullable(coordinate),
  scaleKey: text,
  ratio: above('a scale ratio above 0, at most 10000', 1e4),
  gaugeMm: part,
  flangewayMm: part,
  checkGaugeMm: part,
  railCode: above('a rail code above 0, at most 10000', 1e4),
  railHeadMm: part,
  railFootMm: part,
  frogDefinition: v.picklist(['isosceles', 'tangent'], "'isosceles' or 'tangent'"),
  tieLengthMm: part,
  tieWidthMm: part,
  tieThicknessMm: part,
  edgeMarginMm: partOrZero,
  runningClearanceMm: partOrZero,
  foulingMm: part,
  reachMm: length,
  aisleMm: lengthOrZero,
  hatchMm: lengthOrZero,
  laying: layingRules,
}

const ruleNameText = 'the name of a rule: small letters and hyphens, at most 64'
const ruleName = v.pipe(v.string(ruleNameText), v.regex(/^[a-z][a-z-]{0,63}$/, ruleNameText))

const lineClassEntries = {
  id: idSchema,
  name: text,
  minRadiusMm: length,
  usualRadiusMm: length,
  easement: easementRule,
  minFrog: frogNumber,
  usualFrog: frogNumber,
  trackCentresMm: length,
  tieSpacingMm: length,
  maxGrade: notBelow('a grade of 0 to 1 (rise over run)', 1),
  cars: v.array(idSchema, 'a list of cars'),
  minCurveMm: lengthOrZero,
  widening: v.array(v.looseObject({ belowRadiusMm: length, byMm: part }, 'a step of widening {belowRadiusMm, byMm}'), 'a list of steps'),
  rules: v.record(ruleName, v.picklist(['error', 'warning', 'off'], "'error', 'warning' or 'off'"), 'rules by their name'),
  curveCarLengths: notBelow('a number of car lengths of 0 to 100', 100),
  couplingCarLengths: notBelow('a number of car lengths of 0 to 100', 100),
  rail: v.union([railSize, v.literal('railway')], "a rail section {code, headMm, footMm}, or 'railway'"),
  tie: v.union([tieSize, v.literal('railway')], "a size of tie {lengthMm, widthMm, thicknessMm}, or 'railway'"),
  jointTieSpacingMm: v.nullable(length),
  roadbed: v.nullable(roadbed),
  superelevationMm: partOrZero,
}

const widthsText = 'a list of two or more widths'
const framesText = 'a list of one to eight frames'
const frame = v.variant(
  'kind',
  [
    v.looseObject({
      kind: v.literal('car'),
      lengthMm: length,
      widthMm: length,
      truckCentresMm: length,
      truckWheelbaseMm: lengthOrZero,
      taper: v.nullable(v.looseObject({ endWidthMm: length, lengthMm: length }, 'a taper {endWidthMm, lengthMm}')),
    }),
    v.looseObject({
      kind: v.literal('drivers'),
      wheelbaseMm: length,
      widths: v.pipe(
        v.array(v.looseObject({ aheadMm: coordinate, widthMm: length }, 'a width {aheadMm, widthMm}'), widthsText),
        v.minLength(2, widthsText),
      ),
    }),
  ],
  "a frame of kind 'car' or 'drivers'",
)

const vehicleEntries = {
  id: idSchema,
  name: text,
  wheels: v.nullable(text),
  overCouplersMm: length,
  heightMm: lengthOrZero,
  weightG: notBelow('a weight of 0 to 1000000 g', 1e6),
  couplerSwingRad: notBelow('an angle of 0 to 1.57 (rad), less than a right angle', 1.57),
  frames: v.pipe(v.array(frame, framesText), v.minLength(1, framesText), v.maxLength(8, framesText)),
}

const arcEntries = {
  radius: v.union([length, v.literal('class')], `a radius above 0 mm, ${classText}`),
  turn: v.variant(
    'kind',
    [
      v.looseObject({ kind: v.literal('angle'), turnRad: above('a turn above 0 and at most half a turn (rad)', Math.PI) }),
      v.looseObject({ kind: v.literal('share'), share: above('a share above 0, at most 1000000', 1e6) }),
    ],
    "a turn of kind 'angle' or 'share'",
  ),
}
const nextArcsText = 'a list of one or more further arcs'
const compoundCurve = v.looseObject(
  {
    first: v.looseObject(arcEntries, 'an arc {radius, turn}'),
    next: v.pipe(
      v.array(v.looseObject({ easement: easementLength, ...arcEntries }, 'an arc {easement, radius, turn}'), nextArcsText),
      v.minLength(1, nextArcsText),
    ),
  },
  'a curve of several radii {first, next}',
)

export const cornerEntries = {
  id: idSchema,
  ...pointEntries,
  radius: v.union(
    [length, v.literal('class'), v.literal('easement-only'), compoundCurve],
    `a radius above 0 mm, several radii {first, next}, 'easement-only' ${classText}`,
  ),
  easementIn: easementLength,
  easementOut: easementLength,
}
const cornerSchema = v.looseObject(cornerEntries, 'a corner')

const freeEnd = v.looseObject({ kind: v.literal('free'), ...pointEntries })
const legEnd = v.looseObject({
  kind: v.literal('leg'),
  turnout: idSchema,
  leg: v.picklist(['diverging', 'other'], "'diverging' or 'other'"),
})
export const trackStartSchema = v.variant('kind', [freeEnd, legEnd], "a start of kind 'free' or 'leg'")
export const trackEndSchema = v.variant(
  'kind',
  [freeEnd, legEnd, v.looseObject({ kind: v.literal('closed') })],
  "an end of kind 'free', 'leg' or 'closed'",
)

const trackEntries = {
  id: idSchema,
  name: text,
  lineClass: idSchema,
  start: trackStartSchema,
  corners: v.array(cornerSchema, 'a list of corners'),
  end: trackEndSchema,
}

const silenceEntries = {
  id: idSchema,
  rule: ruleName,
  table: text,
  record: text,
  otherRecord: v.nullable(text),
  stationMm: v.nullable(coordinate),
  reason: text,
}

/** Fields of the records of each table. */
export const recordEntries = {
  materials: materialEntries,
  stocks: stockEntries,
  lineClasses: lineClassEntries,
  vehicles: vehicleEntries,
  walls: wallEntries,
  obstacles: obstacleEntries,
  openings: openingEntries,
  benchworks: benchworkEntries,
  hatches: hatchEntries,
  joists: joistEntries,
  tracks: trackEntries,
  turnouts: turnoutEntries,
  crossings: crossingEntries,
  portals: portalEntries,
  railJoints: railJointEntries,
  makers: makerEntries,
  silences: silenceEntries,
  ticks: tickEntries,
  guides: guideEntries,
  readings: readingEntries,
  underlays: underlayEntries,
  locks: lockEntries,
} satisfies { readonly [T in TableName]: v.ObjectEntries }

export const railwaySchema = v.looseObject(railwayEntries, 'the railway') satisfies v.GenericSchema<unknown, Railway>

const table = <const E extends v.ObjectEntries>(entries: E, record: string) =>
  v.record(idSchema, v.looseObject(entries, record), 'a table of records by id')

const planEntries = {
  format: v.literal('waybench-plan'),
  version: v.literal(planVersion),
  railway: railwaySchema,
  materials: table(materialEntries, 'a material') satisfies TableOf<Material>,
  stocks: table(stockEntries, 'a stock') satisfies TableOf<Stock>,
  lineClasses: table(lineClassEntries, 'a line class') satisfies TableOf<LineClass>,
  vehicles: table(vehicleEntries, 'a vehicle') satisfies TableOf<Vehicle>,
  walls: table(wallEntries, 'a wall') satisfies TableOf<Wall>,
  obstacles: table(obstacleEntries, 'an obstacle') satisfies TableOf<Obstacle>,
  openings: table(openingEntries, 'a door or passage') satisfies TableOf<Opening>,
  benchworks: table(benchworkEntries, 'a piece of benchwork') satisfies TableOf<Benchwork>,
  hatches: table(hatchEntries, 'a hatch') satisfies TableOf<Hatch>,
  joists: table(joistEntries, 'a joist') satisfies TableOf<Joist>,
  tracks: table(trackEntries, 'a track') satisfies TableOf<Track>,
  turnouts: table(turnoutEntries, 'a turnout') satisfies TableOf<Turnout>,
  crossings: table(crossingEntries, 'a crossing') satisfies TableOf<Crossing>,
  portals: table(portalEntries, 'a portal') satisfies TableOf<Portal>,
  railJoints: table(railJointEntries, 'a joint') satisfies TableOf<RailJoint>,
  makers: table(makerEntries, 'a maker') satisfies TableOf<Maker>,
  silences: table(silenceEntries, 'a silence') satisfies TableOf<Silence>,
  ticks: table(tickEntries, 'a tick') satisfies TableOf<Tick>,
  guides: table(guideEntries, 'a guide') satisfies TableOf<Guide>,
  readings: table(readingEntries, 'a reading') satisfies TableOf<Reading>,
  underlays: table(underlayEntries, 'a picture under the plan') satisfies TableOf<Underlay>,
  locks: table(lockEntries, 'a lock') satisfies TableOf<Lock>,
}
type TableOf<R> = v.GenericSchema<unknown, { [id: string]: R }>

/** The whole document, of the current version. References between records are checked apart (references.ts). */
export const planSchema = v.looseObject(planEntries, 'a plan') satisfies v.GenericSchema<unknown, Plan>

/** Keys of the document and of its records that the schema knows, in the order in which they are written. */
export const knownKeys = {
  plan: Object.keys(planEntries),
  railway: Object.keys(railwayEntries),
  corner: Object.keys(cornerEntries),
  record: (name: TableName): readonly string[] => Object.keys(recordEntries[name]),
}
