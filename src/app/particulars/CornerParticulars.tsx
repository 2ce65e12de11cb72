import { memo, useMemo } from 'react'
import type { ReactNode } from 'react'
import { easementByRule } from '../../core/alignment/index.ts'
import type { CornerPlace } from '../../core/alignment/types.ts'
import { cornerRadiusRoom } from '../../core/checks/index.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import { recordFind } from '../../core/plan/index.ts'
import type { ByClass, Corner, Id, LineClass, Track } from '../../core/plan/types.ts'
import { useDerivedAtRest } from '../atRest.ts'
import { useDerived, usePlan, usePrefs, useStores } from '../context.ts'
import { useDesk } from '../desk.ts'
import { ByClassLengthField, LengthField } from '../fields/fields.tsx'
import { ChoiceField, FactRow } from '../fields/ValueField.tsx'
import { useLeftBe } from '../findings/leftBe.ts'
import { planEdit, useKeepInPlan } from '../planEdit.ts'
import { angleText, lengthText, turnText } from '../../words/measure.ts'
import { cornerName } from '../../words/names.ts'
import { CompoundFields, compoundFrom } from './CompoundFields.tsx'
import { cornerAdd } from './cornerAdd.ts'
import { Act, Fields, ParticularsHead } from './parts.tsx'
import { FindingsOf } from './recordParts.tsx'

/** What the class makes of an easement at this radius, mm. A shift that cannot be had reads as no easement; the problem above says why. */
function easementOfClass(lineClass: LineClass, radiusMm: number): number {
  const result = easementByRule(lineClass.easement, radiusMm)
  return result.ok ? result.lengthMm : 0
}

export function CornerParticulars({ trackId, cornerId }: { readonly trackId: Id; readonly cornerId: Id }): ReactNode {
  const track = usePlan((state) => recordFind(state.plan, 'tracks', trackId))
  const plan = usePlan((state) => state.plan)
  const solved = useDerived((state) => state.derived.network.tracks.get(trackId))
  const index = track === null ? -1 : track.corners.findIndex((corner) => corner.id === cornerId)
  const corner = track?.corners[index]
  const lineClass = track === null ? undefined : plan.lineClasses[track.lineClass]
  if (track === null || corner === undefined || lineClass === undefined) return <p className="lead">This corner is no longer there.</p>
  const alignment = solved?.alignment
  const place = alignment?.ok === true ? alignment.corners.find((candidate) => candidate.cornerId === cornerId) : undefined
  return (
    <>
      <ParticularsHead title={cornerName(track, index)} sub={`${track.name} · class ${lineClass.name}`} />
      <FindingsOf table="tracks" id={trackId} corner={cornerId} />
      <CornerFields track={track} corner={corner} index={index} lineClass={lineClass} place={place} />
      {place === undefined ? null : <CornerFacts place={place} />}
      <CornerActs track={trackId} corner={cornerId} index={index} />
    </>
  )
}

type Shape = 'arc' | 'easement-only' | 'compound'

/** What the radius becomes with another shape of curve; what was typed is kept where it still means something. */
function radiusOfShape(shape: Shape, radius: Corner['radius'], lineClass: LineClass): Corner['radius'] {
  const one = radius === 'easement-only' ? 'class' : typeof radius === 'object' ? radius.first.radius : radius
  switch (shape) {
    case 'arc':
      return one
    case 'easement-only':
      return 'easement-only'
    case 'compound':
      return typeof radius === 'object' ? radius : compoundFrom(one, lineClass)
  }
}

function CornerFields(props: {
  readonly track: Track
  readonly corner: Corner
  readonly index: number
  readonly lineClass: LineClass
  readonly place: CornerPlace | undefined
}): ReactNode {
  const { track, corner, index, lineClass, place } = props
  const stores = useStores()
  const keep = useKeepInPlan()
  const set = cornerSetOf(track.id, corner.id)
  const { radius, easementIn, easementOut } = corner
  const radiusMm = place?.solution.radiusMm ?? (typeof radius === 'number' ? radius : lineClass.usualRadiusMm)
  const slides = (index === 0 && track.start.kind === 'leg') || (index === track.corners.length - 1 && track.end.kind === 'leg')
  return (
    <>
      <CurveFields
        track={track.id}
        corner={corner.id}
        index={index}
        lineClass={lineClass}
        radius={radius}
        radiusMm={radiusMm}
        isSolved={place !== undefined}
        easementIn={easementIn}
        easementOut={easementOut}
        classInMm={easementOfClass(lineClass, place?.solution.arcs[0]?.radiusMm ?? radiusMm)}
        classOutMm={easementOfClass(lineClass, place?.solution.arcs.at(-1)?.radiusMm ?? radiusMm)}
      />
      {typeof radius === 'object' ? (
        <CompoundFields
          curve={radius}
          lineClass={lineClass}
          place={place}
          keep={(toCurve) => keep((value) => set({ radius: toCurve(value) }))}
          onChange={(curve) => planEdit(stores, set({ radius: curve }))}
        />
      ) : null}
      <Fields title="Place of the PI">
        <LengthField
          label="Right"
          kind="room"
          range="any"
          value={place?.pi.x ?? corner.x}
          origin={slides ? 'on the leg' : 'from the origin'}
          keep={keep((x) => set({ x }))}
        />
        <LengthField
          label="Up"
          kind="room"
          range="any"
          value={place?.pi.y ?? corner.y}
          origin={slides ? 'on the leg' : ''}
          keep={keep((y) => set({ y }))}
        />
      </Fields>
    </>
  )
}

