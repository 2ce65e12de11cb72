import * as v from 'valibot'
import { classText, coordinate, facing, frogNumber, idSchema, length, lengthOrZero, side, text } from './schemaParts.ts'

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
export const makerEntries = {
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
