import type { ReactNode } from 'react'
import type {
  CrossoverNumbers,
  Id,
  LoopNumbers,
  MakerNumbers,
  SidingNumbers,
  SpurNumbers,
  TurnbackNumbers,
  WyeNumbers,
  YardNumbers,
} from '../../core/plan/types.ts'
import { AngleField, ByClassLengthField, FrogField, LengthField, NameField, NumberField } from '../fields/fields.tsx'
import { ChoiceField } from '../fields/ValueField.tsx'
import type { Keep } from '../fields/ValueField.tsx'
import { Fields } from '../particulars/parts.tsx'
import { HostField, ends, numberKeep, sides } from './fieldParts.tsx'
import type { FieldsProps } from './fieldParts.tsx'
import { HelixFields } from './HelixFields.tsx'

const facings = [
  { value: 'rising', text: 'rising station' },
  { value: 'falling', text: 'falling station' },
] as const
/** The few numbers of a maker. */
export function MakerFields({ maker, plan, keep }: Omit<FieldsProps<MakerNumbers>, 'numbers'>): ReactNode {
  const classes = Object.values(plan.lineClasses).map((lineClass) => ({ value: lineClass.id, text: lineClass.name }))
  return (
    <>
      <Fields>
        <NameField label="Name" value={maker.name} keep={keep((was, name: string) => ({ ...was, name }))} />
        <KindFields maker={maker} plan={plan} keep={keep} />
        <ChoiceField
          label="Line class"
          value={maker.lineClass}
          choices={classes}
          onChoose={keep((was, lineClass: Id) => ({ ...was, lineClass })).commit}
          origin="of what it makes"
        />
      </Fields>
    </>
  )
}

function KindFields({ maker, plan, keep }: Omit<FieldsProps<MakerNumbers>, 'numbers'>): ReactNode {
  const { numbers } = maker
  const props = { maker, plan, keep }
  switch (numbers.kind) {
    case 'crossover':
      return <CrossoverFields {...props} numbers={numbers} />
    case 'siding':
      return <SidingFields {...props} numbers={numbers} />
    case 'spur':
      return <SpurFields {...props} numbers={numbers} />
    case 'yard':
      return <YardFields {...props} numbers={numbers} />
    case 'wye':
      return <WyeFields {...props} numbers={numbers} />
    case 'loop':
      return <LoopFields {...props} numbers={numbers} />
    case 'turnback':
      return <TurnbackFields {...props} numbers={numbers} />
    case 'helix':
      return <HelixFields {...props} numbers={numbers} />
  }
}

function CrossoverFields(props: FieldsProps<CrossoverNumbers>): ReactNode {
  const { numbers } = props
  return (
    <>
      <HostField props={props} name="track" label="From" />
      <HostField props={props} name="otherTrack" label="To" />
      <LengthField
        label="Station"
        kind="room"
        range="zeroUp"
        value={numbers.stationMm}
        origin="of its middle"
        keep={numberKeep(props, 'stationMm')}
      />
      <FrogField label="Frogs" value={numbers.frog} keep={numberKeep(props, 'frog')} />
      <ChoiceField label="Hand" value={numbers.hand} choices={sides} onChoose={numberKeep(props, 'hand').commit} />
      <ChoiceField
        label="Layout"
        value={numbers.layout}
        choices={[
          { value: 'single', text: 'single' },
          { value: 'double', text: 'both hands in a row' },
          { value: 'scissors', text: 'scissors' },
        ]}
        onChoose={numberKeep(props, 'layout').commit}
      />
    </>
  )
}

