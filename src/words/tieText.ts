import type { Plan } from '../core/plan/types.ts'
import type { TieMaterial, TieProblem } from '../core/ties/types.ts'
import { fineText, lengthText } from './measure.ts'
import type { MeasurePrefs } from './measure.ts'
import { recordName } from './names.ts'

const materialWords: { readonly [M in TieMaterial]: string } = { wood: 'tie stock', board: 'PC-board tie stock' }

/** What hinders ties from being cut and laid: where, how much, and what would do. */
export function tieProblemText(problem: TieProblem, plan: Plan, prefs: MeasurePrefs): string {
  const fine = (mm: number): string => fineText(mm, prefs)
  const size = ({ widthMm, thicknessMm }: { readonly widthMm: number; readonly thicknessMm: number }): string =>
    `${fine(widthMm)} by ${fine(thicknessMm)}`
  switch (problem.kind) {
    case 'noTieStock':
      return `There is no ${materialWords[problem.material]} of ${size(problem)} for ${problem.count} ties, the longest ${lengthText(problem.longestMm, prefs)}. ${problem.others.length === 0 ? 'Add some.' : `There is: ${problem.others.map(size).join('; ')}.`}`
    case 'tieTooLong':
      return `${problem.count === 1 ? 'A tie is' : `${problem.count} ties are`} longer than the longest ${materialWords[problem.material]} of ${lengthText(problem.longestMm, prefs)}; the longest is ${problem.tie} with ${lengthText(problem.lengthMm, prefs)}. Stock as long as that would do.`
    case 'badJointSpacing':
      return `Ties beside joints of class ${recordName(plan, 'lineClasses', problem.lineClass)} are to be ${fine(problem.value)} apart; from ${fine(problem.leastMm)}, a tie's width, to ${fine(problem.mostMm)}, the spacing elsewhere, would do. They are left as elsewhere.`
    case 'badSpacing':
      return `Ties of class ${recordName(plan, 'lineClasses', problem.lineClass)} are ${fine(problem.value)} apart and lie on each other; more than ${fine(problem.leastMm)}, a tie's width, would do.`
  }
}

/** What is looked at before rails go on the ties, in this order. Common practice, no source. */
export const tieChecklist: readonly string[] = [
  'Count the ties of each length against the list before any is glued.',
  'Stain in a well-aired place, away from flames, as the label says; let it dry through. Vary the shade a little from batch to batch.',
  'Check the thickness of every packet against the first: ties that are thicker stand proud under the rail.',
  'Draw the line of the tie ends on one side and lay the first strip to it. The last tie of a turnout is there already; the next one comes a space on.',
  'Spread the glue thin so that it does not rise between the ties. Leave the throw-bar bay empty and tape it over.',
  'Weight the ties until the glue is hard. Draw the tape off flat and at a slant.',
  'Test with a straightedge of 12 in (305 mm) along both rails over forty ties and more; mark what rocks.',
  'Sand level with coarse paper glued to a flat block, along the track. Wear a mask and draw the dust off.',
  'Brush and vacuum, stain the sanded tops again, and test once more.',
  'Of PC-board ties part both foils between the rails, on the underside too, and test each with a meter before a rail is soldered on.',
]
