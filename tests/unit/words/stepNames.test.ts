import { expect, it } from 'vitest'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import { editLabel } from '../../../src/words/editLabel.ts'
import { membersName } from '../../../src/words/names.ts'
import { aBenchwork, aTrack, planWith } from '../../support/plans.ts'

const wall = { id: 'wall-1', name: 'North', points: [], thicknessMm: 100, isClosed: false }
const guide = { id: 'guide-1', name: 'Eaves', at: { x: 0, y: 0 }, angleRad: 0 }
const plan = planWith({ tracks: [aTrack()], benchworks: [aBenchwork({ name: 'Shelf' })], walls: [wall], guides: [guide] })

// A step is read in a list long after it was done: it says what was done to which thing.
it.each<[PlanCommand, string]>([
  [{ kind: 'wall.set', id: 'wall-1', change: { thicknessMm: 80 } }, 'Set thickness of wall North'],
  [{ kind: 'wall.set', id: 'wall-1', change: { points: [] } }, 'Move wall North'],
  [{ kind: 'wall.set', id: 'wall-1', change: { name: 'South' } }, 'Name wall North South'],
  [{ kind: 'wall.set', id: 'wall-1', change: { name: ' ' } }, 'Take the name of wall North away'],
  [{ kind: 'wall.set', id: 'wall-1', change: { thicknessMm: 80, isClosed: true } }, 'Change wall North'],
  [{ kind: 'benchwork.set', id: 'benchwork-1', change: { heightMm: 900 } }, 'Set height of benchwork Shelf'],
  [{ kind: 'guide.set', id: 'guide-1', change: { at: { x: 1, y: 2 }, angleRad: 1 } }, 'Move guide Eaves'],
  [{ kind: 'railway.set', change: { title: 'Quay' } }, 'Name the railway Quay'],
  [{ kind: 'railway.set', change: { title: '' } }, 'Take the name of the railway away'],
  [{ kind: 'railway.set', change: { reachMm: 700 } }, 'Set reach'],
])('%j reads %s', (command, words) => {
  expect(editLabel(command, plan)).toBe(words)
})

it('no name turns the words and numbers behind it round', () => {
  const turned = { ...wall, name: 'Nor\u202Eth\u2066' }
  expect(editLabel({ kind: 'wall.set', id: 'wall-1', change: { thicknessMm: 80 } }, { ...plan, walls: { 'wall-1': turned } })).toBe(
    'Set thickness of wall North',
  )
})

it('calls several things by the first of them, and does not count what was measured on them', () => {
  const members = [
    { table: 'walls', id: 'wall-1' },
    { table: 'guides', id: 'guide-1' },
    { table: 'readings', id: 'reading-1' },
  ] as const
  expect(membersName(plan, members)).toBe('North and 1 more')
  expect(membersName(plan, members.slice(0, 1))).toBe('North')
})
