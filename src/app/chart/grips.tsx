import { easementByRule } from '../../core/alignment/index.ts'
import type { PlanCommand } from '../../core/edit/types.ts'
import type { NetworkTrack } from '../../core/network/types.ts'
import type { ByClass, Corner, Id, LineClass, Track } from '../../core/plan/types.ts'
import { turnoutSlide } from '../../tools/select/slide.ts'
import { wholeOf, wholeStepMm } from '../../tools/shared/snap.ts'
import { easementName, easementSays, pullReasonText, radiusName, radiusSays } from '../../words/chartText.ts'
import { lengthStep, lengthText } from '../../words/measure.ts'
import type { MeasurePrefs } from '../../words/measure.ts'
import { hintText, snapWords } from '../canvas/hintWords.ts'
import type { Stores } from '../context.ts'
import { ByClassLengthField, LengthField } from '../fields/fields.tsx'
import type { Keep } from '../fields/ValueField.tsx'
import { arcWith } from '../particulars/arcWith.ts'
import type { CornerShape } from './chartModel.ts'
import { heightsHeld, rows } from './chartScale.ts'
import type { ChartScale } from './chartScale.ts'
import type { Grip, OpenStepRef, Pulled } from './grip.ts'
import { easementAsked, easementNearMm, easementReaching, flattestMm, radiusAsked } from './pulled.ts'
import type { Asked, EasementSide } from './pulled.ts'
import { stepOpen, stepWhole } from './stepOpen.ts'
import type { StepSubject } from './stepOpen.ts'

/* The numbers of the chart that are taken hold of, each with the command that the particulars would give. */

/** A curve on the chart, and the track that it is a part of. */
export interface CurveAt {
  readonly stores: Stores
  readonly track: Track
  readonly lineClass: LineClass
  readonly shape: CornerShape
  readonly scale: ChartScale
  readonly prefs: MeasurePrefs & { readonly units: 'imperial' | 'metric' }
}

/** How a field over the chart keeps its value: what the line cannot be laid with is refused, and nothing is changed. */
function keepLaid<V>(stores: Stores, subject: StepSubject, toCommand: (value: V) => PlanCommand, open: OpenStepRef): Keep<V> {
  return {
    commit: (value) => stepWhole(stores, subject, toCommand(value)),
    nudge: (value) => {
      open.current ??= stepOpen(stores, subject, toCommand(value))
      return open.current.attempt(toCommand(value))
    },
    settle: () => {
      open.current?.keep()
      open.current = null
    },
  }
}

/** So many marks of the ruler farther. */
function lengthSteps(mm: number, steps: number, prefs: MeasurePrefs): number {
  const direction = steps > 0 ? 1 : -1
  return Array.from({ length: Math.abs(steps) }).reduce<number>((at) => lengthStep(at, direction, prefs), mm)
}

function asked(answer: Asked, toCommand: (value: ByClass) => PlanCommand, { lineClass, prefs }: CurveAt): Pulled {
  const why = answer.why === null ? null : pullReasonText(answer.why, lineClass.name, flattestMm, prefs)
  if (!answer.ok) return { ok: false, words: why ?? '' }
  const words = [lengthText(answer.mm, prefs), ...(why === null ? [] : [why])].join(' · ')
  return { ok: true, command: toCommand(answer.value), words, isHeld: false }
}

/** What is typed or stepped: a length of its own. */
function own(mm: number, toCommand: (value: ByClass) => PlanCommand, prefs: MeasurePrefs): Pulled {
  return { ok: true, command: toCommand(mm), words: lengthText(mm, prefs), isHeld: false }
}

