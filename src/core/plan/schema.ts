import * as v from 'valibot'
import { guideEntries, lockEntries, readingEntries, underlayEntries } from './aidsSchema.ts'
import { layingRules, materialEntries, railJointEntries, railSize, roadbed, stockEntries, tickEntries, tieSize } from './layingSchema.ts'
import {
  above,
  coordinate,
  flag,
  frogNumber,
  idSchema,
  length,
  lengthOrZero,
  notBelow,
  part,
  partOrZero,
  pointEntries,
  pointSchema,
  text,
} from './schemaParts.ts'
import { planVersion } from './tables.ts'
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

const ringText = 'a ring of three or more points'
export const ringSchema = v.pipe(v.array(pointSchema, ringText), v.minLength(3, ringText))

const classText = "or 'class'"
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

const wallText = 'a line of two or more points'
const wallEntries = {
  id: idSchema,
  name: text,
  points: v.pipe(v.array(pointSchema, wallText), v.minLength(2, wallText)),
  thicknessMm: lengthOrZero,
  isClosed: flag,
}

const obstacleEntries = { id: idSchema, name: text, outline: ringSchema, undersideMm: lengthOrZero }

const benchworkEntries = {
  id: idSchema,
  name: text,
  outline: ringSchema,
  holes: v.array(ringSchema, 'a list of rings'),
  heightMm: lengthOrZero,
}

const side = v.picklist(['left', 'right'], "'left' or 'right'")

const openingEntries = {
  id: idSchema,
  name: text,
  wall: idSchema,
  fromMm: lengthOrZero,
  widthMm: length,
  leaf: v.nullable(v.looseObject({ hinge: v.picklist(['from', 'to'], "'from' or 'to'"), side }, 'the leaf of a door {hinge, side}')),
  sillMm: v.nullable(lengthOrZero),
}

const hatchEntries = { id: idSchema, name: text, outline: ringSchema }

const joistEntries = { id: idSchema, name: text, from: pointSchema, to: pointSchema, widthMm: length }

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

const standardText = "or 'standard'"
const partLength = v.union([part, v.literal('standard')], `a length above 0 mm, ${standardText}`)
const pointThickness = v.union([lengthOrZero, v.literal('standard')], `a length of 0 mm or more, ${standardText}`)
const nthText = 'a whole number of 1 to 1000, or null'
const nth = v.pipe(v.number(nthText), v.integer(nthText), v.minValue(1, nthText), v.maxValue(1000, nthText))
const tiesSchema = v.looseObject(
  {
    lay: v.picklist(['square', 'fanned'], "'square' or 'fanned'"),
    spacing: v.picklist(['even', 'close'], "'even' or 'close'"),
    board: v.nullable(
      v.looseObject(
        {
          every: v.nullable(nth),
          at: v.array(v.picklist(['tips', 'heel', 'toe', 'frog', 'gaps'], "'tips', 'heel', 'toe', 'frog' or 'gaps'"), 'a list of places'),
        },
        'a pattern of PC-board ties',
      ),
    ),
  },
  'a choice of ties',
)
const buildSchema = v.looseObject(
  {
    points: v.picklist(['straight', 'curved'], "'straight' or 'curved'"),
    pointLengthMm: partLength,
    pointThicknessMm: pointThickness,
    heelSpreadMm: partLength,
    toeLengthMm: partLength,
    heelLengthMm: partLength,
    ties: v.exactOptional(tiesSchema),
  },
  'the build of a turnout',
)

const facing = v.picklist(['rising', 'falling'], "'rising' or 'falling'")

const shareText = 'a share between 0 and 1'
const turnoutKind = v.variant(
  'kind',
  [
    v.looseObject({ kind: v.literal('plain') }),
    v.looseObject({
      kind: v.literal('wye'),
      share: v.pipe(v.number(shareText), v.gtValue(0, shareText), v.ltValue(1, shareText)),
    }),
    v.looseObject({ kind: v.literal('three-way'), secondFrog: frogNumber, secondAfterMm: lengthOrZero }),
    v.looseObject({ kind: v.literal('stub') }),
  ],
  "a turnout of kind 'plain', 'wye', 'three-way' or 'stub'",
)

const turnoutEntries = {
  id: idSchema,
  name: text,
  kind: turnoutKind,
  track: idSchema,
  stationMm: coordinate,
  facing,
  hand: side,
  frog: frogNumber,
  build: buildSchema,
}

const crossingEntries = {
  id: idSchema,
  name: text,
  track: idSchema,
  other: idSchema,
  stationMm: coordinate,
  otherStationMm: coordinate,
  slip: v.picklist(['none', 'single-left', 'single-right', 'double'], "'none', 'single-left', 'single-right' or 'double'"),
  build: v.looseObject(
    {
      elbow: v.picklist(['fixed', 'movable'], "'fixed' or 'movable'"),
      pointThicknessMm: pointThickness,
      heelSpreadMm: partLength,
    },
    'the build of a crossing',
  ),
}

