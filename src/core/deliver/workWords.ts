import type { NetworkTurnout } from '../network/types.ts'
import type { Railway, Turnout } from '../plan/types.ts'
import { throwHole } from '../turnout/index.ts'
import type { Divergence, ThrowHole, TurnoutGeometry, TurnoutRequest } from '../turnout/types.ts'
import { frogNumberFormat } from '../units/index.ts'
import type { SheetOptions } from './types.ts'
import { angleWords, counted, fineWords, lengthWords, offsetWords, pieceWords, radiusWords } from './words.ts'

/** What the signs on special work stand for. */
export const LEGEND =
  'Heavy stroke: gap · thin across a head: filed to its end · V: bend · tick: spike · ring: wire, two joined: jumper · dashed box: room below · every fifth tie numbered'

/** HO, 1:87.1; a scale of the builder's own has no name. */
export function scaleWords({ scaleKey, ratio }: Railway): string {
  return scaleKey === 'custom' ? `1:${ratio}` : `${scaleKey}, 1:${ratio}`
}

/** No. 6 left, straight points. */
export function turnoutWords({ turnout }: NetworkTurnout): string {
  const { kind, frog, hand, build } = turnout
  const number = `No. ${frogNumberFormat(frog)}`
  switch (kind.kind) {
    case 'plain':
      return `${number} ${hand}, ${build.points} points`
    case 'wye':
      return `wye ${number}, ${build.points} points`
    case 'three-way':
      return `three-way ${number} ${hand} and No. ${frogNumberFormat(kind.secondFrog)}, ${build.points} points`
    case 'stub':
      return `stub ${number} ${hand}`
  }
}

/** frog No. 6, 9.53°, lead and closure radius of a route; a second one is told to be so. */
export function divergenceWords({ kind, frog }: Turnout, units: SheetOptions['units']) {
  return ({ frogAngleRad, leadMm, closureRadiusMm }: Divergence, nth: number): string => {
    const number = nth > 0 && kind.kind === 'three-way' ? kind.secondFrog : frog
    return [
      `${nth > 0 ? 'second ' : ''}frog No. ${frogNumberFormat(number)}, angle ${angleWords(frogAngleRad)}`,
      `lead ${lengthWords(leadMm, units)}`,
      `closure radius ${radiusWords(closureRadiusMm, units)}`,
    ].join(' · ')
  }
}

/** 44 ties, 0.103 in (2.62 mm) wide: the count that their numbers run to. */
export function tieWords(
  { ties, request }: Pick<TurnoutGeometry, 'ties'> & { readonly request: { readonly tieWidthMm: number } },
  units: SheetOptions['units'],
): string {
  return `${counted(ties.length, 'tie')}, ${fineWords(request.tieWidthMm, units)} wide`
}

/** The hole for the wire that throws the points; nothing where none are thrown. */
export function throwHoleWords(
  what: string,
  { throwHoles: [hole], request }: { readonly throwHoles: readonly ThrowHole[]; readonly request: Pick<TurnoutRequest, 'tieLengthMm'> },
  units: SheetOptions['units'],
): readonly string[] {
  if (hole === undefined) return []
  const { lengthMm, widthMm } = throwHole(hole, request)
  return [`${what} ${lengthWords(widthMm, units)} × ${lengthWords(lengthMm, units)}`]
}

/** Where the curved closure rail stands: distance from the heel, and gauge line of the stock rail to its gauge line. */
export function ordinateWords(geometry: TurnoutGeometry, units: SheetOptions['units']): string {
  const pairs = geometry.ordinates.map(({ xMm, yMm }) => `${pieceWords(xMm, units)}: ${offsetWords(yMm, units)}`)
  const unit = units === 'metric' ? 'mm' : 'in brackets thousandths of an inch'
  return `Stock to closure rail, gauge lines, from the heel on, ${unit} · ${pairs.join(' · ')}`
}