/** The top of one arc; null where nobody chose a radius: it follows from easements that meet. */
export function radiusGrip(curve: CurveAt, arc: number): Grip | null {
  const { stores, track, lineClass, shape, scale, prefs } = curve
  const { index, place } = shape
  const { solution } = place
  const corner = track.corners[index]
  const solved = solution.arcs[arc]
  if (corner === undefined || solved === undefined || corner.radius === 'easement-only') return null
  const { radius } = corner
  const given = typeof radius === 'object' ? (arc === 0 ? radius.first : radius.next[arc - 1])?.radius : radius
  if (given === undefined) return null
  const toCommand = (value: ByClass): PlanCommand =>
    cornerSet(track, corner, { radius: typeof radius === 'object' ? arcWith(radius, arc, { radius: value }) : value })
  const sign = solution.deflectionRad > 0 ? 1 : -1
  const [fromMm, toMm] = arcStations(shape, arc)
  const subject = { track: track.id, turnout: null }
  const heights = heightsHeld(1 / solved.radiusMm, scale)
  const isOver = solved.radiusMm < lineClass.minRadiusMm - 1e-6
  return {
    label: radiusName(track, index, arc),
    says: radiusSays(solved.radiusMm, lineClass, prefs),
    isUpright: true,
    mm: solved.radiusMm,
    mostMm: flattestMm,
    at: { x: scale.x((fromMm + toMm) / 2), y: scale.topY(sign / solved.radiusMm) },
    stationMm: (fromMm + toMm) / 2,
    subject,
    select: () => cornerSelect(stores, track, corner),
    pulled: ({ y }, isFree) => asked(radiusAsked(y, sign, lineClass, heights, prefs, isFree), toCommand, curve),
    stepped: (steps) => own(lengthSteps(solved.radiusMm, steps, prefs), toCommand, prefs),
    field: (onDone, open) => (
      <ByClassLengthField
        label="Radius"
        value={given}
        classMm={lineClass.usualRadiusMm}
        limit={`≥ ${lengthText(lineClass.minRadiusMm, prefs)}`}
        isOver={isOver}
        keep={keepLaid(stores, subject, toCommand, open)}
        onDone={onDone}
      />
    ),
  }
}

/** From where to where one arc of a curve lies. */
export function arcStations({ place }: CornerShape, arc: number): readonly [number, number] {
  return [place.joins[arc - 1]?.toMm ?? place.scMm, place.joins[arc]?.fromMm ?? place.csMm]
}

/** The foot of a curve, which its easement moves. */
export function easementGrip(curve: CurveAt, side: EasementSide): Grip | null {
  const { stores, track, lineClass, shape, scale, prefs } = curve
  const { index, place } = shape
  const { solution } = place
  const corner = track.corners[index]
  if (corner === undefined) return null
  const key = side === 'in' ? 'easementIn' : 'easementOut'
  const footMm = side === 'in' ? place.tsMm : place.stMm
  const mm = side === 'in' ? solution.easementInMm : solution.easementOutMm
  const arc = side === 'in' ? solution.arcs[0] : solution.arcs.at(-1)
  const byRule = easementByRule(lineClass.easement, arc?.radiusMm ?? solution.radiusMm)
  const classMm = byRule.ok ? byRule.lengthMm : 0
  const toCommand = (value: ByClass): PlanCommand => cornerSet(track, corner, { [key]: value })
  const subject = { track: track.id, turnout: null }
  return {
    label: easementName(track, index, side),
    says: easementSays(mm, corner[key], prefs),
    isUpright: false,
    mm,
    mostMm: 2 * solution.radiusMm * Math.abs(solution.deflectionRad),
    at: { x: scale.x(footMm), y: rows.curveAxis },
    stationMm: footMm,
    subject,
    select: () => cornerSelect(stores, track, corner),
    pulled: ({ x }, isFree) => {
      const lengthMm = easementReaching(place, corner.radius, side, scale.stationAt(x))
      return asked(easementAsked(lengthMm, classMm, easementNearMm(scale), prefs, isFree), toCommand, curve)
    },
    stepped: (steps) => {
      const next = lengthSteps(mm, steps, prefs)
      return next < 0 && mm > 0 ? own(0, toCommand, prefs) : own(next, toCommand, prefs)
    },
    field: (onDone, open) => (
      <ByClassLengthField
        label={side === 'in' ? 'Easement in' : 'Easement out'}
        range="zeroUp"
        value={corner[key]}
        classMm={classMm}
        keep={keepLaid(stores, subject, toCommand, open)}
        onDone={onDone}
      />
    ),
  }
}

