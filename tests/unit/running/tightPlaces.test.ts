import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { bodiesOnTrack, carChoices } from '../../../src/app/running/cars.ts'
import { benchArea } from '../../../src/core/checks/index.ts'
import { bandKeepCreate, clearancesFound, tightPlaces } from '../../../src/core/clearance/index.ts'
import { networkCreateDeriver } from '../../../src/core/network/index.ts'
import { planRead } from '../../../src/formats/planjson.ts'

it('the bands of the demo railway come too near where a fault was put there on purpose, and nowhere else', () => {
  const read = planRead(readFileSync('public/demo/fennimore.json', 'utf8'))
  if (!read.ok) throw new Error('the demo does not open')
  const network = networkCreateDeriver()(read.plan)
  const work = clearancesFound(network, bodiesOnTrack(carChoices(read.plan), null), benchArea(read.plan.benchworks).rings, bandKeepCreate())
  let step = work.next()
  while (step.done !== true) step = work.next()
  const clearances = step.value
  const told = (id: string, others: readonly string[]) =>
    tightPlaces(clearances, id, (other) => others.includes(other)).map(({ gap }) => [id, gap.name.kind, gap.name.record])
  const ids = [...network.tracks.keys()]
  // The passing siding of the main, on the bend: two tracks too close.
  expect(ids.flatMap((id, index) => told(id, ids.slice(0, index)))).toEqual([['track-1', 'tracks', 'track-2']])
  expect(told('track-2', [])).toEqual([['track-2', 'tracks', 'track-1']])
})
