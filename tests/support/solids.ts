import { jigSolve, jigUsual, printerUsual } from '../../src/core/jigs/index.ts'
import type { Jig, JigKind, JigRequest, JigValues, Printer } from '../../src/core/jigs/index.ts'
import { planEmpty } from '../../src/core/plan/index.ts'
import { solidsRead } from '../../src/engine/solids.node.ts'
import type { Mesh, SolidPiece } from '../../src/formats/solid/types.ts'

/** A bed on which nothing is cut, and a printer without allowances: dimensions come out as they are typed. */
export const wideBed: Printer = { bedXMm: 2000, bedYMm: 2000, bedZMm: 500, slotAllowanceMm: 0, jointAllowanceMm: 0 }

/** The usual jig of HO's main line with other numbers in place of some. */
export function jigRequest<K extends JigKind>(kind: K, change: Partial<JigValues[K]> = {}): JigRequest {
  const plan = planEmpty()
  const lineClass = Object.values(plan.lineClasses)[0]
  if (lineClass === undefined) throw new Error('an empty plan has line classes')
  const usual = jigUsual(kind, plan.railway, lineClass)
  return { kind, values: { ...usual.values, ...change } } as JigRequest
}

export function jigOf<K extends JigKind>(kind: K, change: Partial<JigValues[K]> = {}, printer: Partial<Printer> = wideBed): Jig {
  const result = jigSolve(jigRequest(kind, change), { ...printerUsual, ...printer })
  if (!result.ok) throw new Error(JSON.stringify(result.problems))
  return result.jig
}

let kernel: ReturnType<typeof solidsRead> | null = null

export async function solidsOfJig(jig: Jig): Promise<readonly SolidPiece[]> {
  kernel ??= solidsRead()
  return (await kernel)(jig)
}

/** The same mesh with corners told apart by their places alone, as a reader of a file does. */
export function meshWelded({ corners, triangles }: Mesh): Mesh {
  const known = new Map<string, number>()
  const places: number[] = []
  const welded = triangles.map((corner) => {
    const place = corners.subarray(3 * corner, 3 * corner + 3)
    const key = place.join(' ')
    const before = known.get(key)
    if (before !== undefined) return before
    known.set(key, known.size)
    places.push(...place)
    return known.size - 1
  })
  return { corners: Float32Array.from(places), triangles: welded }
}

/**
 * A surface is closed when each edge is run through once each way: by exactly two triangles. Returns the edges for which that fails, corners at
 * the same place being one.
 */
export function openEdges(mesh: Mesh): readonly string[] {
  const { triangles } = meshWelded(mesh)
  const runs = new Map<string, number>()
  for (let i = 0; i < triangles.length; i += 3) {
    const corner = [triangles[i], triangles[i + 1], triangles[i + 2]]
    for (let k = 0; k < 3; k++) {
      const edge = `${corner[k]}-${corner[(k + 1) % 3]}`
      runs.set(edge, (runs.get(edge) ?? 0) + 1)
    }
  }
  return [...runs].flatMap(([edge, count]) => {
    const back = edge.split('-').toReversed().join('-')
    return count === 1 && runs.get(back) === 1 ? [] : [edge]
  })
}

/** Volume by the divergence theorem: a sixth of the triple product of every triangle's corners. */
export function meshVolume({ corners, triangles }: Mesh): number {
  const at = (i: number, k: number): number => corners[3 * (triangles[i] ?? 0) + k] ?? 0
  let six = 0
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [i, i + 1, i + 2]
    six +=
      at(a, 0) * (at(b, 1) * at(c, 2) - at(b, 2) * at(c, 1)) +
      at(a, 1) * (at(b, 2) * at(c, 0) - at(b, 0) * at(c, 2)) +
      at(a, 2) * (at(b, 0) * at(c, 1) - at(b, 1) * at(c, 0))
  }
  return six / 6
}

export function meshBox({ corners }: Mesh): { readonly least: readonly number[]; readonly most: readonly number[] } {
  const least = [Infinity, Infinity, Infinity]
  const most = [-Infinity, -Infinity, -Infinity]
  corners.forEach((value, i) => {
    least[i % 3] = Math.min(least[i % 3] ?? 0, value)
    most[i % 3] = Math.max(most[i % 3] ?? 0, value)
  })
  return { least, most }
}
