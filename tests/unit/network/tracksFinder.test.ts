import { describe, expect, it } from 'vitest'
import { boxesOverlap, pathBox } from '../../../src/core/geom/index.ts'
import type { Box } from '../../../src/core/geom/index.ts'
import { tracksFinder } from '../../../src/core/network/index.ts'
import type { NetworkTrack } from '../../../src/core/network/types.ts'
import { pipelineCreate } from '../../../src/core/pipeline/index.ts'
import { bigPlan, withCornerMoved } from '../../support/bigPlan.ts'

const boxOf = ({ alignment }: NetworkTrack): Box | null => (alignment.ok ? pathBox(alignment.path, 0) : null)
const plan = bigPlan()
const pipeline = pipelineCreate()
const before = pipeline.derive(plan).network.tracks
const [moved] = Object.values(plan.tracks).filter(({ corners }) => corners.length > 0)
if (moved === undefined) throw new Error('no track with a corner')
const after = pipeline.derive(withCornerMoved(plan, moved.id, moved.corners[0]?.id ?? '', 60, 900)).network.tracks

const boxes: readonly Box[] = [
  { minX: 0, minY: -50, maxX: 900, maxY: 300 },
  { minX: 2000, minY: 500, maxX: 4000, maxY: 2600 },
  { minX: -1e5, minY: -1e5, maxX: 1e5, maxY: 1e5 },
  { minX: 5e4, minY: 5e4, maxX: 6e4, maxY: 6e4 },
]
const looked = (tracks: ReadonlyMap<string, NetworkTrack>, within: Box): readonly NetworkTrack[] =>
  [...tracks.values()].filter((track) => {
    const box = boxOf(track)
    return box !== null && boxesOverlap(box, within)
  })

describe('tracks by their boxes', () => {
  it('are those that a look at each finds, on the network as it was and as it is, to and fro', () => {
    const find = tracksFinder(boxOf)
    for (const tracks of [before, after, before, after]) {
      for (const box of boxes) expect(find(tracks, box)).toEqual(looked(tracks, box))
    }
    expect(boxes.map((box) => find(after, box).length)).not.toEqual(boxes.map((box) => find(before, box).length))
  })

  it('are found in any other map too', () => {
    const find = tracksFinder(boxOf)
    for (const box of boxes) expect(find(new Map(before), box)).toEqual(looked(before, box))
  })
})
