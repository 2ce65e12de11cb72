import type { LineClass, Railway, Turnout } from '../plan/types.ts'
import { frogAngle, frogHeelUsual, frogToeUsual } from './frog.ts'
import type { TurnoutRequest, WideningRule } from './types.ts'
import { MM_PER_INCH } from '../units/index.ts'

const inchesPerFoot = 12

/** Heel spread and point thickness of straight split switches, inches full size [TI-850-02]. */
const heelSpreadInches = 6.25
const thicknessInches = 0.25

/** No edge is filed thinner at the bench, whatever the scale: five thousandths of an inch. Common practice, no source. */
const filedEdgeMm = 0.127

/** Prototype length of the points of a frog number, feet. Common practice, no source; the lengths are those of [AREA-TURNOUTS]. */
function pointFeet(frog: number): number {
  return frog <= 6 ? 11 : frog <= 10 ? 16.5 : frog <= 14 ? 22 : 30
}

/**
 * Length at which curved points, tangent to the stock rail at the tip, have the radius of the closure behind them, so that one
 * curve runs from tip to frog toe: R (1 - cos F) = G - t - u sin F, and the heel lies where R (1 - cos S) = h - t.
 * Shorter points would be the sharpest place of the turnout. NaN where there is no room for a closure: turnoutSolve says so.
 */
function curvedPointUniform(gaugeMm: number, thicknessMm: number, spreadMm: number, toeRiseMm: number, frogAngleRad: number): number {
  const radius = (gaugeMm - thicknessMm - toeRiseMm) / (1 - Math.cos(frogAngleRad))
  return radius * Math.acos(1 - spreadMm / radius)
}

/**
 * A turnout with every 'standard' value resolved from gauge, frog number and practice.
 *
 * point length:  11, 16 1/2, 22 or 30 ft full size, up to No. 6, 10, 14 and above; curved ones longer where the wide
 *                flangeways of a small scale would make them sharper than the closure. The moved rails of a stub turnout: as long as
 *                the closure's curve takes to stand off by the throw.
 * thickness:     1/4 in full size, and no thinner than an edge can be filed.
 * heel spread:   6 1/4 in full size, and never less than a flangeway and a rail head: model flangeways are wide.
 * toe:           long enough that two heads and a flangeway fit between the gauge lines there.
 * heel:          1.6 times the toe, and long enough that the feet of the two rails clear (gauge lines a head and a foot apart).
 *
 * Units:    mm on the model.
 * Outcome:  a request; whether it can be built is for turnoutSolve to say. Never throws.
 */
export function turnoutRequest(
  railway: Railway,
  lineClass: Pick<LineClass, 'tieSpacingMm'> & { readonly widening?: readonly WideningRule[] },
  turnout: Pick<Turnout, 'hand' | 'frog' | 'build'> & Partial<Pick<Turnout, 'kind'>>,
): TurnoutRequest {
  const { build, frog } = turnout
  const { ratio, flangewayMm, railHeadMm, railFootMm } = railway
  const frogAngleRad = frogAngle(frog, railway.frogDefinition)
  const toeLengthMm = build.toeLengthMm === 'standard' ? frogToeUsual(railway, frogAngleRad) : build.toeLengthMm
  const pointThicknessMm =
    build.pointThicknessMm === 'standard' ? Math.max((thicknessInches * MM_PER_INCH) / ratio, filedEdgeMm) : build.pointThicknessMm
  const heelSpreadMm =
    build.heelSpreadMm === 'standard' ? Math.max((heelSpreadInches * MM_PER_INCH) / ratio, flangewayMm + railHeadMm) : build.heelSpreadMm
  const prototypeMm = (pointFeet(frog) * inchesPerFoot * MM_PER_INCH) / ratio
  const kind = turnout.kind ?? { kind: 'plain' }
  const isStub = kind.kind === 'stub'
  const tipMm = isStub ? 0 : pointThicknessMm
  const uniformMm = curvedPointUniform(railway.gaugeMm, tipMm, heelSpreadMm - tipMm, toeLengthMm * Math.sin(frogAngleRad), frogAngleRad)
  const standardMm = isStub || (build.points === 'curved' && uniformMm > prototypeMm) ? uniformMm : prototypeMm
  const pointLengthMm = build.pointLengthMm === 'standard' ? standardMm : build.pointLengthMm
  return {
    kind,
    host: null,
    gaugeMm: railway.gaugeMm,
    ratio,
    frog,
    frogDefinition: railway.frogDefinition,
    hand: turnout.hand,
    points: build.points,
    pointLengthMm,
    pointThicknessMm,
    heelSpreadMm,
    entryAngleRad: 0,
    toeLengthMm,
    heelLengthMm: build.heelLengthMm === 'standard' ? frogHeelUsual(railway, frogAngleRad, toeLengthMm) : build.heelLengthMm,
    flangewayMm,
    checkGaugeMm: railway.checkGaugeMm,
    railHeadMm,
    railFootMm,
    tieLengthMm: railway.tieLengthMm,
    tieWidthMm: railway.tieWidthMm,
    tieSpacingMm: lineClass.tieSpacingMm,
    foulingMm: railway.foulingMm,
    ...(build.ties === undefined ? {} : { ties: build.ties }),
    ...(lineClass.widening === undefined || lineClass.widening.length === 0 ? {} : { widening: lineClass.widening }),
  }
}
