import type { ReactNode } from 'react'
import { easementBetween } from '../../core/alignment/index.ts'
import type { CornerPlace } from '../../core/alignment/types.ts'
import type { ArcTurn, ByClass, CompoundArc, CompoundCurve, LineClass } from '../../core/plan/types.ts'
import { angleParse, numberParse } from '../../core/units/index.ts'
import { usePrefs } from '../context.ts'
import { ByClassLengthField } from '../fields/fields.tsx'
import type { Keep, Read } from '../fields/ValueField.tsx'
import { ValueField } from '../fields/ValueField.tsx'
import { angleText, lengthText, numberText } from '../../words/measure.ts'
import { arcWith } from './arcWith.ts'
import { Act, Fields } from './parts.tsx'
import { entryProblemText } from '../../words/entryText.ts'

/** A corner of one radius made into one of two: the second arc flatter by a quarter, both turning alike. */
export function compoundFrom(radius: ByClass, lineClass: LineClass): CompoundCurve {
  const radiusMm = radius === 'class' ? lineClass.usualRadiusMm : radius
  const turn: ArcTurn = { kind: 'share', share: 1 }
  return { first: { radius, turn }, next: [{ easement: 'class', radius: radiusMm * 1.25, turn }] }
}

const arcsOf = ({ first, next }: CompoundCurve): readonly CompoundArc[] => [first, ...next]

function easementWith(curve: CompoundCurve, index: number, easement: ByClass): CompoundCurve {
  return { ...curve, next: curve.next.map((arc, i) => (i === index ? { ...arc, easement } : arc)) }
}

/** The arcs of a compound curve in order, with the easements between them. */
export function CompoundFields({
  curve,
  lineClass,
  place,
  keep,
  onChange,
}: {
  readonly curve: CompoundCurve
  readonly lineClass: LineClass
  readonly place: CornerPlace | undefined
  readonly keep: <V>(toCurve: (value: V) => CompoundCurve) => Keep<V>
  readonly onChange: (curve: CompoundCurve) => void
}): ReactNode {
  const prefs = usePrefs((state) => state)
  const arcs = arcsOf(curve)
  const radiusMm = (index: number): number => {
    const radius = arcs[index]?.radius ?? 'class'
    return radius === 'class' ? lineClass.usualRadiusMm : radius
  }
  const betweenMm = (index: number): number => {
    const result = easementBetween(lineClass.easement, radiusMm(index), radiusMm(index + 1))
    return result.ok ? result.lengthMm : 0
  }
  const last = curve.next.at(-1)
  return (
    <>
      {arcs.map((arc, index) => {
        const solved = place?.solution.arcs[index]
        const between = curve.next[index - 1]
        return (
          <Fields key={index} title={`Arc ${index + 1}`}>
            {between === undefined ? null : (
              <ByClassLengthField
                label={`Easement to arc ${index + 1}`}
                range="zeroUp"
                value={between.easement}
                classMm={betweenMm(index - 1)}
                keep={keep<ByClass>((easement) => easementWith(curve, index - 1, easement))}
              />
            )}
            <ByClassLengthField
              label={`Radius ${index + 1}`}
              value={arc.radius}
              classMm={lineClass.usualRadiusMm}
              limit={`≥ ${lengthText(lineClass.minRadiusMm, prefs)}`}
              isOver={radiusMm(index) < lineClass.minRadiusMm - 1e-6}
              keep={keep<ByClass>((radius) => arcWith(curve, index, { radius }))}
            />
            <TurnField
              label={`Turn ${index + 1}`}
              value={arc.turn}
              turnRad={solved?.turnRad ?? null}
              keep={keep<ArcTurn>((turn) => arcWith(curve, index, { turn }))}
            />
          </Fields>
        )
      })}
      <div className="acts">
        <Act
          onClick={() => {
            const turn: ArcTurn = { kind: 'share', share: 1 }
            onChange({ ...curve, next: [...curve.next, { easement: 'class', radius: last?.radius ?? 'class', turn }] })
          }}
        >
          Add an arc
        </Act>
        {curve.next.length > 1 ? (
          <Act onClick={() => onChange({ ...curve, next: curve.next.slice(0, -1) })}>Take the last arc off</Act>
        ) : null}
      </div>
    </>
  )
}

/** What an arc turns: a typed angle stays; a share divides what is left. */
function TurnField({
  label,
  value,
  turnRad,
  keep,
}: {
  readonly label: string
  readonly value: ArcTurn
  /** What it comes to; null as long as the corner is not solved. */
  readonly turnRad: number | null
  readonly keep: Keep<ArcTurn>
}): ReactNode {
  return (
    <ValueField<ArcTurn>
      label={label}
      value={value}
      keep={keep}
      show={(turn) => (turn.kind === 'angle' ? angleText(turn.turnRad) : `share ${numberText(turn.share, 3)}`)}
      read={turnRead}
      origin={
        value.kind === 'share' ? (
          turnRad === null ? (
            'of what is left'
          ) : (
            `of what is left: ${angleText(turnRad)}`
          )
        ) : (
          <button
            type="button"
            className="word"
            aria-label={`${label} as a share`}
            onClick={() => keep.commit({ kind: 'share', share: 1 })}
          >
            to a share
          </button>
        )
      }
    />
  )
}

function turnRead(text: string): Read<ArcTurn> {
  const share = /^share\b(.*)$/i.exec(text.trim())
  if (share !== null) {
    const typed = (share[1] ?? '').trim()
    const entry = numberParse(typed === '' ? '1' : typed)
    if (!entry.ok) return { ok: false, message: entryProblemText(entry.problem) }
    return entry.value > 0
      ? { ok: true, value: { kind: 'share', share: entry.value } }
      : { ok: false, message: 'A share is more than nothing; share 1 belongs here.' }
  }
  const entry = angleParse(text)
  if (!entry.ok) return { ok: false, message: `${entryProblemText(entry.problem)} Or a share, such as share 1.` }
  return entry.rad > 0 && entry.rad < Math.PI
    ? { ok: true, value: { kind: 'angle', turnRad: entry.rad } }
    : { ok: false, message: 'An arc turns more than nothing and less than 180°; or take a share, such as share 1.' }
}
