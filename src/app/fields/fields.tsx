import type { ReactNode } from 'react'
import type { ByClass } from '../../core/plan/types.ts'
import { angleFormat, angleParse, frogNumberParse, gradeParse, lengthParse, numberParse } from '../../core/units/index.ts'
import { usePrefs } from '../context.ts'
import { entryProblemText } from '../../words/entryText.ts'
import { fineText, frogText, gradeText, lengthStep, lengthText, numberText } from '../../words/measure.ts'
import type { LengthKind, MeasurePrefs } from '../../words/measure.ts'
import { frogRangeText, frogsBuilt, isFrogBuilt } from '../../words/turnoutText.ts'
import { ValueField } from './ValueField.tsx'
import type { Keep, Read } from './ValueField.tsx'

/** What every field of one value is told. */
export interface FieldProps<V> {
  readonly label: string
  readonly value: V
  readonly keep: Keep<V>
  readonly origin?: ReactNode
  readonly isOver?: boolean
  readonly hideLabel?: boolean
  readonly onDone?: () => void
}

/** What a length must keep to before it reaches the plan: most are more than nothing. */
export type LengthRange = 'positive' | 'zeroUp' | 'any'

/** The least and the most that a length may be, and why or what else would help. */
export interface LengthBounds {
  readonly leastMm: number
  readonly mostMm: number
  readonly because?: string
}

interface LengthReading {
  readonly range: LengthRange
  /** What stands in the field now: what is right there looks like it. */
  readonly mm: number
  readonly isFine?: boolean
  readonly isMm?: boolean
  /** How the field shows lengths: so are they shown in what is said about it. */
  readonly kind?: LengthKind
  readonly bounds?: LengthBounds | undefined
}

function lengthRead(text: string, prefs: MeasurePrefs, { range, mm, isFine, isMm, kind, bounds }: LengthReading): Read<number> {
  const inMm = isMm ?? prefs.units === 'metric'
  const length = (of: number, as: MeasurePrefs): string => (isFine === true ? fineText(of, as) : lengthText(of, as, kind))
  // In the rule of this field alone: the same in the other one is a mouthful of sixty-fourths. Of nothing, or less, no example can be made.
  const example = length(mm > 0 ? mm : inMm ? 25 : 25.4, { ...prefs, units: inMm ? 'metric' : 'imperial' })
  const entry = lengthParse(text, { bare: inMm ? 'mm' : 'in', example })
  if (!entry.ok) return { ok: false, message: entryProblemText(entry.problem) }
  if (range === 'positive' && !(entry.mm > 0))
    return {
      ok: false,
      message: `“${text.trim()}” is not more than nothing; a length such as ${example} belongs here.`,
    }
  if (range === 'zeroUp' && entry.mm < 0) return { ok: false, message: `“${text.trim()}” is less than nothing; zero or more belongs here.` }
  if (bounds !== undefined && !(entry.mm >= bounds.leastMm && entry.mm <= bounds.mostMm)) {
    const because = bounds.because === undefined ? '' : ` ${bounds.because}`
    return { ok: false, message: `From ${length(bounds.leastMm, prefs)} to ${length(bounds.mostMm, prefs)} belongs here.${because}` }
  }
  return { ok: true, value: entry.mm }
}

/**
 * A length with its unit. kind 'room' shows feet, 'fine' thousandths, 'bar' millimetres whatever the units of the desk, 'cell' feet, or
 * millimetres whose unit stands at the head of the column.
 */
export function LengthField(
  props: FieldProps<number> & {
    readonly kind?: LengthKind | 'fine' | 'bar' | 'cell'
    readonly range?: LengthRange
    readonly bounds?: LengthBounds
  },
): ReactNode {
  const units = usePrefs((prefs) => prefs.units)
  const fraction = usePrefs((prefs) => prefs.fraction)
  const prefs: MeasurePrefs = { units, fraction }
  const range = props.range ?? 'positive'
  const { kind } = props
  return (
    <ValueField
      {...props}
      show={(mm) =>
        kind === 'bar'
          ? `${numberText(mm, 2)} mm`
          : kind === 'fine'
            ? fineShown(mm, prefs)
            : kind === 'cell'
              ? lengthText(mm, prefs, 'room').replace(/ mm$/, '')
              : lengthText(mm, prefs, kind ?? 'shop')
      }
      read={(text) =>
        lengthRead(text, prefs, {
          range,
          mm: props.value,
          isFine: kind === 'fine',
          isMm: units === 'metric' || kind === 'bar',
          ...(kind === 'room' || kind === 'cell' ? { kind: 'room' } : {}),
          bounds: props.bounds,
        })
      }
      step={(mm, direction) => {
        if (kind === 'bar') return mm + direction * 0.1
        if (kind === 'fine') return Math.max(0.01, mm + direction * (units === 'metric' ? 0.01 : 0.0254))
        const next = lengthStep(mm, direction, prefs)
        // The arrow stops at the last value that may stand; it does not run into a refusal.
        return (range === 'positive' && next <= 0) || (range === 'zeroUp' && next < 0) ? mm : next
      }}
    />
  )
}

/** As `fineText`, in millimetres without decimals that say nothing. */
function fineShown(mm: number, prefs: MeasurePrefs): string {
  return prefs.units === 'metric' ? `${numberText(mm, 2)} mm` : fineText(mm, prefs)
}

