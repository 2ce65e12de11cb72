import { roadbedHalfMm } from '../plan/index.ts'
import type { Id, LineClass, Material, Plan, Roadbed } from '../plan/types.ts'
import type { RoadbedProblem } from './types.ts'

/** What strips of a class are laid from: its roadbed, whole and sound. */
export interface Section {
  readonly lineClass: Id
  readonly roadbed: Roadbed
  readonly material: Material
  readonly footWidthMm: number
  readonly shoulderMm: number
  readonly narrowestMm: number
}

/** A strip narrower than it is thick tips over under the knife and in the glue. Common practice, no source. */
const narrowestThicknesses = 1

/** Most strips that the plan file knows. */
const mostStripsAsked = 40

export type SectionResult =
  | { readonly ok: true; readonly section: Section | null }
  | { readonly ok: false; readonly problems: readonly RoadbedProblem[] }

/** The section of a class; null: it has no roadbed. Values that nothing can be cut by are told with one that would do. */
export function sectionOf({ railway, materials, stocks }: Plan, { id: lineClass, roadbed }: LineClass): SectionResult {
  if (roadbed === null) return { ok: true, section: null }
  const problems: RoadbedProblem[] = []
  const bad = (what: 'thickness' | 'topWidth' | 'shoulder' | 'strips', value: number, wouldDo: number): void => {
    problems.push({ kind: 'badRoadbed', lineClass, what, value, wouldDo })
  }
  const { thicknessMm, topWidthMm, shoulderRun, strips } = roadbed
  if (!(thicknessMm > 0 && Number.isFinite(thicknessMm))) {
    const onShelf = Object.values(stocks).flatMap(({ of }) =>
      of.kind === 'roadbed' && of.material === roadbed.material ? of.thicknessMm : [],
    )
    bad('thickness', thicknessMm, onShelf[0] ?? railway.tieThicknessMm)
  }
  if (!(topWidthMm > 0 && Number.isFinite(topWidthMm))) bad('topWidth', topWidthMm, railway.tieLengthMm)
  if (!(shoulderRun >= 0 && Number.isFinite(shoulderRun))) bad('shoulder', shoulderRun, 1)
  if (strips !== 'fit' && !(Number.isInteger(strips) && strips >= 1 && strips <= mostStripsAsked)) bad('strips', strips, 2)
  const material = materials[roadbed.material]
  if (material === undefined) problems.push({ kind: 'noMaterial', lineClass, material: roadbed.material, known: Object.keys(materials) })
  else if (!(material.strainLimit > 0 && material.strainLimit <= 1)) {
    problems.push({ kind: 'badStrain', material: material.id, value: material.strainLimit, wouldDo: usualStrain })
  }
  if (problems.length > 0 || material === undefined) return { ok: false, problems }
  return {
    ok: true,
    section: {
      lineClass,
      roadbed,
      material,
      footWidthMm: 2 * roadbedHalfMm(roadbed, 0),
      shoulderMm: shoulderRun * thicknessMm,
      narrowestMm: narrowestThicknesses * thicknessMm,
    },
  }
}

/** That of wood and hardboard, the stiffest there is; common practice, no source. */
const usualStrain = 0.004
