import type { MakerFact, MakerKind } from '../../core/makers/index.ts'
import { gradeText, lengthText, numberText } from '../../words/measure.ts'
import type { MeasurePrefs } from '../../words/measure.ts'

interface KindWords {
  /** As one names it: "a crossover". */
  readonly word: string
  readonly about: string
}

export const kindWords: { readonly [K in MakerKind]: KindWords } = {
  crossover: { word: 'crossover', about: 'Two turnouts that lead from one track to another beside it.' },
  siding: { word: 'passing siding', about: 'A track that runs beside another and joins it again; also round curves.' },
  spur: { word: 'spur', about: 'A track that leaves another and ends.' },
  yard: { word: 'yard', about: 'Body tracks side by side that hang on a ladder.' },
  wye: { word: 'wye', about: 'A triangle: two turnouts on a straight, a tail, and its points.' },
  loop: { word: 'reversing loop', about: 'A loop behind the end of a track that brings a train back the other way round.' },
  turnback: { word: 'turnback', about: 'Half a turn from the end of one track to the end of another beside it.' },
  helix: { word: 'helix', about: 'Turns over each other behind the end of a track that bring it to another level.' },
}

/** All kinds, in the order in which they are offered. */
export const makerKinds = [
  'crossover',
  'spur',
  'yard',
  'wye',
  'siding',
  'turnback',
  'loop',
  'helix',
] as const satisfies readonly MakerKind[]

const factWords: { readonly [N in MakerFact['name']]: string } = {
  centresMm: 'Centres',
  frogToFrogMm: 'Frog to frog',
  pointsToPointsMm: 'Over the points',
  straightBetweenMm: 'Straight',
  betweenLegsMm: 'Between legs',
  pitchAlongLadderMm: 'Pitch',
  pitchAlongBodyMm: 'Pitch',
  leastPitchMm: 'A turnout takes',
  shorterByMm: 'Each shorter by',
  ladderMm: 'Throat',
  baseMm: 'Base',
  reachMm: 'Reaches',
  radiusMm: 'Radius',
  throatMm: 'Throat',
  tracksOnSecondLadder: 'On the second',
  turns: 'Turns',
  helixMm: 'Length',
  risePerTurnMm: 'Rise',
  clearMm: 'Clear',
  grade: 'Grade',
  effectiveGrade: 'Pulls like',
  classGrade: 'Allowed',
  outsideMm: 'Across',
  secondOutsideMm: 'With a second',
}

const factOrigins: { readonly [N in MakerFact['name']]?: string } = {
  frogToFrogMm: 'along the track',
  pointsToPointsMm: 'along the track',
  straightBetweenMm: 'between the frogs',
  betweenLegsMm: 'of the turnouts',
  pitchAlongLadderMm: 'along the ladder',
  pitchAlongBodyMm: 'along the body',
  leastPitchMm: 'of the ladder',
  tracksOnSecondLadder: 'tracks',
  helixMm: 'of the climb',
  risePerTurnMm: 'in one turn',
  clearMm: 'over the railhead',
  grade: 'along the track',
  effectiveGrade: 'with its curve',
  classGrade: 'by class',
  outsideMm: 'track centres',
  secondOutsideMm: 'track outside',
}

export interface FactWords {
  readonly label: string
  readonly value: string
  readonly origin: string | null
}

/** What came out, as a row of the particulars. */
export function factText({ name, value }: MakerFact, prefs: MeasurePrefs): FactWords {
  return { label: factWords[name], value: factValue(name, value, prefs), origin: factOrigins[name] ?? null }
}

function factValue(name: MakerFact['name'], value: number, prefs: MeasurePrefs): string {
  switch (name) {
    case 'tracksOnSecondLadder':
      return numberText(value, 0)
    case 'turns':
      return numberText(value, 2)
    case 'grade':
    case 'effectiveGrade':
    case 'classGrade':
      return gradeText(value)
    default:
      return lengthText(value, prefs, value > 600 ? 'room' : 'shop')
  }
}