function cornerSet(track: Track, corner: Corner, change: Partial<Omit<Corner, 'id'>>): PlanCommand {
  return { kind: 'corner.set', track: track.id, corner: corner.id, change }
}

function cornerSelect(stores: Stores, track: Track, corner: Corner): void {
  stores.session.getState().select({ kind: 'corner', track: track.id, corner: corner.id })
}

/** What has a station on a track and can be given another. */
export interface Stationed {
  readonly table: 'turnouts' | 'railJoints' | 'portals'
  readonly id: Id
  readonly stationMm: number
}

/** Something that slides along its track; `y` is where its handle stands. */
export function stationGrip(
  { table, id, stationMm }: Stationed,
  name: string,
  host: NetworkTrack,
  y: number,
  { stores, scale, prefs }: Pick<CurveAt, 'stores' | 'scale' | 'prefs'>,
): Grip | null {
  const { track, alignment } = host
  if (!alignment.ok) return null
  const { lengthMm } = alignment.path
  const room = (mm: number): string => lengthText(mm, prefs, 'room')
  const toCommand = (toMm: number): PlanCommand => stationSet(table, id, toMm)
  const beyond = (): string => hintText({ kind: 'beyondTrack', lengthMm }, stores.plan.getState().plan, prefs)
  const isOn = (mm: number): boolean => mm >= 0 && mm <= lengthMm
  const subject = { track: track.id, turnout: table === 'turnouts' ? id : null }
  const to = (mm: number, why: string | null): Pulled => ({
    ok: true,
    command: toCommand(mm),
    words: [room(mm), ...(why === null ? [] : [why])].join(' · '),
    isHeld: false,
  })
  return {
    label: `Station of ${name}`,
    says: room(stationMm),
    isUpright: false,
    mm: stationMm,
    mostMm: lengthMm,
    at: { x: scale.x(stationMm), y },
    stationMm,
    subject,
    select: () => stores.session.getState().select({ kind: 'record', table, id }),
    pulled: ({ x }, isFree) => {
      const askedMm = scale.stationAt(x)
      // Held at the end, and told so.
      if (!isOn(askedMm)) return { ok: true, command: toCommand(askedMm < 0 ? 0 : lengthMm), words: beyond(), isHeld: true }
      if (isFree) return to(askedMm, null)
      if (table !== 'turnouts') {
        const step = wholeStepMm(scale.pxPerMm, prefs.units)
        return to(step === null ? askedMm : Math.min(wholeOf(askedMm, step), lengthMm), null)
      }
      const { plan } = stores.plan.getState()
      const { derived } = stores.derived.getState()
      const { selection } = stores.session.getState()
      const context = { plan, derived, selection, pxPerMm: scale.pxPerMm, units: prefs.units }
      const slide = turnoutSlide(id, host, askedMm, { shift: false, alt: false }, context)
      return to(slide.stationMm, slide.snap === null ? null : snapWords(slide.snap.kind))
    },
    stepped: (steps) => {
      const next = lengthSteps(stationMm, steps, prefs)
      return isOn(next) ? to(next, null) : { ok: false, words: beyond() }
    },
    field: (onDone, open) => (
      <LengthField
        label="Station"
        kind="room"
        range="any"
        value={stationMm}
        origin={`0 to ${room(lengthMm)}`}
        keep={keepOn(isOn, beyond, keepLaid(stores, subject, toCommand, open))}
        onDone={onDone}
      />
    ),
  }
}

/** Only stations of the track. */
function keepOn(isOn: (mm: number) => boolean, beyond: () => string, keep: Keep<number>): Keep<number> {
  return {
    ...keep,
    commit: (mm) => (isOn(mm) ? keep.commit(mm) : beyond()),
    nudge: (mm) => (isOn(mm) ? (keep.nudge ?? keep.commit)(mm) : beyond()),
  }
}

function stationSet(table: Stationed['table'], id: Id, stationMm: number): PlanCommand {
  switch (table) {
    case 'turnouts':
      return { kind: 'turnout.set', id, change: { stationMm } }
    case 'railJoints':
      return { kind: 'railJoint.set', id, change: { stationMm } }
    case 'portals':
      return { kind: 'portal.set', id, change: { stationMm } }
  }
}
