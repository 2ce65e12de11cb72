import type { ReactNode } from 'react'
import { lengthParse, numberParse } from '../../core/units/index.ts'
import { entryProblemText } from '../../words/entryText.ts'
import { lengthText, numberText } from '../../words/measure.ts'
import { usePrefs } from '../context.ts'
import type { FieldProps } from './fields.tsx'
import { ValueField } from './ValueField.tsx'
import type { Read } from './ValueField.tsx'

// Fields that only rules of laying and stock ask for.

function numberRead(text: string, unit: RegExp, within: (value: number) => boolean, range: string): Read<number> {
  const entry = numberParse(text.trim().replace(unit, '').trim())
  if (!entry.ok) return { ok: false, message: entryProblemText(entry.problem) }
  return within(entry.value) ? { ok: true, value: entry.value } : { ok: false, message: `${range} belongs here.` }
}

/** A share, shown and typed in per cent; kept as 0 to 1. isMore: it has to be more than nothing. */
export function PercentField(
  props: FieldProps<number> & { readonly decimals?: number; readonly most?: number; readonly isMore?: boolean },
): ReactNode {
  const { decimals = 0, most = 1, isMore = false } = props
  const stepBy = 10 ** -(decimals + 2)
  const isWithin = (share: number): boolean => (isMore ? share > 0 : share >= 0) && share <= most
  return (
    <ValueField
      {...props}
      show={(share) => `${numberText(100 * share, decimals)} %`}
      read={(text) => {
        const range = `${isMore ? 'More than 0 and up to' : 'From 0 to'} ${numberText(100 * most, decimals)} %`
        const read = numberRead(text, /%$/, (value) => isWithin(value / 100), range)
        return read.ok ? { ok: true, value: read.value / 100 } : read
      }}
      step={(share, direction) => (isWithin(share + direction * stepBy) ? share + direction * stepBy : share)}
    />
  )
}

/** A temperature, kept in degrees Celsius; shown as the desk measures, and either may be typed with its letter. */
export function TemperatureField(props: FieldProps<number>): ReactNode {
  const isF = usePrefs((prefs) => prefs.units === 'imperial')
  return (
    <ValueField
      {...props}
      show={(celsius) => (isF ? `${numberText(32 + 1.8 * celsius, 1)} °F` : `${numberText(celsius, 1)} °C`)}
      read={(text) => {
        const inF = /f$/i.test(text.trim()) || (isF && !/c$/i.test(text.trim()))
        const read = numberRead(text, /°?\s*[cf]$/i, Number.isFinite, 'A temperature')
        if (!read.ok) return read
        const celsius = inF ? (read.value - 32) / 1.8 : read.value
        return celsius >= -60 && celsius <= 100
          ? { ok: true, value: celsius }
          : { ok: false, message: 'From -60 to 100 °C (-76 to 212 °F) belongs here.' }
      }}
      step={(celsius, direction) => celsius + direction * (isF ? 1 / 1.8 : 1)}
    />
  )
}

const unknown = 'not known'
const isUnknown = (text: string): boolean => ['', unknown, '?', '-'].includes(text.trim().toLowerCase())

/** A number that may not be known: then the field is emptied. */
export function MaybeNumberField(
  props: FieldProps<number | null> & { readonly decimals?: number; readonly isZeroGood?: boolean },
): ReactNode {
  const { decimals = 2, isZeroGood = false } = props
  return (
    <ValueField<number | null>
      {...props}
      show={(value) => (value === null ? unknown : numberText(value, decimals))}
      read={(text) =>
        isUnknown(text)
          ? { ok: true, value: null }
          : numberRead(
              text,
              /^$/,
              (value) => value > 0 || (isZeroGood && value === 0),
              isZeroGood ? 'Zero or more, or nothing,' : 'More than nothing, or an empty field,',
            )
      }
    />
  )
}

/** A length by the hour that may not be known. */
export function MaybePaceField(props: FieldProps<number | null>): ReactNode {
  const units = usePrefs((prefs) => prefs.units)
  const fraction = usePrefs((prefs) => prefs.fraction)
  return (
    <ValueField<number | null>
      {...props}
      show={(mm) => (mm === null ? unknown : lengthText(mm, { units, fraction }, 'room'))}
      read={(text) => {
        if (isUnknown(text)) return { ok: true, value: null }
        const entry = lengthParse(text, { bare: units === 'metric' ? 'mm' : 'in' })
        if (!entry.ok) return { ok: false, message: entryProblemText(entry.problem) }
        return entry.mm > 0
          ? { ok: true, value: entry.mm }
          : { ok: false, message: 'A length by the hour, or an empty field, belongs here.' }
      }}
    />
  )
}
