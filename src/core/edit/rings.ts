import type { Point } from '../geom/types.ts'
import type { Benchwork } from '../plan/types.ts'
import type { EditProblem, PlanCommand } from './types.ts'

type RingCommand = Extract<
  PlanCommand,
  {
    readonly kind: 'benchwork.movePoint' | 'benchwork.insertPoint' | 'benchwork.removePoint' | 'benchwork.addHole' | 'benchwork.removeHole'
  }
>
type RingResult =
  | { readonly ok: true; readonly change: Partial<Pick<Benchwork, 'outline' | 'holes'>> }
  | { readonly ok: false; readonly problem: EditProblem }

/** What a command on the points of a benchwork changes in it. Rings that it does not touch keep their identity. */
export function ringChange(benchwork: Benchwork, command: RingCommand): RingResult {
  const { holes } = benchwork
  switch (command.kind) {
    case 'benchwork.addHole':
      return { ok: true, change: { holes: [...holes, command.ring] } }
    case 'benchwork.removeHole':
      if (command.hole >= holes.length) return outOfRange('hole', command.hole, holes.length - 1)
      return { ok: true, change: { holes: holes.toSpliced(command.hole, 1) } }
    case 'benchwork.movePoint':
      return ringEdit(benchwork, command, 0, (ring, index) => ring.with(index, { ...ring[index], ...command.to }))
    case 'benchwork.insertPoint':
      return ringEdit(benchwork, command, 1, (ring, index) => ring.toSpliced(index, 0, command.at))
    case 'benchwork.removePoint':
      return ringEdit(benchwork, command, 0, (ring, index) => ring.toSpliced(index, 1))
  }
}

/** `past`: how far past the last point the index may stand. */
function ringEdit(
  benchwork: Benchwork,
  at: { readonly ring: number; readonly index: number },
  past: number,
  edit: (ring: readonly Point[], index: number) => readonly Point[],
): RingResult {
  const ring = at.ring === -1 ? benchwork.outline : benchwork.holes[at.ring]
  if (ring === undefined) return outOfRange('ring', at.ring, benchwork.holes.length - 1)
  if (at.index > ring.length - 1 + past) return outOfRange('index', at.index, ring.length - 1 + past)
  const edited = edit(ring, at.index)
  if (edited.length < 3) {
    return { ok: false, problem: { kind: 'badValue', where: 'index', value: at.index, expected: 'a ring that keeps three points' } }
  }
  return { ok: true, change: at.ring === -1 ? { outline: edited } : { holes: benchwork.holes.with(at.ring, edited) } }
}

function outOfRange(where: string, value: number, last: number): RingResult {
  return {
    ok: false,
    problem: { kind: 'badValue', where, value, expected: last < 0 ? 'an existing one; there is none' : `at most ${last}` },
  }
}
