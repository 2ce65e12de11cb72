import type { StoreApi } from 'zustand/vanilla'
import type { TraceVerdict } from '../../core/alignment/index.ts'
import type { Point } from '../../core/geom/types.ts'
import type { Id } from '../../core/plan/types.ts'
import type { MeasuredChange } from '../../tools/index.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'

/** A measured place. line: where it stood in a list, null: pointed at or typed. */
export interface Place extends Point {
  readonly line: number | null
}

/** Measured places and how a line is to be fitted to them. It lies on the desk, not in the plan, and stays when the panel is shut. */
export interface Survey {
  readonly places: readonly Place[]
  /** What the person says of single places, by their index. */
  readonly verdicts: ReadonlyMap<number, TraceVerdict>
  readonly toleranceMm: number
  readonly isClosed: boolean
  /** A list that is being written or was pasted, not taken yet. */
  readonly list: string
  /** What plain numbers of a list mean. */
  readonly bare: 'in' | 'mm'
  /** null: the most demanding class that the line keeps. */
  readonly lineClass: Id | null
  readonly pointed: number | null
  /** The places before the last change that could be regretted. */
  readonly before: Pick<Survey, 'places' | 'verdicts'> | null
}

/** What a tape along a rail can be trusted to: 1/16 in or 1 mm; common practice, no source. */
const usualToleranceMm = { imperial: 25.4 / 16, metric: 1 } as const

export function surveyFresh(units: 'imperial' | 'metric'): Survey {
  return {
    places: [],
    verdicts: new Map(),
    toleranceMm: usualToleranceMm[units],
    isClosed: false,
    list: '',
    bare: units === 'imperial' ? 'in' : 'mm',
    lineClass: null,
    pointed: null,
    before: null,
  }
}

const kept = ({ places, verdicts }: Survey): Survey['before'] => ({ places, verdicts })

export function surveyWith(survey: Survey, added: readonly Place[]): Survey {
  return { ...survey, places: [...survey.places, ...added], pointed: null, before: added.length > 1 ? kept(survey) : survey.before }
}

/** Only the places at these indices, in this order. */
export function surveyOnly(survey: Survey, indices: readonly number[]): Survey {
  const verdicts = new Map<number, TraceVerdict>()
  for (const [now, index] of indices.entries()) {
    const verdict = survey.verdicts.get(index)
    if (verdict !== undefined) verdicts.set(now, verdict)
  }
  return { ...survey, places: indices.flatMap((index) => survey.places[index] ?? []), verdicts, pointed: null, before: kept(survey) }
}

export function surveyWithout(survey: Survey, taken: number): Survey {
  return surveyOnly(
    survey,
    [...survey.places.keys()].filter((index) => index !== taken),
  )
}

/** A place moved to where it was measured in truth. */
export function surveyMoved(survey: Survey, index: number, to: Point): Survey {
  return { ...survey, places: survey.places.map((place, i) => (i === index ? { ...place, ...to } : place)) }
}

/** null: the fit decides whether the place counts. */
export function surveyJudged(survey: Survey, index: number, verdict: TraceVerdict | null): Survey {
  const verdicts = new Map(survey.verdicts)
  if (verdict === null) verdicts.delete(index)
  else verdicts.set(index, verdict)
  return { ...survey, verdicts }
}

/** Opens the panel of the fit on the places that lie on the desk, or on none yet; shuts it when it is open. */
export function fitToggle(stores: Stores, desk: StoreApi<DeskState>): void {
  if (desk.getState().lineAct?.kind === 'fit') desk.getState().set({ lineAct: null, trial: null })
  else fitBegin(stores, desk)
}

/** Opens the panel of the fit on the places that lie on the desk, or on none yet. */
export function fitBegin(stores: Stores, desk: StoreApi<DeskState>): void {
  const survey = desk.getState().survey ?? surveyFresh(stores.prefs.getState().units)
  stores.session.getState().setTool('select')
  desk.getState().set({ survey, lineAct: { kind: 'fit' }, trial: null, makerDraft: null, drawer: 'particulars' })
}

/** What the hand points at on the plan goes to the survey. */
export function surveyMeasured(desk: StoreApi<DeskState>, change: MeasuredChange): void {
  const { survey, set } = desk.getState()
  if (survey === null) return
  set({
    survey: change.kind === 'add' ? surveyWith(survey, [{ ...change.at, line: null }]) : surveyWithout(survey, survey.places.length - 1),
  })
}
