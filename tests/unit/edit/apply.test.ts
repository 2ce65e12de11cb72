import { describe, expect, it } from 'vitest'
import { editApply, editRemoveCommand, patchApply, patchInvert, patchIsEmpty } from '../../../src/core/edit/index.ts'
import { editLabel } from '../../../src/words/editLabel.ts'
import type { PlanCommand } from '../../../src/core/edit/index.ts'
import { planEmpty } from '../../../src/core/plan/index.ts'
import { aBenchwork, aCorner, aTrack, aTurnout, planAfter, planWith } from '../../support/plans.ts'

const problemOf = (plan: Parameters<typeof editApply>[0], command: unknown) => {
  const result = editApply(plan, command as PlanCommand)
  if (result.ok) throw new Error('the command was taken')
  return result.problem
}

/** A main track with a turnout from whose leg a spur runs; the leg is taken to lie at (700, 30), turned by 0.1. */
const spur = aTrack({
  id: 'track-2',
  name: 'Spur',
  start: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' },
  corners: [aCorner({ x: 1000, y: 70 })],
  end: { kind: 'free', x: 1500, y: 80 },
})
const junction = planWith({ tracks: [aTrack(), spur], turnouts: [aTurnout()] })
const legPose = { x: 700, y: 30, headingRad: 0.1 }

