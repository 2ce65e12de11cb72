/** Which tools a sheet is used with. */
export type CautionKind = 'turnout' | 'track' | 'build'

/**
 * Short cautions for the foot of a sheet. They name the danger and defer to labels and local rules; they are no
 * instruction. Common practice, no source.
 */
export const cautions = {
  turnout:
    'Cut away from the hand; eye protection with discs, drills and files; look below before drilling. Solder with moving air, iron on its stand, wash hands after. ' +
    'Solvents and sprays away from irons and live track. Keep from children. Labels and local rules come first.',
  track:
    'Cut away from the hand against a metal rule. Mask for dust of fibreboard, cork and plaster. ' +
    'Solvents and cements: moving air, no flame or live track near. Keep from children. Labels and local rules come first.',
  build:
    'Cut away from the hand; eye protection with discs and files. Solder with moving air, iron on its stand, wash hands after. ' +
    'Wires here carry low voltage from listed supplies; mains work is for licensed people. Keep from children. Labels and local rules come first.',
} as const satisfies Record<CautionKind, string>
