import type { Finding } from '../core/checks/types.ts'
import type { Plan } from '../core/plan/types.ts'
import { byHandText } from './byHandText.ts'
import { curesText } from './cureText.ts'
import { faultText } from './faultText.ts'
import { gapText, lineName, moreText, sourceText, valueText } from './findingParts.ts'
import { findingTitle } from './findingTitle.ts'
import { frogText, lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { cornerName, recordName } from './names.ts'

/** A finding as a person reads it: what, then measured against limit. */
export interface FindingWords {
  readonly title: string
  readonly body: string
  /** Words of the buttons that cure it, the gentlest first; none: the builder has to think. */
  readonly cures: readonly string[]
  /** Where nothing cures it: why, and what would by hand. */
  readonly byHand: string | null
}

export function findingText(finding: Finding, plan: Plan, prefs: MeasurePrefs): FindingWords {
  return {
    title: findingTitle(finding, plan),
    body: bodyText(finding, plan, prefs),
    cures: curesText(finding, plan, prefs),
    byHand: finding.cure === null ? byHandText(finding, plan) : null,
  }
}

/** A finding in one run: what is wrong, what is asked, what would cure it, or what a hand would do. */
export function findingSentence(finding: Finding, plan: Plan, prefs: MeasurePrefs): string {
  const { title, body, cures, byHand } = findingText(finding, plan, prefs)
  // Where no cure is safe, a hand's comes before what is offered all the same.
  const does = [...(byHand === null ? [] : [byHand]), ...(cures.length === 0 ? [] : [`${cures.join(', or: ')}.`])]
  return [`${title}: ${body}`, ...does].join(' ')
}

function bodyText(finding: Finding, plan: Plan, prefs: MeasurePrefs): string {
  if (finding.problem !== null) return faultText(finding.problem, finding, plan, prefs)
  const measured = finding.measured === null ? null : valueText(finding.measured, finding.unit, prefs)
  const limit = finding.limit === null ? null : valueText(finding.limit, finding.unit, prefs)
  switch (finding.rule) {
    case 'minimum-radius':
    case 'easement-short':
    case 'short-curve':
      return `${measured ?? 'Unknown'} here, ${sourceText(finding.source, plan)} asks ${limit ?? 'more'}.`
    case 'minimum-frog':
      return `${frogOf(finding.measured)} here, ${sourceText(finding.source, plan)} asks ${frogOf(finding.limit)}.`
    case 'benchwork-edge':
      if (finding.measured !== null && finding.measured < 0)
        return `The centreline lies ${lengthText(-finding.measured, prefs)} past the edge; ${limit ?? 'some'} inside is asked.`
      return `${measured ?? 'Unknown'} to the edge here, the margin is ${limit ?? 'more'}.`
    case 'roadbed-edge':
      return `The foot of the roadbed reaches ${limit ?? 'farther'} from the centreline, and the edge is ${measured ?? 'nearer'} away. A wider margin, or an upright shoulder, would keep it on the wood.`
    case 'track-clearance': {
      const other = finding.otherRecord === null ? 'the next track' : lineName(plan, finding.otherRecord)
      if (finding.source !== 'railway')
        return `${measured ?? 'Unknown'} to ${other} here, ${sourceText(finding.source, plan)} asks ${limit ?? 'more'}.`
      return `${gapText(finding, `those on ${other}`, prefs)} ${moreText(finding, prefs)} more between the tracks would do.`
    }
    case 'helix-height':
      return `${measured ?? 'Unknown'} clear between its turns; ${sourceText(finding.source, plan)} asks ${limit ?? 'more'} for this scale.`
    case 'reach':
      if (measured === null) return 'There is no floor to stand on within these walls, and no hatch to stand up in.'
      return `${measured} from the nearest floor or hatch; a hand reaches ${limit ?? 'less'}.`
    case 'hatch-size':
      return `Its widest place is ${measured ?? 'unknown'}; ${sourceText(finding.source, plan)} asks ${limit ?? 'more'} to stand up in.`
    case 'roadbed-overlap':
    case 'fixed-clearance':
    case 'aisle':
    case 'door-swing':
    case 'hatch-place':
    case 'bench-overlap':
    case 'maker-follow':
    case 'rail-joint':
    case 'line-joint':
    case 'car-radius':
    case 'coupling-radius':
    case 'coupler-swing':
    case 'reverse-curve':
    case 'broken-back':
    case 'benchwork-outline':
    case 'alignment':
    case 'easement-fit':
    case 'turnout-place':
    case 'check-dimensions':
    case 'crossing-build':
    case 'throw-room':
      return measured === null || limit === null ? 'The particulars say more.' : `${measured} here, ${limit} asked.`
  }
}

const frogOf = (frog: number | null): string => (frog === null ? 'another' : frogText(frog))

/** Where a finding lies, for the line beneath it: track and corner. */
export function findingPlace(finding: Finding, plan: Plan): string {
  const name = recordName(plan, finding.table, finding.record)
  if (finding.corner === null) return name
  const track = plan.tracks[finding.record]
  const index = track === undefined ? -1 : track.corners.findIndex((corner) => corner.id === finding.corner)
  return index < 0 ? name : `${name}, ${cornerName(track, index)}`
}
