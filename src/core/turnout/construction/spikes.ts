import { pointDistance } from '../../geom/index.ts'
import type { Point } from '../../geom/types.ts'
import { railAcross, tieAxes } from './railFacts.ts'
import type { RailFacts } from './railFacts.ts'
import type { BenchPractice, BuiltWork, Spike } from './types.ts'

/** Spikes stand this part of the tie's width off its middle line, one to each side. Common practice, no source. */
const staggerPart = 0.25

/**
 * Where spikes go: at both edges of the foot of every rail that lies still, in every nth tie. Inside ones stand on one side of
 * the tie's middle and outside ones on the other, changing from tie to tie, so that no tie can be turned by them. None in
 * moving points, and none near a frog until wheels have proved it.
 *
 * Source:  common practice, no source.
 */
export function spikePattern(
  work: BuiltWork,
  rails: readonly RailFacts[],
  practice: Pick<BenchPractice, 'spikeEvery' | 'spikeFreeMm'>,
): readonly Spike[] {
  const still = rails.filter(({ part }) => part !== 'point')
  const every = Math.max(1, Math.round(practice.spikeEvery))
  const axes = tieAxes(work.ties)
  return work.ties.flatMap((tie, index) => {
    const axis = axes[index]
    if (axis === undefined || index % every !== 0) return []
    const [cos, sin] = [Math.cos(axis.headingRad), Math.sin(axis.headingRad)]
    const turn = (index / every) % 2 === 0 ? 1 : -1
    const place = (offset: number, along: number): Point => ({
      x: axis.x - offset * sin + along * cos,
      y: axis.y + offset * cos + along * sin,
    })
    return still.flatMap(({ rail, index: railIndex, side }): readonly Spike[] => {
      const at = railAcross(rail.gaugeLine, axis)
      if (at === null) return []
      const middle = at.offsetMm + (side * rail.headWidthMm) / 2
      const edge = (side * rail.footWidthMm) / 2
      const off = turn * staggerPart * tie.widthMm
      const pair: readonly Spike[] = [
        { tie: index, rail: railIndex, side: 'outside', at: place(middle + edge, off) },
        { tie: index, rail: railIndex, side: 'inside', at: place(middle - edge, -off) },
      ]
      return pair.every((spike) => work.frogs.every((frog) => pointDistance(frog.at, spike.at) >= practice.spikeFreeMm)) ? pair : []
    })
  })
}
