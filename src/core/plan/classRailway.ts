import type { LineClass, RailSize, Railway, TieSize } from './types.ts'

type Materials = Pick<LineClass, 'rail' | 'tie'>

/** The rail that a class is laid with. */
export function railOf({ rail }: Pick<LineClass, 'rail'>, railway: Railway): RailSize {
  return rail === 'railway' ? { code: railway.railCode, headMm: railway.railHeadMm, footMm: railway.railFootMm } : rail
}

/** The tie that a class is laid with. */
export function tieOf({ tie }: Pick<LineClass, 'tie'>, railway: Railway): TieSize {
  return tie === 'railway' ? { lengthMm: railway.tieLengthMm, widthMm: railway.tieWidthMm, thicknessMm: railway.tieThicknessMm } : tie
}

/** Railways as classes have them, so that equal ones are one object. Not part of any result. */
const known = new WeakMap<Railway, Map<string, Railway>>()

/** The railway with the rail and the ties of a class in place of its own; the railway itself where the class has none of its own. */
export function railwayOfClass(railway: Railway, lineClass: Materials): Railway {
  if (lineClass.rail === 'railway' && lineClass.tie === 'railway') return railway
  const rail = railOf(lineClass, railway)
  const tie = tieOf(lineClass, railway)
  const ofRailway = known.get(railway) ?? new Map<string, Railway>()
  known.set(railway, ofRailway)
  const key = JSON.stringify([rail.code, rail.headMm, rail.footMm, tie.lengthMm, tie.widthMm, tie.thicknessMm])
  const before = ofRailway.get(key)
  if (before) return before
  const made: Railway = {
    ...railway,
    railCode: rail.code,
    railHeadMm: rail.headMm,
    railFootMm: rail.footMm,
    tieLengthMm: tie.lengthMm,
    tieWidthMm: tie.widthMm,
    tieThicknessMm: tie.thicknessMm,
  }
  ofRailway.set(key, made)
  return made
}
