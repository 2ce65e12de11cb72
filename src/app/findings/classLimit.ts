import type { Finding } from '../../core/checks/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { LineClass, Plan } from '../../core/plan/types.ts'
import { frogText, lengthText } from '../../words/measure.ts'
import type { MeasurePrefs } from '../../words/measure.ts'

/** A limit of a class with which a finding is none any more. */
export interface ClassLimit {
  readonly lineClass: LineClass
  readonly change: Partial<Pick<LineClass, 'minRadiusMm' | 'minFrog' | 'minCurveMm'>>
  /** What it was and what it would be. */
  readonly words: string
}

/** Limits are lowered to whole tenths of a mm. */
const stepsPerMm = 10

/** The limit of the class that a finding breaks, lowered to what is there; null: what it breaks is no such limit. */
export function classLimitOf({ rule, source, measured }: Finding, plan: Plan, prefs: MeasurePrefs): ClassLimit | null {
  const lineClass = source.startsWith('class:') ? recordFind(plan, 'lineClasses', source.slice('class:'.length)) : null
  if (lineClass === null || measured === null || !(measured > 0)) return null
  const lowered = (name: string, was: number, now: number, text: (value: number) => string, change: ClassLimit['change']) =>
    now > 0 && now < was ? { lineClass, change, words: `${lineClass.name}’s ${name}: ${text(was)} → ${text(now)}` } : null
  const mm = Math.floor(measured * stepsPerMm + 1e-3) / stepsPerMm
  const length = (value: number): string => lengthText(value, prefs)
  switch (rule) {
    case 'minimum-radius':
      return lowered('least radius', lineClass.minRadiusMm, mm, length, { minRadiusMm: mm })
    case 'short-curve':
      return lowered('shortest curve', lineClass.minCurveMm, mm, length, { minCurveMm: mm })
    case 'minimum-frog':
      return lowered('least frog', lineClass.minFrog, measured, frogText, { minFrog: measured })
    default:
      return null
  }
}