function SidingFields(props: FieldsProps<SidingNumbers>): ReactNode {
  const { numbers } = props
  return (
    <>
      <HostField props={props} name="track" label="Beside" />
      <ChoiceField label="Side" value={numbers.side} choices={sides} onChoose={numberKeep(props, 'side').commit} origin="rising station" />
      <LengthField
        label="From"
        kind="room"
        range="zeroUp"
        value={numbers.fromMm}
        origin="points, station"
        keep={numberKeep(props, 'fromMm')}
      />
      <LengthField label="To" kind="room" range="zeroUp" value={numbers.toMm} origin="points, station" keep={numberKeep(props, 'toMm')} />
      <LengthField label="Centres" value={numbers.centresMm} keep={numberKeep(props, 'centresMm')} />
      <LengthField label="On curves" value={numbers.curveCentresMm} origin="centres" keep={numberKeep(props, 'curveCentresMm')} />
      <FrogField label="First frog" value={numbers.frogFrom} keep={numberKeep(props, 'frogFrom')} />
      <FrogField label="Last frog" value={numbers.frogTo} keep={numberKeep(props, 'frogTo')} />
    </>
  )
}

function PointsFields(props: FieldsProps<SpurNumbers> | FieldsProps<YardNumbers>): ReactNode {
  const { maker, numbers, keep } = props
  const set = <V,>(key: 'stationMm' | 'side' | 'facing' | 'frog'): Keep<V> =>
    keep((_was, value: V) => ({ ...maker, numbers: { ...numbers, [key]: value } }))
  return (
    <>
      <HostField<SpurNumbers | YardNumbers> props={props} name="track" label="Leaves" />
      <LengthField
        label="Station"
        kind="room"
        range="zeroUp"
        value={numbers.stationMm}
        origin="of the points"
        keep={set<number>('stationMm')}
      />
      <ChoiceField label="Side" value={numbers.side} choices={sides} onChoose={set<string>('side').commit} origin="rising station" />
      <ChoiceField label="Faces" value={numbers.facing} choices={facings} onChoose={set<string>('facing').commit} />
      <FrogField label={numbers.kind === 'yard' ? 'Frogs' : 'Frog'} value={numbers.frog} keep={set<number>('frog')} />
    </>
  )
}

/** Half a frog angle more or less than usual: what one sees as an angle away from the host. */
const awayRad = (30 * Math.PI) / 180

function SpurFields(props: FieldsProps<SpurNumbers>): ReactNode {
  const { numbers, plan, maker, keep } = props
  const { course } = numbers
  const centresMm = plan.lineClasses[maker.lineClass]?.trackCentresMm ?? 50
  const setCourse = <V,>(toCourse: (value: V) => SpurNumbers['course']): Keep<V> =>
    keep((was, value: V) => ({ ...was, numbers: { ...numbers, course: toCourse(value) } }))
  return (
    <>
      <PointsFields {...props} />
      <ChoiceField
        label="Runs"
        value={course.kind}
        choices={[
          { value: 'parallel', text: 'beside the track' },
          { value: 'angle', text: 'away at an angle' },
        ]}
        onChoose={
          setCourse<'parallel' | 'angle'>((kind) => (kind === 'parallel' ? { kind, centresMm } : { kind, angleRad: awayRad })).commit
        }
      />
      {course.kind === 'parallel' ? (
        <LengthField
          label="Centres"
          value={course.centresMm}
          keep={setCourse<number>((value) => ({ kind: 'parallel', centresMm: value }))}
        />
      ) : (
        <AngleField label="Angle" value={course.angleRad} keep={setCourse<number>((angleRad) => ({ kind: 'angle', angleRad }))} />
      )}
      <LengthField label="Length" kind="room" value={numbers.lengthMm} origin="of straight" keep={numberKeep(props, 'lengthMm')} />
    </>
  )
}

