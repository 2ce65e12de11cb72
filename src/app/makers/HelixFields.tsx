import type { ReactNode } from 'react'
import type { ByClass, HelixNumbers } from '../../core/plan/types.ts'
import { clearHeightOver } from '../../core/standards/index.ts'
import { AngleField, ByClassLengthField, GradeField, LengthField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import type { Keep } from '../fields/ValueField.tsx'
import { HostField, ends, numberKeep, sides } from './fieldParts.tsx'
import type { FieldsProps } from './fieldParts.tsx'

/** The numbers of a helix: how wide, how far up, how steeply, and which way out. */
export function HelixFields(props: FieldsProps<HelixNumbers>): ReactNode {
  const { numbers } = props
  return (
    <>
      <HostField props={props} name="track" label="Behind" />
      <ChoiceField label="At" value={numbers.end} choices={ends} onChoose={numberKeep(props, 'end').commit} />
      <ChoiceField label="Turns" value={numbers.hand} choices={sides} onChoose={numberKeep(props, 'hand').commit} origin="going in" />
      <SizeFields {...props} />
      <LengthField label="Climb" value={numbers.climbMm} origin="of the railhead" keep={numberKeep(props, 'climbMm')} />
      <RiseFields {...props} />
      <LengthField label="Deck" range="zeroUp" value={numbers.deckMm} origin="with roadbed" keep={numberKeep(props, 'deckMm')} />
      <ExitFields {...props} />
      <LengthField label="Straight" range="zeroUp" value={numbers.straightMm} origin="behind it" keep={numberKeep(props, 'straightMm')} />
    </>
  )
}

/** Keeps one side of a choice: its own number, in the shape that the numbers have for it. */
function sideKeep<K extends 'size' | 'rise' | 'exit', V>(
  { keep, numbers }: FieldsProps<HelixNumbers>,
  key: K,
  toSide: (value: V) => HelixNumbers[K],
): Keep<V> {
  return keep((was, value: V) => ({ ...was, numbers: { ...numbers, [key]: toSide(value) } }))
}

function SizeFields(props: FieldsProps<HelixNumbers>): ReactNode {
  const { maker, plan } = props
  const { size } = props.numbers
  const lineClass = plan.lineClasses[maker.lineClass]
  const classMm = lineClass?.usualRadiusMm ?? 0
  const acrossMm = 2 * ((size.kind === 'radius' && size.radius !== 'class' ? size.radius : classMm) + plan.railway.edgeMarginMm)
  return (
    <>
      <ChoiceField
        label="Size"
        value={size.kind}
        choices={[
          { value: 'radius', text: 'by radius' },
          { value: 'across', text: 'largest that fits' },
        ]}
        onChoose={
          sideKeep<'size', HelixSizeKind>(props, 'size', (kind) => (kind === 'radius' ? { kind, radius: 'class' } : { kind, acrossMm }))
            .commit
        }
      />
      {size.kind === 'radius' ? (
        <ByClassLengthField
          label="Radius"
          value={size.radius}
          classMm={classMm}
          isOver={size.radius !== 'class' && lineClass !== undefined && size.radius < lineClass.minRadiusMm}
          keep={sideKeep<'size', ByClass>(props, 'size', (radius) => ({ kind: 'radius', radius }))}
        />
      ) : (
        <LengthField
          label="Room across"
          kind="room"
          value={size.acrossMm}
          origin="with margins"
          keep={sideKeep<'size', number>(props, 'size', (mm) => ({ kind: 'across', acrossMm: mm }))}
        />
      )}
    </>
  )
}

type HelixSizeKind = HelixNumbers['size']['kind']
type HelixRiseKind = HelixNumbers['rise']['kind']
type HelixExitKind = HelixNumbers['exit']['kind']

function RiseFields(props: FieldsProps<HelixNumbers>): ReactNode {
  const { plan, maker, numbers } = props
  const { rise } = numbers
  const clearMm = clearHeightOver(plan.railway.ratio)
  const grade = plan.lineClasses[maker.lineClass]?.maxGrade ?? 0.02
  const begin = (kind: HelixRiseKind): HelixNumbers['rise'] => {
    switch (kind) {
      case 'clear':
        return { kind, clearMm }
      case 'perTurn':
        return { kind, riseMm: clearMm + numbers.deckMm }
      case 'grade':
        return { kind, grade }
    }
  }
  return (
    <>
      <ChoiceField
        label="Steepness"
        value={rise.kind}
        choices={[
          { value: 'clear', text: 'by clear height' },
          { value: 'perTurn', text: 'by rise in a turn' },
          { value: 'grade', text: 'by grade' },
        ]}
        onChoose={sideKeep<'rise', HelixRiseKind>(props, 'rise', begin).commit}
      />
      {rise.kind === 'clear' ? (
        <LengthField
          label="Clear height"
          value={rise.clearMm}
          origin="over the railhead"
          isOver={rise.clearMm < clearMm - 1e-6}
          keep={sideKeep<'rise', number>(props, 'rise', (mm) => ({ kind: 'clear', clearMm: mm }))}
        />
      ) : rise.kind === 'perTurn' ? (
        <LengthField
          label="Rise"
          value={rise.riseMm}
          origin="in one turn"
          keep={sideKeep<'rise', number>(props, 'rise', (mm) => ({ kind: 'perTurn', riseMm: mm }))}
        />
      ) : (
        <GradeField
          label="Grade"
          value={rise.grade}
          origin="at most"
          keep={sideKeep<'rise', number>(props, 'rise', (to) => ({ kind: 'grade', grade: to }))}
        />
      )}
    </>
  )
}

function ExitFields(props: FieldsProps<HelixNumbers>): ReactNode {
  const { exit } = props.numbers
  return (
    <>
      <ChoiceField
        label="Leaves"
        value={exit.kind}
        choices={[
          { value: 'asClimb', text: 'where the climb is done' },
          { value: 'angle', text: 'at an angle' },
        ]}
        onChoose={sideKeep<'exit', HelixExitKind>(props, 'exit', (kind) => (kind === 'asClimb' ? { kind } : { kind, angleRad: 0 })).commit}
      />
      {exit.kind === 'angle' ? (
        <AngleField
          label="Angle"
          value={exit.angleRad}
          origin="from the way in"
          keep={sideKeep<'exit', number>(props, 'exit', (rad) => ({ kind: 'angle', angleRad: rad % (2 * Math.PI) }))}
        />
      ) : null}
    </>
  )
}