describe('an edit of a plan', () => {
  it('adds a record under the next id of its table and says which', () => {
    const { id: _, ...record } = aTrack()
    const result = editApply(junction, { kind: 'track.add', record })
    expect(result).toMatchObject({ ok: true, added: 'track-3' })
  })

  it('leaves every record that it does not name as the same object', () => {
    const moved = planAfter(junction, { kind: 'turnout.set', id: 'turnout-1', change: { stationMm: 600 } })
    expect(moved.turnouts['turnout-1']?.stationMm).toBe(600)
    expect(moved.tracks).toBe(junction.tracks)
    expect(moved.turnouts['turnout-1']?.build).toEqual(aTurnout().build)
    expect(moved.railway).toBe(junction.railway)
  })

  it('changes nothing when a field is set to what it is', () => {
    const result = editApply(junction, { kind: 'turnout.set', id: 'turnout-1', change: { frog: 6, hand: 'left' } })
    expect(result.ok && patchIsEmpty(result.patch) && patchApply(junction, result.patch) === junction).toBe(true)
  })

  it('moves one corner and keeps the others', () => {
    const track = aTrack({ corners: [aCorner(), aCorner({ id: 'pi-2', x: 1200, y: 300 })] })
    const plan = planWith({ tracks: [track] })
    const moved = planAfter(plan, { kind: 'corner.set', track: 'track-1', corner: 'pi-2', change: { x: 1300 } })
    expect(moved.tracks['track-1']?.corners[1]).toMatchObject({ x: 1300, y: 300 })
    expect(moved.tracks['track-1']?.corners[0]).toBe(plan.tracks['track-1']?.corners[0])
  })

  it('inserts a corner before the index and names it apart from the others', () => {
    const plan = planWith({ tracks: [aTrack({ corners: [aCorner({ id: 'pi-7' })] })] })
    const { id: _, ...corner } = aCorner({ x: 500, y: 10 })
    const after = planAfter(plan, { kind: 'corner.insert', track: 'track-1', index: 0, corner })
    expect(after.tracks['track-1']?.corners.map(({ id }) => id)).toEqual(['pi-8', 'pi-7'])
  })

  it('edits points of outline and holes, and keeps three points in every ring', () => {
    const hole = [
      { x: 100, y: 100 },
      { x: 200, y: 100 },
      { x: 200, y: 200 },
    ]
    const plan = planWith({ benchworks: [aBenchwork()] })
    const cut = planAfter(
      plan,
      { kind: 'benchwork.addHole', id: 'benchwork-1', ring: hole },
      { kind: 'benchwork.movePoint', id: 'benchwork-1', ring: 0, index: 2, to: { x: 250, y: 260 } },
      { kind: 'benchwork.insertPoint', id: 'benchwork-1', ring: -1, index: 4, at: { x: 0, y: 300 } },
    )
    expect(cut.benchworks['benchwork-1']?.holes[0]?.[2]).toEqual({ x: 250, y: 260 })
    expect(cut.benchworks['benchwork-1']?.outline[4]).toEqual({ x: 0, y: 300 })
    expect(problemOf(cut, { kind: 'benchwork.removePoint', id: 'benchwork-1', ring: 0, index: 0 })).toMatchObject({ kind: 'badValue' })
    expect(problemOf(cut, { kind: 'benchwork.movePoint', id: 'benchwork-1', ring: 0, index: 3, to: { x: 0, y: 0 } })).toEqual({
      kind: 'badValue',
      where: 'index',
      value: 3,
      expected: 'at most 2',
    })
    expect(planAfter(cut, { kind: 'benchwork.removeHole', id: 'benchwork-1', hole: 0 }).benchworks['benchwork-1']?.holes).toEqual([])
  })

  it('does a group as one patch that undoes as one', () => {
    const group: PlanCommand = {
      kind: 'group',
      label: 'Lay spur',
      commands: [
        { kind: 'turnout.add', record: aTurnout({ id: 'turnout-2', stationMm: 1200 }) },
        { kind: 'track.add', record: { ...spur, id: 'track-9', start: { kind: 'leg', turnout: 'turnout-2', leg: 'diverging' } } },
      ],
    }
    const result = editApply(junction, group)
    if (!result.ok) throw new Error('refused')
    const after = patchApply(junction, result.patch)
    expect(Object.keys(after.tracks)).toEqual(['track-1', 'track-2', 'track-9'])
    expect(result.added).toBe('track-9')
    expect(patchApply(after, patchInvert(result.patch))).toEqual(junction)
  })

  it.each([
    ['a radius of zero', { kind: 'corner.set', track: 'track-2', corner: 'pi-1', change: { radius: 0 } }, 'change.radius'],
    ['a negative radius', { kind: 'corner.set', track: 'track-2', corner: 'pi-1', change: { radius: -5 } }, 'change.radius'],
    ['a negative easement', { kind: 'corner.set', track: 'track-2', corner: 'pi-1', change: { easementIn: -1 } }, 'change.easementIn'],
    ['a point at infinity', { kind: 'corner.set', track: 'track-2', corner: 'pi-1', change: { x: Infinity } }, 'change.x'],
    ['a point that is no number', { kind: 'track.setStart', id: 'track-1', start: { kind: 'free', x: NaN, y: 0 } }, 'start.x'],
    ['a point beyond a kilometre', { kind: 'track.setEnd', id: 'track-1', end: { kind: 'free', x: 1e7, y: 0 } }, 'end.x'],
    ['a frog number of zero', { kind: 'turnout.set', id: 'turnout-1', change: { frog: 0 } }, 'change.frog'],
    ['a gauge of zero', { kind: 'railway.set', change: { gaugeMm: 0 } }, 'change.gaugeMm'],
    ['a name that is no text', { kind: 'track.set', id: 'track-1', change: { name: 7 } }, 'change.name'],
    ['a name of 201 characters', { kind: 'track.set', id: 'track-1', change: { name: 'x'.repeat(201) } }, 'change.name'],
    ['a field that there is not', { kind: 'track.set', id: 'track-1', change: { colour: 'red' } }, 'change.colour'],
    ['a change of the id', { kind: 'turnout.set', id: 'turnout-1', change: { id: 'x' } }, 'change.id'],
    ['a reserved word as id', { kind: 'track.add', record: aTrack({ id: 'constructor' }) }, 'record.id'],
    [
      'a ring of two points',
      { kind: 'benchwork.add', record: aBenchwork({ outline: aBenchwork().outline.slice(0, 2) }) },
      'record.outline',
    ],
    ['a missing field', { kind: 'obstacle.add', record: { name: 'Post' } }, 'record.outline'],
    ['an index past the end', { kind: 'corner.insert', track: 'track-1', index: 1, corner: aCorner() }, 'index'],
    ['a corner that is not there', { kind: 'corner.remove', track: 'track-1', corner: 'pi-9' }, 'corner'],
    ['a loop that starts at a leg', { kind: 'track.setEnd', id: 'track-2', end: { kind: 'closed' } }, 'tracks.track-2.start'],
    ['an unknown command', { kind: 'plan.burn' }, 'kind'],
    ['no command at all', null, ''],
    [
      'a bad command within a group',
      {
        kind: 'group',
        label: '',
        commands: [
          { kind: 'remove', table: 'tracks', id: 'track-1' },
          { kind: 'remove', table: 'cats', id: 'a' },
        ],
      },
      'commands.1.table',
    ],
  ])('refuses %s and says where', (_, command, where) => {
    expect(problemOf(junction, command)).toMatchObject({ kind: 'badValue', where })
  })

  it('says what would be right', () => {
    expect(problemOf(junction, { kind: 'turnout.set', id: 'turnout-1', change: { frog: 0 } })).toMatchObject({
      value: 0,
      expected: 'a frog number above 0, at most 1000',
    })
    expect(problemOf(junction, { kind: 'obstacle.add', record: { name: 'Post' } })).toMatchObject({ expected: 'a value for outline' })
    expect(problemOf(junction, { kind: 'track.set', id: 'track-1', change: { colour: 1 } })).toMatchObject({
      expected: 'no key colour here',
    })
  })

  it('refuses references to what is not there, and a second track on one leg', () => {
    expect(problemOf(junction, { kind: 'turnout.set', id: 'turnout-1', change: { track: 'track-8' } })).toEqual({
      kind: 'notFound',
      table: 'tracks',
      id: 'track-8',
    })
    expect(problemOf(junction, { kind: 'track.set', id: 'track-1', change: { lineClass: 'toString' } }).kind).toBe('badValue')
    expect(problemOf(junction, { kind: 'track.add', record: { ...spur, id: 'track-3' } })).toEqual({
      kind: 'inUse',
      table: 'turnouts',
      id: 'turnout-1',
      by: 'track-2',
    })
    expect(problemOf(junction, { kind: 'track.add', record: aTrack() })).toEqual({ kind: 'idTaken', table: 'tracks', id: 'track-1' })
  })
})

