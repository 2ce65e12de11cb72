import { makersLate } from '../store/index.ts'
import { toolsBring } from '../tools/index.ts'
import { latePart } from './latePart.tsx'

/* What the page draws behind its first picture: numbers beside the plan, the chart below it, what is drawn over it. */

export const TrackChart = latePart(async () => (await import('./chart/TrackChart.tsx')).TrackChart)
export const RailwayParticulars = latePart(async () => (await import('./particulars/RailwayParticulars.tsx')).RailwayParticulars)
export const SelectedParticulars = latePart(async () => (await import('./particulars/SelectedParticulars.tsx')).SelectedParticulars)
export const RoomStage = latePart(async () => (await import('./stages/RoomStage.tsx')).RoomStage, 'stage-coming')
export const LineStage = latePart(async () => (await import('./stages/LineStage.tsx')).LineStage, 'stage-coming')
export const TurnoutsStage = latePart(async () => (await import('./stages/TurnoutsStage.tsx')).TurnoutsStage, 'stage-coming')
export const ChecksStage = latePart(async () => (await import('./stages/ChecksStage.tsx')).ChecksStage, 'stage-coming')
export const SelectionMarks = latePart(async () => (await import('./canvas/SelectionMarks.tsx')).SelectionMarks)
export const TrialLines = latePart(async () => (await import('./canvas/TrialLines.tsx')).TrialLines)
export const ToolStrip = latePart(async () => (await import('./canvas/ToolStrip.tsx')).ToolStrip)
export const SketchItems = latePart(async () => (await import('./canvas/Sketch.tsx')).SketchItems)
export const FindingCardBody = latePart(async () => (await import('./canvas/FindingCardBody.tsx')).FindingCardBody)
export const FindingActs = latePart(async () => (await import('./findings/FindingActs.tsx')).FindingActs)
export const PlanLetters = latePart(async () => (await import('./canvas/PlanLetters.tsx')).PlanLetters)
export const AtPointer = latePart(async () => (await import('./canvas/AtPointer.tsx')).AtPointer)

const parts = [
  TrackChart,
  RailwayParticulars,
  SelectedParticulars,
  RoomStage,
  LineStage,
  TurnoutsStage,
  ChecksStage,
  SelectionMarks,
  TrialLines,
  ToolStrip,
  SketchItems,
  FindingCardBody,
  FindingActs,
  PlanLetters,
  AtPointer,
]

/** Brings all that a hand on the desk may want in the next moment. */
export async function lateBring(): Promise<void> {
  await Promise.all([toolsBring(), makersLate.bring(), ...parts.map(({ bring }) => bring())])
}
