import { standardBuild } from '../network/index.ts'
import { railOf, railwayOfClass, tieOf } from '../plan/index.ts'
import type { LineClass, Railway } from '../plan/types.ts'
import { railByCode } from '../standards/index.ts'
import { turnoutRequest, turnoutSolve } from '../turnout/index.ts'
import type { JigKind, JigRequest } from './types.ts'

const inch = 25.4

/** Plates are so thick: stiff, and less than an hour of printing. Common practice, no source. */
const plateMm = 3
/** Under a template rails' feet and the heads of spikes reach in by half a foot, and stand as high as this part of the rail. Common practice, no source. */
const footPart = 0.5
const footHighPart = 0.6
/** A degree and a half: the points of a No. 6 turnout or so, when one of the number cannot be built. */
const pointRad = (1.5 * Math.PI) / 180

/** A jig as the line class asks for it. */
export function jigUsual(kind: JigKind, railway: Railway, lineClass: LineClass): JigRequest {
  const rail = railOf(lineClass, railway)
  const railHeightMm = railByCode(rail.code)?.heightMm ?? (rail.code / 1000) * inch
  const { gaugeMm } = railway
  const radiusMm = lineClass.usualRadiusMm
  switch (kind) {
    case 'tieSpacing': {
      const { lengthMm, widthMm, thicknessMm } = tieOf(lineClass, railway)
      return {
        kind,
        values: { tieLengthMm: lengthMm, tieWidthMm: widthMm, tieThicknessMm: thicknessMm, spacingMm: lineClass.tieSpacingMm, radiusMm: 0 },
      }
    }
    case 'curve': {
      const footHeightMm = footHighPart * railHeightMm
      return {
        kind,
        values: {
          gaugeMm,
          radiusMm,
          easementMm: 0,
          arcMm: Math.max(2, Math.round(radiusMm / 3 / inch)) * inch,
          runOutMm: 4 * inch,
          thicknessMm: Math.max(plateMm, footHeightMm + plateMm / 2),
          footReachMm: footPart * rail.footMm,
          footHeightMm,
        },
      }
    }
    case 'trackSpacing':
      return {
        kind,
        values: { centresMm: lineClass.trackCentresMm, gaugeMm, railHeadMm: rail.headMm, railHeightMm, thicknessMm: 2 * plateMm },
      }
    case 'filing': {
      const definition = railway.frogDefinition
      const frog = lineClass.usualFrog
      return {
        kind,
        values: { frog, definition, pointAngleRad: pointAngleUsual(railway, lineClass, frog), railFootMm: rail.footMm, railHeightMm },
      }
    }
    case 'roadbed': {
      const { roadbed } = lineClass
      const widthMm = (roadbed?.topWidthMm ?? railway.tieLengthMm) / 2
      return {
        kind,
        values: { widthMm, sheetMm: roadbed?.thicknessMm ?? plateMm, shoulderRun: roadbed?.shoulderRun ?? 1, lengthMm: 12 * inch },
      }
    }
    case 'riser':
      return { kind, values: { heightMm: 4 * inch, widthMm: 1.5 * inch, thicknessMm: 0.75 * inch } }
    case 'midOrdinate':
      return { kind, values: { radiusMm, gaugeMm, chordMm: Math.min(6 * inch, radiusMm / 2), thicknessMm: plateMm } }
  }
}

/** The angle at which the points of a turnout of this number are planed, its points straight, all by standard. */
export function pointAngleUsual(railway: Railway, lineClass: LineClass, frog: number): number {
  const solved = turnoutSolve(turnoutRequest(railwayOfClass(railway, lineClass), lineClass, { hand: 'left', frog, build: standardBuild }))
  return solved.ok ? solved.turnout.switchAngleRad : pointRad
}
