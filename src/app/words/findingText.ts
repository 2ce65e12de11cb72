import type { Cure, Finding } from '../../core/checks/types.ts'
import type { Plan } from '../../core/plan/types.ts'
import { angleText, lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { cornerName, recordName } from './names.ts'
import { alignmentProblemText, placementProblemText, turnoutProblemText } from './problemText.ts'

/** A finding as a person reads it: what, then measured against limit. */
export interface FindingWords {
  readonly title: string
  readonly body: string
  /** Words of the button that cures it; null: the builder has to think. */
  readonly cure: string | null
}

export function findingText(finding: Finding, plan: Plan, prefs: MeasurePrefs): FindingWords {
  return {
    title: titleText(finding),
    body: bodyText(finding, plan, prefs),
    cure: finding.cure === null ? null : cureText(finding.cure, prefs),
  }
}

function titleText(finding: Finding): string {
  switch (finding.rule) {
    case 'minimum-radius':
      return 'Curve under class radius'
    case 'alignment':
      return 'Line cannot be solved'
    case 'easement-fit':
      return 'Easements do not fit'
    case 'benchwork-edge':
      return finding.measured !== null && finding.measured < 0 ? 'Track off the benchwork' : 'Track near the edge'
    case 'track-clearance':
      return 'Tracks too close'
    case 'minimum-frog':
      return 'Frog under class number'
    case 'turnout-place':
      return 'Turnout out of place'
    case 'benchwork-outline':
      return 'Benchwork outline crosses itself'
  }
}

function bodyText(finding: Finding, plan: Plan, prefs: MeasurePrefs): string {
  const measured = finding.measured === null ? null : valueText(finding.measured, finding.unit, prefs)
  const limit = finding.limit === null ? null : valueText(finding.limit, finding.unit, prefs)
  switch (finding.rule) {
    case 'minimum-radius':
      return `${measured ?? 'Unknown'} here, ${sourceText(finding.source, plan)} asks ${limit ?? 'more'}.`
    case 'minimum-frog':
      return `No. ${measured ?? '?'} here, ${sourceText(finding.source, plan)} asks No. ${limit ?? '?'}.`
    case 'benchwork-edge':
      if (finding.measured !== null && finding.measured < 0)
        return `The centreline lies ${lengthText(-finding.measured, prefs)} past the edge; ${limit ?? 'some'} inside is asked.`
      return `${measured ?? 'Unknown'} to the edge here, the margin is ${limit ?? 'more'}.`
    case 'track-clearance': {
      const other = finding.otherRecord === null ? 'the next track' : recordName(plan, finding.table, finding.otherRecord)
      return `${measured ?? 'Unknown'} to ${other} here, cars need ${limit ?? 'more'}.`
    }
    case 'benchwork-outline':
      return 'Two sides cross here. Move a point so that the outline runs once around.'
    case 'alignment':
    case 'easement-fit':
    case 'turnout-place':
      return problemBody(finding, plan, prefs)
  }
}

function problemBody(finding: Finding, plan: Plan, prefs: MeasurePrefs): string {
  const { problem } = finding
  if (problem === null)
    return finding.measured !== null && finding.limit !== null
      ? `${valueText(finding.measured, finding.unit, prefs)} here, ${valueText(finding.limit, finding.unit, prefs)} asked.`
      : 'See the particulars.'
  switch (problem.kind) {
    case 'hostMissing':
    case 'hostUnsolved':
    case 'runsOff':
    case 'hostNotStraight':
      return placementProblemText(problem, prefs)
    case 'geometry':
      return turnoutProblemText(problem.problem, prefs)
    default:
      return alignmentProblemText(problem, plan.tracks[finding.record], plan, prefs)
  }
}

function valueText(value: number, unit: Finding['unit'], prefs: MeasurePrefs): string {
  switch (unit) {
    case 'mm':
      return lengthText(value, prefs)
    case 'rad':
      return angleText(value)
    case 'number':
      return numberText(value, 2)
  }
}

/** Who asks: a line class by its name, a published standard by its key. */
export function sourceText(source: string, plan: Plan): string {
  if (source.startsWith('class:')) {
    const record = plan.lineClasses[source.slice('class:'.length)]
    return record === undefined ? 'its class' : record.name
  }
  if (source === 'railway' || source.startsWith('railway')) return 'this railway'
  return source
}

export function cureText(cure: Cure, prefs: MeasurePrefs): string {
  switch (cure.kind) {
    case 'setRadius':
      return `Make it ${lengthText(cure.radiusMm, prefs)}`
    case 'scaleEasements':
      return cure.easementInMm === cure.easementOutMm
        ? `Shorten easements to ${lengthText(cure.easementInMm, prefs)}`
        : `Shorten easements to ${lengthText(cure.easementInMm, prefs)} and ${lengthText(cure.easementOutMm, prefs)}`
    case 'setFrog':
      return `Make it No. ${numberText(cure.frog, 2)}`
    case 'moveTurnout':
      return `Move it to station ${lengthText(cure.stationMm, prefs)}`
  }
}

/** Where a finding lies, for the line beneath it: track and corner. */
export function findingPlace(finding: Finding, plan: Plan): string {
  const name = recordName(plan, finding.table, finding.record)
  if (finding.corner === null) return name
  const track = plan.tracks[finding.record]
  const index = track === undefined ? -1 : track.corners.findIndex((corner) => corner.id === finding.corner)
  return index < 0 ? name : `${name}, ${cornerName(track, index)}`
}
