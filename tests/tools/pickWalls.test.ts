import { expect, it } from 'vitest'
import { pipelineCreate } from '../../src/core/pipeline/index.ts'
import { picksAt } from '../../src/tools/shared/pick.ts'
import type { ToolContext } from '../../src/tools/types.ts'
import { removedWords } from '../../src/words/editLabel.ts'
import { aTrack, aTurnout, planWith } from '../support/plans.ts'
import { aDoor, aRoom } from '../support/rooms.ts'

const plan = planWith({ walls: [aRoom()], openings: [aDoor()], tracks: [aTrack()], turnouts: [aTurnout()] })

it('takes a wall over all its thickness while the room is worked on, and later by its line alone', () => {
  const context: ToolContext = {
    plan,
    derived: pipelineCreate().derive(plan),
    selection: { kind: 'none' },
    pxPerMm: 0.5,
    units: 'metric',
  }
  const hasWall = (isRoomWork: boolean, x: number): boolean =>
    picksAt({ ...context, isRoomWork }, { x, y: 1500 }).some(({ kind }) => kind === 'wall')
  // Two mm to the px: 5 px from the line, and a single one.
  expect([hasWall(true, 10), hasWall(false, 10)]).toEqual([true, false])
  expect([hasWall(true, 2), hasWall(false, 2)]).toEqual([true, true])
})

it('says what goes with a wall and with a track', () => {
  expect(removedWords(plan, 'walls', 'wall-1')).toMatch(/ and .*Door/i)
  expect(removedWords(plan, 'tracks', 'track-1')).toMatch(/ and .*turnout/i)
})