/** A length that the line class gives until the builder types one, with the way back at the far right. */
export function ByClassLengthField(
  props: FieldProps<ByClass> & {
    /** What 'class' comes to here, mm. */
    readonly classMm: number
    readonly limit?: string | null
    readonly range?: LengthRange
  },
): ReactNode {
  const units = usePrefs((prefs) => prefs.units)
  const fraction = usePrefs((prefs) => prefs.fraction)
  const prefs: MeasurePrefs = { units, fraction }
  const { value, classMm, keep } = props
  const range = props.range ?? 'positive'
  const mmOf = (given: ByClass): number => (given === 'class' ? classMm : given)
  const origin =
    value === 'class' ? (
      'by class'
    ) : (
      <>
        {props.limit === undefined || props.limit === null ? null : <>{props.limit} · </>}
        <button type="button" className="word" aria-label={`${props.label}: to class`} onClick={() => keep.commit('class')}>
          to class
        </button>
      </>
    )
  return (
    <ValueField<ByClass>
      {...props}
      origin={origin}
      show={(given) => lengthText(mmOf(given), prefs)}
      read={(text) =>
        /^(by )?class$/i.test(text.trim()) ? { ok: true, value: 'class' } : lengthRead(text, prefs, { range, mm: mmOf(value) })
      }
      step={(given, direction) => {
        const next = lengthStep(mmOf(given), direction, prefs)
        return (range === 'positive' && next <= 0) || (range === 'zeroUp' && next < 0) ? given : next
      }}
    />
  )
}

/** A length that standard practice gives until one is typed. `standardMm` null: the standard one is not known here. */
export function StandardLengthField(
  props: FieldProps<number | 'standard'> & { readonly standardMm: number | null; readonly bounds?: LengthBounds | undefined },
): ReactNode {
  const units = usePrefs((prefs) => prefs.units)
  const fraction = usePrefs((prefs) => prefs.fraction)
  const prefs: MeasurePrefs = { units, fraction }
  const { value, standardMm, keep } = props
  const mm = value === 'standard' ? (standardMm ?? 0) : value
  return (
    <ValueField<number | 'standard'>
      {...props}
      origin={
        value === 'standard' ? (
          'standard'
        ) : (
          <button type="button" className="word" aria-label={`${props.label}: to standard`} onClick={() => keep.commit('standard')}>
            to standard
          </button>
        )
      }
      show={(given) => (given !== 'standard' ? fineShown(given, prefs) : standardMm === null ? 'standard' : fineShown(standardMm, prefs))}
      read={(text) =>
        /^standard$/i.test(text.trim())
          ? { ok: true, value: 'standard' }
          : lengthRead(text, prefs, { range: 'positive', mm, isFine: true, bounds: props.bounds })
      }
    />
  )
}

export function NumberField(
  props: FieldProps<number> & { readonly decimals?: number; readonly min?: number; readonly max?: number; readonly stepBy?: number },
): ReactNode {
  const decimals = props.decimals ?? 2
  const { min, max, stepBy } = props
  const isWithin = (value: number): boolean => (min === undefined || value >= min) && (max === undefined || value <= max)
  return (
    <ValueField
      {...props}
      show={(value) => numberText(value, decimals)}
      read={(text) => {
        const entry = numberParse(text)
        if (!entry.ok) return { ok: false, message: entryProblemText(entry.problem) }
        if (isWithin(entry.value)) return { ok: true, value: entry.value }
        return { ok: false, message: max === undefined ? `At least ${min ?? 0} belongs here.` : `From ${min ?? 0} to ${max} belongs here.` }
      }}
      step={(value, direction) => {
        const next = value + direction * (stepBy ?? 1)
        return isWithin(next) ? next : value
      }}
    />
  )
}

/** An angle in degrees; an arrow is one of them. */
export function AngleField(props: FieldProps<number>): ReactNode {
  return (
    <ValueField
      {...props}
      show={(rad) => angleFormat(rad)}
      read={(text) => {
        const entry = angleParse(text)
        return entry.ok ? { ok: true, value: entry.rad } : { ok: false, message: entryProblemText(entry.problem) }
      }}
      step={(rad, direction) => Math.max(0, rad + (direction * Math.PI) / 180)}
    />
  )
}

/** A frog number, whole or with a fraction, from 4 to 20. */
export function FrogField(props: FieldProps<number>): ReactNode {
  return (
    <ValueField
      {...props}
      show={frogText}
      read={(text) => {
        const entry = frogNumberParse(text)
        const isBeyond = entry.ok ? !isFrogBuilt(entry.frog) : entry.problem.kind === 'outOfRange'
        if (isBeyond) return { ok: false, message: frogRangeText }
        if (!entry.ok) return { ok: false, message: entryProblemText(entry.problem) }
        return { ok: true, value: entry.frog }
      }}
      step={(frog, direction) => Math.min(frogsBuilt.most, Math.max(frogsBuilt.least, Math.round(frog * 2 + direction) / 2))}
    />
  )
}

/** A name; it may not be empty where lists need something to call the thing by. */
export function NameField(props: FieldProps<string>): ReactNode {
  return (
    <ValueField
      {...props}
      show={(name) => name}
      read={(text) =>
        text.trim() === ''
          ? { ok: false, message: 'A name belongs here, so that lists and sheets can say which one it is.' }
          : { ok: true, value: text.trim() }
      }
    />
  )
}

/** A grade in per cent, or as a proportion when typed so; an arrow is a tenth of a per cent. */
export function GradeField(props: FieldProps<number>): ReactNode {
  return (
    <ValueField
      {...props}
      show={gradeText}
      read={(text) => {
        const entry = gradeParse(text)
        if (!entry.ok) return { ok: false, message: entryProblemText(entry.problem) }
        if (entry.grade > 0) return { ok: true, value: entry.grade }
        return { ok: false, message: 'A grade above 0 % belongs here.' }
      }}
      step={(grade, direction) => Math.max(0.001, Math.round(grade * 1000 + direction) / 1000)}
    />
  )
}
