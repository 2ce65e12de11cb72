import { curesOffered, isLargestFitting } from '../core/checks/curesOffered.ts'
import type { Cure, Finding, MakerLength } from '../core/checks/types.ts'
import type { Plan } from '../core/plan/types.ts'
import { frogText, lengthText, numberText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { cornerName } from './names.ts'

/** What is offered, in words; where they are of several corners, each names its own. */
export function curesText(finding: Finding, plan: Plan, prefs: MeasurePrefs): readonly string[] {
  const cures = curesOffered(finding, plan)
  const corners = new Set(cures.flatMap((cure) => ('corner' in cure ? [cure.corner] : [])))
  return cures.map((cure) => {
    const plain = finding.rule === 'easement-short' ? easedText(cure, prefs) : cureText(cure, prefs)
    const text = isLargestFitting(cure, finding) ? `${plain}, the largest that fits` : plain
    const track = 'corner' in cure ? plan.tracks[cure.track] : undefined
    const at = 'corner' in cure ? (track?.corners.findIndex(({ id }) => id === cure.corner) ?? -1) : -1
    return corners.size < 2 || at < 0 ? text : `${cornerName(track, at)}: ${text.charAt(0).toLowerCase()}${text.slice(1)}`
  })
}

const numberWords: { readonly [N in MakerLength]: string } = {
  stationMm: 'Move it to station',
  fromMm: 'Let it begin at station',
  toMm: 'Let it end at station',
  centresMm: 'Make its centres',
  leadCentresMm: 'Make the centres of its first track',
  curveCentresMm: 'Make its centres on curves',
  radius: 'Make its radius',
  acrossMm: 'Make it as wide as',
  climbMm: 'Make its climb',
  riseMm: 'Make its rise in a turn',
  clearMm: 'Make its clear height',
}

/** Easements that are made longer; all else as any cure. */
function easedText(cure: Cure, prefs: MeasurePrefs): string {
  if (cure.kind !== 'scaleEasements') return cureText(cure, prefs)
  const [into, out] = [lengthText(cure.easementInMm, prefs), lengthText(cure.easementOutMm, prefs)]
  return `Make easements ${into === out ? into : `${into} and ${out}`}`
}

function cureText(cure: Cure, prefs: MeasurePrefs): string {
  switch (cure.kind) {
    case 'setRadius':
      return `Make it ${lengthText(cure.radiusMm, prefs)}`
    case 'scaleEasements':
      return cure.easementInMm === cure.easementOutMm
        ? `Shorten easements to ${lengthText(cure.easementInMm, prefs)}`
        : `Shorten easements to ${lengthText(cure.easementInMm, prefs)} and ${lengthText(cure.easementOutMm, prefs)}`
    case 'easementsMeet':
      return 'Let its easements meet'
    case 'setFrog':
      return `Make it ${frogText(cure.frog)}`
    case 'moveTurnout':
      return `Move it to station ${lengthText(cure.stationMm, prefs, 'room')}`
    case 'hangDoor':
      return `Hang it ${[
        ...(cure.leaf.hinge === cure.was.hinge ? [] : ['on the other jamb']),
        ...(cure.leaf.side === cure.was.side ? [] : ['to open to the other side']),
      ].join(', ')}`
    case 'growHatch':
      return `Make it ${numberText(cure.times, 2)} times as large`
    case 'setNumbers':
      return `${numberWords[cure.name]} ${lengthText(cure.lengthMm, prefs)}`
  }
}