describe('removing', () => {
  it('does not pull the leg from under a track', () => {
    const inUse = { kind: 'inUse', by: 'track-2' }
    expect(problemOf(junction, { kind: 'remove', table: 'turnouts', id: 'turnout-1' })).toMatchObject(inUse)
    expect(problemOf(junction, { kind: 'remove', table: 'tracks', id: 'track-1' })).toMatchObject(inUse)
    expect(problemOf(junction, { kind: 'remove', table: 'lineClasses', id: 'main' })).toMatchObject({ kind: 'inUse', by: 'track-1' })
    expect(problemOf(junction, { kind: 'remove', table: 'walls', id: 'wall-1' })).toMatchObject({ kind: 'notFound' })
  })

  it('takes a turnout away in one step and leaves the spur in its place and shape', () => {
    const after = planAfter(
      junction,
      editRemoveCommand(junction, 'turnouts', 'turnout-1', () => legPose),
    )
    expect(after.turnouts).toEqual({})
    expect(after.tracks['track-2']?.start).toEqual({ kind: 'free', x: 700, y: 30 })
    // Foot of (1000, 70) on the tangent: ahead = 300 cos 0.1 + 40 sin 0.1 = 302.4946; x = 700 + 302.4946 cos 0.1, y = 30 + 302.4946 sin 0.1.
    const corner = after.tracks['track-2']?.corners[0]
    expect(corner?.x).toBeCloseTo(1000.98337, 4)
    expect(corner?.y).toBeCloseTo(60.19907, 4)
  })

  it('takes the host away with its turnout and frees the spur', () => {
    const after = planAfter(
      junction,
      editRemoveCommand(junction, 'tracks', 'track-1', () => legPose),
    )
    expect(Object.keys(after.tracks)).toEqual(['track-2'])
    expect(after.turnouts).toEqual({})
    expect(after.tracks['track-2']?.start.kind).toBe('free')
  })

  it('finds a place for the spur when nobody knows where its leg was', () => {
    const after = planAfter(
      junction,
      editRemoveCommand(junction, 'turnouts', 'turnout-1', () => null),
    )
    // 100 mm before (1000, 70) on the line from (1500, 80): unit vector (-500, -10) / 500.1.
    expect(after.tracks['track-2']?.start).toMatchObject({ x: expect.closeTo(900.02, 3), y: expect.closeTo(68.0004, 3) })
    expect(after.tracks['track-2']?.corners).toEqual(spur.corners)
  })

  it('takes a car away from the classes that used it', () => {
    const empty = planEmpty()
    const used = Object.values(empty.lineClasses).flatMap((lineClass) => lineClass.cars)
    const car = used[0] ?? ''
    expect(problemOf(empty, { kind: 'remove', table: 'vehicles', id: car }).kind).toBe('inUse')
    const after = planAfter(
      empty,
      editRemoveCommand(empty, 'vehicles', car, () => null),
    )
    expect(after.vehicles[car]).toBeUndefined()
    expect(Object.values(after.lineClasses).some((lineClass) => lineClass.cars.includes(car))).toBe(false)
  })

  it('takes a track away that starts from its own turnout', () => {
    const plan = planWith({ tracks: [aTrack({ end: { kind: 'leg', turnout: 'turnout-1', leg: 'diverging' } })], turnouts: [aTurnout()] })
    const after = planAfter(
      plan,
      editRemoveCommand(plan, 'tracks', 'track-1', () => legPose),
    )
    expect([after.tracks, after.turnouts]).toEqual([{}, {}])
  })
})

describe('the words for a step', () => {
  it.each<[PlanCommand, string]>([
    [{ kind: 'corner.set', track: 'track-2', corner: 'pi-1', change: { radius: 700 } }, 'Set radius at PI 1 of track Spur'],
    [{ kind: 'corner.set', track: 'track-2', corner: 'pi-1', change: { x: 1, y: 2 } }, 'Move PI 1 of track Spur'],
    [{ kind: 'turnout.set', id: 'turnout-1', change: { frog: 7 } }, 'Set frog number of turnout East'],
    [{ kind: 'turnout.set', id: 'turnout-1', change: { stationMm: 7 } }, 'Move turnout East'],
    [{ kind: 'remove', table: 'tracks', id: 'track-1' }, 'Remove track Main and turnout East'],
    [{ kind: 'benchwork.add', record: aBenchwork({ name: '' }) }, 'Add benchwork'],
    [{ kind: 'railway.set', change: { gaugeMm: 9 } }, 'Set gauge'],
    [{ kind: 'track.setEnd', id: 'track-1', end: { kind: 'closed' } }, 'Close loop of track Main'],
  ])('%j reads %s', (command, words) => {
    expect(editLabel(command, junction)).toBe(words)
  })
})
