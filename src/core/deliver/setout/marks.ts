import { lengthFormat, MM_PER_INCH } from '../../units/index.ts'
import type { RuleMarks, SetoutColumn, SetoutValue } from './types.ts'

/** Distance of two marks of the rule, mm. */
export function marksStepMm(marks: RuleMarks): number {
  return marks.units === 'imperial' ? MM_PER_INCH / marks.perInch : marks.stepMm
}

/** A length on the nearest mark of the rule, mm; halves away from zero, as a length is written. */
export function marksRound(mm: number, marks: RuleMarks): number {
  // Ticks first: a sum of steps of 25.4/64 would drift off the marks.
  const ticks =
    marks.units === 'imperial' ? Math.round((Math.abs(mm) * marks.perInch) / MM_PER_INCH) : Math.round(Math.abs(mm) / marks.stepMm)
  if (ticks === 0) return 0
  const size = marks.units === 'imperial' ? (ticks * MM_PER_INCH) / marks.perInch : ticks * marks.stepMm
  return mm < 0 ? -size : size
}

/** An angle on the nearest step of the instrument, rad. */
export function angleRound(rad: number, stepRad: number): number {
  const steps = Math.round(Math.abs(rad) / stepRad)
  return steps === 0 ? 0 : Math.sign(rad) * steps * stepRad
}

export function lengthValue(mm: number, marks: RuleMarks): SetoutValue {
  return { exact: mm, rounded: marksRound(mm, marks) }
}

export function angleValue(rad: number, stepRad: number): SetoutValue {
  return { exact: rad, rounded: angleRound(rad, stepRad) }
}

/** A length as it is read on the rule, with its unit. */
export function setoutLengthText(mm: number, marks: RuleMarks): string {
  if (marks.units === 'imperial')
    return lengthFormat(mm, { units: 'imperial', fraction: marks.perInch, style: 'inches', fractions: 'typeset' })
  const text = lengthFormat(marksRound(mm, marks), { units: 'metric', fraction: 64 })
  return marks.stepMm === 1 ? text.replace(/\.0 mm$/, ' mm') : text
}

/** An angle in degrees and minutes, as an instrument shows it: 3° 07.5′ when it reads finer than minutes. */
function setoutAngleText(rad: number, stepRad: number): string {
  const minute = Math.PI / 180 / 60
  const decimals = stepRad >= 0.999 * minute ? 0 : stepRad >= 0.0999 * minute ? 1 : 2
  const ticks = Math.round((Math.abs(rad) / minute) * 10 ** decimals)
  const perDegree = 60 * 10 ** decimals
  const minutes = ((ticks % perDegree) / 10 ** decimals).toFixed(decimals).padStart(decimals > 0 ? decimals + 3 : 2, '0')
  return `${rad < 0 && ticks > 0 ? '−' : ''}${Math.floor(ticks / perDegree)}° ${minutes}′`
}

/** A value as it is set at the bench; the side in words where the sign is one. */
export function setoutValueText(column: SetoutColumn, mmOrRad: number, marks: RuleMarks, angleStepRad: number): string {
  const write = (value: number): string => (column.unit === 'mm' ? setoutLengthText(value, marks) : setoutAngleText(value, angleStepRad))
  if (!column.isSided || mmOrRad === 0) return write(mmOrRad)
  return `${write(Math.abs(mmOrRad))} ${mmOrRad > 0 ? 'left' : 'right'}`
}