const portalEntries = {
  id: idSchema,
  name: text,
  track: idSchema,
  stationMm: coordinate,
  lengthMm: length,
  leftMm: lengthOrZero,
  rightMm: lengthOrZero,
  heightMm: lengthOrZero,
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

const trackEndName = v.picklist(['start', 'end'], "'start' or 'end'")
const radiusByClass = v.union([length, v.literal('class')], `a radius above 0 mm, ${classText}`)
const yardTracksText = 'a whole number of 1 to 30'
const angleAwayText = 'an angle of 0 to 1.57 (rad), less than a right angle'

const crossoverNumbers = v.looseObject({
  kind: v.literal('crossover'),
  track: idSchema,
  otherTrack: idSchema,
  stationMm: coordinate,
  hand: side,
  frog: frogNumber,
  layout: v.picklist(['single', 'double', 'scissors'], "'single', 'double' or 'scissors'"),
})
const sidingNumbers = v.looseObject({
  kind: v.literal('siding'),
  track: idSchema,
  fromMm: coordinate,
  toMm: coordinate,
  side,
  centresMm: length,
  curveCentresMm: length,
  frogFrom: frogNumber,
  frogTo: frogNumber,
})
const spurNumbers = v.looseObject({
  kind: v.literal('spur'),
  track: idSchema,
  stationMm: coordinate,
  facing,
  side,
  frog: frogNumber,
  course: v.variant(
    'kind',
    [
      v.looseObject({ kind: v.literal('parallel'), centresMm: length }),
      v.looseObject({
        kind: v.literal('angle'),
        angleRad: v.pipe(v.number(angleAwayText), v.minValue(0, angleAwayText), v.maxValue(1.57, angleAwayText)),
      }),
    ],
    "a course of kind 'parallel' or 'angle'",
  ),
  lengthMm: length,
})
const yardNumbers = v.looseObject({
  kind: v.literal('yard'),
  track: idSchema,
  stationMm: coordinate,
  facing,
  side,
  frog: frogNumber,
  tracks: v.pipe(v.number(yardTracksText), v.integer(yardTracksText), v.minValue(1, yardTracksText), v.maxValue(30, yardTracksText)),
  leadCentresMm: length,
  centresMm: length,
  bodyMm: length,
  ladder: v.picklist(['straight', 'compound'], "'straight' or 'compound'"),
  ends: v.picklist(['stub', 'double'], "'stub' or 'double'"),
})
const wyeNumbers = v.looseObject({
  kind: v.literal('wye'),
  track: idSchema,
  stationMm: coordinate,
  side,
  frog: frogNumber,
  tailFrog: frogNumber,
  radius: radiusByClass,
  tailMm: length,
})
const loopNumbers = v.looseObject({
  kind: v.literal('loop'),
  track: idSchema,
  end: trackEndName,
  hand: side,
  frog: frogNumber,
  radius: radiusByClass,
  straightMm: lengthOrZero,
})
const turnbackNumbers = v.looseObject({
  kind: v.literal('turnback'),
  track: idSchema,
  end: trackEndName,
  otherTrack: idSchema,
  otherEnd: trackEndName,
})

const madeText = 'a list of ids'
const gradeText = 'a grade above 0 and at most 0.2 (rise over run)'
const roundText = 'an angle of 0 to 6.2832 (rad), less than a full turn'
const helixNumbers = v.looseObject({
  kind: v.literal('helix'),
  track: idSchema,
  end: trackEndName,
  hand: side,
  size: v.variant(
    'kind',
    [v.looseObject({ kind: v.literal('radius'), radius: radiusByClass }), v.looseObject({ kind: v.literal('across'), acrossMm: length })],
    "a size of kind 'radius' or 'across'",
  ),
  climbMm: length,
  rise: v.variant(
    'kind',
    [
      v.looseObject({ kind: v.literal('perTurn'), riseMm: length }),
      v.looseObject({ kind: v.literal('clear'), clearMm: length }),
      v.looseObject({
        kind: v.literal('grade'),
        grade: v.pipe(v.number(gradeText), v.gtValue(0, gradeText), v.maxValue(0.2, gradeText)),
      }),
    ],
    "a rise of kind 'perTurn', 'clear' or 'grade'",
  ),
  deckMm: lengthOrZero,
  exit: v.variant(
    'kind',
    [
      v.looseObject({ kind: v.literal('asClimb') }),
      v.looseObject({
        kind: v.literal('angle'),
        angleRad: v.pipe(v.number(roundText), v.minValue(0, roundText), v.ltValue(2 * Math.PI, roundText)),
      }),
    ],
    "an exit of kind 'asClimb' or 'angle'",
  ),
  straightMm: lengthOrZero,
})
const makerEntries = {
  id: idSchema,
  name: text,
  lineClass: idSchema,
  numbers: v.variant(
    'kind',
    [crossoverNumbers, sidingNumbers, spurNumbers, yardNumbers, wyeNumbers, loopNumbers, turnbackNumbers, helixNumbers],
    "numbers of kind 'crossover', 'siding', 'spur', 'yard', 'wye', 'loop', 'turnback' or 'helix'",
  ),
  made: v.looseObject({ tracks: v.array(idSchema, madeText), turnouts: v.array(idSchema, madeText) }, 'what was made {tracks, turnouts}'),
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