function YardFields(props: FieldsProps<YardNumbers>): ReactNode {
  const { numbers } = props
  return (
    <>
      <PointsFields {...props} />
      <NumberField label="Tracks" value={numbers.tracks} decimals={0} min={1} max={30} keep={wholeKeep(numberKeep(props, 'tracks'))} />
      <LengthField label="Centres" value={numbers.centresMm} keep={numberKeep(props, 'centresMm')} />
      <LengthField label="First track" value={numbers.leadCentresMm} origin="from the lead" keep={numberKeep(props, 'leadCentresMm')} />
      <LengthField label="Body" kind="room" value={numbers.bodyMm} origin="shortest track" keep={numberKeep(props, 'bodyMm')} />
      <ChoiceField
        label="Ladder"
        value={numbers.ladder}
        choices={[
          { value: 'straight', text: 'straight' },
          { value: 'compound', text: 'compound, two ladders' },
        ]}
        onChoose={numberKeep(props, 'ladder').commit}
      />
      <ChoiceField
        label="Ends"
        value={numbers.ends}
        choices={[
          { value: 'stub', text: 'stub ended' },
          { value: 'double', text: 'ladder at both ends' },
        ]}
        onChoose={numberKeep(props, 'ends').commit}
      />
    </>
  )
}

/** Tracks are whole; a fraction is refused in words and not rounded in silence. */
const wholeKeep = (keep: Keep<number>): Keep<number> => ({
  ...keep,
  commit: (value) => (Number.isInteger(value) ? keep.commit(value) : 'A whole number of tracks belongs here.'),
})

function WyeFields(props: FieldsProps<WyeNumbers>): ReactNode {
  const { numbers, plan, maker } = props
  const lineClass = plan.lineClasses[maker.lineClass]
  return (
    <>
      <HostField props={props} name="track" label="On" />
      <LengthField
        label="Station"
        kind="room"
        range="zeroUp"
        value={numbers.stationMm}
        origin="of the tail"
        keep={numberKeep(props, 'stationMm')}
      />
      <ChoiceField label="Side" value={numbers.side} choices={sides} onChoose={numberKeep(props, 'side').commit} origin="rising station" />
      <FrogField label="Base frogs" value={numbers.frog} keep={numberKeep(props, 'frog')} />
      <FrogField label="Tail frog" value={numbers.tailFrog} keep={numberKeep(props, 'tailFrog')} />
      <ByClassLengthField
        label="Radius"
        value={numbers.radius}
        classMm={lineClass?.usualRadiusMm ?? 0}
        isOver={numbers.radius !== 'class' && lineClass !== undefined && numbers.radius < lineClass.minRadiusMm}
        keep={numberKeep(props, 'radius')}
      />
      <LengthField label="Tail" kind="room" value={numbers.tailMm} origin="behind its points" keep={numberKeep(props, 'tailMm')} />
    </>
  )
}

function LoopFields(props: FieldsProps<LoopNumbers>): ReactNode {
  const { numbers, plan, maker } = props
  const lineClass = plan.lineClasses[maker.lineClass]
  return (
    <>
      <HostField props={props} name="track" label="Behind" />
      <ChoiceField label="At" value={numbers.end} choices={ends} onChoose={numberKeep(props, 'end').commit} />
      <ChoiceField label="Hand" value={numbers.hand} choices={sides} onChoose={numberKeep(props, 'hand').commit} origin="going in" />
      <FrogField label="Frog" value={numbers.frog} keep={numberKeep(props, 'frog')} />
      <ByClassLengthField
        label="Radius"
        value={numbers.radius}
        classMm={lineClass?.usualRadiusMm ?? 0}
        isOver={numbers.radius !== 'class' && lineClass !== undefined && numbers.radius < lineClass.minRadiusMm}
        keep={numberKeep(props, 'radius')}
      />
      <LengthField
        label="Straight"
        range="zeroUp"
        value={numbers.straightMm}
        origin="between curves"
        keep={numberKeep(props, 'straightMm')}
      />
    </>
  )
}

function TurnbackFields(props: FieldsProps<TurnbackNumbers>): ReactNode {
  const { numbers } = props
  return (
    <>
      <HostField props={props} name="track" label="From" />
      <ChoiceField label="At" value={numbers.end} choices={ends} onChoose={numberKeep(props, 'end').commit} />
      <HostField props={props} name="otherTrack" label="To" />
      <ChoiceField label="At" value={numbers.otherEnd} choices={ends} onChoose={numberKeep(props, 'otherEnd').commit} />
    </>
  )
}