const cornerSetOf =
  (track: Id, corner: Id) =>
  (change: Partial<Omit<Corner, 'id'>>): PlanCommand => ({ kind: 'corner.set', track, corner, change })

/** By which curve the line turns: all of it stays as it is while the corner is dragged, and is not drawn again. */
const CurveFields = memo(function CurveFields(props: {
  readonly track: Id
  readonly corner: Id
  readonly index: number
  readonly lineClass: LineClass
  readonly radius: Corner['radius']
  readonly radiusMm: number
  readonly isSolved: boolean
  readonly easementIn: ByClass
  readonly easementOut: ByClass
  /** What the class makes of them, mm. */
  readonly classInMm: number
  readonly classOutMm: number
}): ReactNode {
  const { track, corner, index, lineClass, radius, radiusMm, isSolved, easementIn, easementOut } = props
  const stores = useStores()
  const keep = useKeepInPlan()
  const prefs = usePrefs((state) => state)
  const set = cornerSetOf(track, corner)
  const isOne = radius !== 'easement-only' && typeof radius !== 'object'
  const shape: Shape = radius === 'easement-only' ? 'easement-only' : typeof radius === 'object' ? 'compound' : 'arc'
  const leftBe = useLeftBe('minimum-radius', track, corner)
  const isBelow = radiusMm < lineClass.minRadiusMm - 1e-6
  const isUnder = isBelow && leftBe === null
  const asks = isBelow && leftBe !== null ? `left be: ${leftBe}` : `≥ ${lengthText(lineClass.minRadiusMm, prefs)}`
  return (
    <Fields>
      <ChoiceField
        label="Curve"
        value={shape}
        choices={[
          { value: 'arc', text: 'arc with easements' },
          { value: 'easement-only', text: 'easements only' },
          { value: 'compound', text: 'several radii' },
        ]}
        onChoose={(choice) => planEdit(stores, set({ radius: radiusOfShape(choice, radius, lineClass) }))}
      />
      {radius === 'easement-only' ? (
        <FactRow
          label="Radius"
          value={isSolved ? lengthText(radiusMm, prefs) : 'not solved'}
          origin={isSolved ? asks : ''}
          isOver={isSolved && isUnder}
        />
      ) : typeof radius === 'object' ? null : (
        <ByClassLengthField
          label="Radius"
          value={radius}
          classMm={lineClass.usualRadiusMm}
          limit={asks}
          isOver={isUnder}
          keep={keep<ByClass>((given) => set({ radius: given }))}
        />
      )}
      {isOne ? <LargestRadius track={track} index={index} take={(most) => planEdit(stores, set({ radius: most }))} /> : null}
      <ByClassLengthField
        label="Easement in"
        range="zeroUp"
        value={easementIn}
        classMm={props.classInMm}
        keep={keep<ByClass>((given) => set({ easementIn: given }))}
      />
      <ByClassLengthField
        label="Easement out"
        range="zeroUp"
        value={easementOut}
        classMm={props.classOutMm}
        keep={keep<ByClass>((given) => set({ easementOut: given }))}
      />
    </Fields>
  )
})

