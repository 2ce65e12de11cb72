import type { Point } from '../geom/types.ts'
import type { Benchwork, Guide, Joist, Reading, ReadingOf } from '../plan/types.ts'
import { motionHeading, motionPoint, type Motion } from './motion.ts'

// What a motion changes of records that lie by themselves: for one that is moved, and for its copy.

const pointsMoved = (points: readonly Point[], motion: Motion): readonly Point[] => points.map((point) => motionPoint(motion, point))

export function outlineMoved({ outline }: { readonly outline: readonly Point[] }, motion: Motion): { readonly outline: readonly Point[] } {
  return { outline: pointsMoved(outline, motion) }
}

export function benchworkMoved({ outline, holes }: Benchwork, motion: Motion): Pick<Benchwork, 'outline' | 'holes'> {
  return { outline: pointsMoved(outline, motion), holes: holes.map((hole) => pointsMoved(hole, motion)) }
}

export function joistMoved({ from, to }: Joist, motion: Motion): Pick<Joist, 'from' | 'to'> {
  return { from: motionPoint(motion, from), to: motionPoint(motion, to) }
}

export function guideMoved({ at, angleRad }: Guide, motion: Motion): Pick<Guide, 'at' | 'angleRad'> {
  return { at: motionPoint(motion, at), angleRad: motionHeading(motion, angleRad) }
}

export function readingMoved({ of }: Reading, motion: Motion): { readonly of: ReadingOf } {
  switch (of.kind) {
    case 'distance':
      return { of: { ...of, from: motionPoint(motion, of.from), to: motionPoint(motion, of.to) } }
    case 'angle':
      return { of: { ...of, at: motionPoint(motion, of.at), from: motionPoint(motion, of.from), to: motionPoint(motion, of.to) } }
    default:
      return { of }
  }
}