/** The largest radius that fits between the sides as they are: one press from a curve that does not fit to a line. */
function LargestRadius({
  track,
  index,
  take,
}: {
  readonly track: Id
  readonly index: number
  readonly take: (radiusMm: number) => void
}): ReactNode {
  const { network } = useDerivedAtRest()
  const prefs = usePrefs((state) => state)
  const room = useMemo(() => cornerRadiusRoom(network, track, index), [network, track, index])
  if (room === null) return null
  const { mostMm, leastMm, radiusMm } = room
  const fits = mostMm !== null && mostMm >= (leastMm ?? 0) ? mostMm : null
  if (fits === null) return <FactRow label="Fits up to" value="no radius" origin="with these easements" />
  // In a corner with room to spare the whole of it can be miles.
  const shown = fits > endlessMm ? 'no end' : lengthText(fits, prefs)
  const isTaken = fits === radiusMm || fits > endlessMm
  return (
    <FactRow
      label="Fits up to"
      value={shown}
      origin={
        isTaken ? (
          'as it is'
        ) : (
          <button type="button" className="word" aria-label={`Radius: the largest that fits, ${shown}`} onClick={() => take(fits)}>
            take it
          </button>
        )
      }
    />
  )
}

/** A hundred metres on the model: no curve. */
const endlessMm = 1e5

function CornerFacts({ place }: { readonly place: CornerPlace }): ReactNode {
  const prefs = usePrefs((state) => state)
  const { solution } = place
  const length = (mm: number): string => lengthText(mm, prefs)
  const station = (mm: number): string => lengthText(mm, prefs, 'room')
  // One unit for both, so that they stand in one line.
  const stations = (fromMm: number, toMm: number): string => `${station(fromMm).replace(/ mm$/, '')} · ${station(toMm)}`
  const isEven = Math.abs(solution.easementInMm - solution.easementOutMm) < 1e-6
  const pair = (one: string, other: string): string => (isEven || one === other ? one : `${one} in, ${other} out`)
  const hasEasement = solution.easementInMm > 0 || solution.easementOutMm > 0
  return (
    <Fields title="As it comes out">
      <FactRow label="Deflection" value={turnText(solution.deflectionRad)} />
      {hasEasement ? (
        <FactRow label="Spiral angle" value={pair(angleText(solution.spiralAngleInRad), angleText(solution.spiralAngleOutRad))} />
      ) : null}
      {hasEasement ? <FactRow label="Shift" value={pair(length(solution.shiftInMm), length(solution.shiftOutMm))} /> : null}
      <FactRow label="Tangent" value={pair(length(solution.tangentInMm), length(solution.tangentOutMm))} origin="T" />
      <FactRow label="External" value={length(solution.externalMm)} origin="PI to curve" />
      {solution.arcs.map((arc, index) => (
        <FactRow
          key={index}
          label={solution.arcs.length > 1 ? `Arc ${index + 1}` : 'Arc'}
          value={length(arc.lengthMm)}
          origin={solution.arcs.length > 1 ? `R ${length(arc.radiusMm)}, ${angleText(arc.turnRad)}` : ''}
        />
      ))}
      <FactRow label="Whole curve" value={length(solution.totalLengthMm)} />
      <FactRow
        label={hasEasement ? 'TS · SC' : 'Begins'}
        value={hasEasement ? stations(place.tsMm, place.scMm) : station(place.tsMm)}
        origin="station"
      />
      {place.joins.map(({ fromMm, toMm }, index) => (
        <FactRow
          key={index}
          label={toMm > fromMm ? 'CS · SC' : 'CC'}
          value={toMm > fromMm ? stations(fromMm, toMm) : station(fromMm)}
          origin={`arc ${index + 1} to ${index + 2}`}
        />
      ))}
      <FactRow
        label={hasEasement ? 'CS · ST' : 'Ends'}
        value={hasEasement ? stations(place.csMm, place.stMm) : station(place.stMm)}
        origin="station"
      />
    </Fields>
  )
}

const CornerActs = memo(function CornerActs({
  track,
  corner,
  index,
}: {
  readonly track: Id
  readonly corner: Id
  readonly index: number
}): ReactNode {
  const stores = useStores()
  const setDesk = useDesk((desk) => desk.set)
  return (
    <div className="acts is-column">
      <Act
        onClick={() => {
          setDesk({ sheetSubject: { kind: 'curve', track, corner } })
          stores.session.getState().setStage('sheets')
        }}
      >
        Sheet of this curve
      </Act>
      <Act
        onClick={() => {
          const now = recordFind(stores.plan.getState().plan, 'tracks', track)
          if (now !== null) cornerAdd(stores, now, index + 1)
        }}
      >
        Add a corner after it
      </Act>
      <Act
        onClick={() => {
          const done = planEdit(stores, { kind: 'corner.remove', track, corner })
          if (done.problem === null) stores.session.getState().select({ kind: 'record', table: 'tracks', id: track })
        }}
      >
        Take this corner out
      </Act>
    </div>
  )
})
