import { describe, expect, it } from 'vitest'
import { planEmpty } from '../../src/core/plan/index.ts'
import { toolHarness } from '../support/toolHarness.ts'

const surveying = () => toolHarness(planEmpty(), 'survey')
const add = (x: number, y: number) => ({ kind: 'add', at: { x, y } })

describe('pointing at measured places', () => {
  it('each click is a place, exactly where it was, and nothing of the plan', () => {
    const hand = surveying().click(100.3, 50.7).click(240, 52).expectUndoCount(0)
    expect(hand.measured()).toEqual([add(100.3, 50.7), add(240, 52)])
    expect(hand.plan()).toEqual(planEmpty())
  })

  it('the second click of two is no second place', () => {
    expect(surveying().click(0, 0).doubleClick(300, 0).measured()).toEqual([add(0, 0), add(300, 0)])
  })

  it('typed measures go on from the last place', () => {
    const hand = surveying().click(0, 0).pointerMove(50, 0).type('10in<90').type('12in; 8in')
    // 10 in straight up, then 12 in right and 8 in up from the corner of the plan.
    expect(hand.measured()).toEqual([add(0, 0), { kind: 'add', at: { x: expect.closeTo(0, 9), y: 254 } }, add(304.8, 203.2)])
    hand.type('nine').expectHint('entry')
    expect(hand.measured()).toHaveLength(3)
  })

  it('Backspace takes back those of this time only, Enter and Escape lay the tool down', () => {
    const hand = surveying().click(0, 0).key('Backspace').key('Backspace')
    expect(hand.measured()).toEqual([add(0, 0), { kind: 'takeBack' }])
    hand.click(10, 10).enter().expectTool('select')
    hand.take('survey').key('Backspace')
    expect(hand.measured()).toHaveLength(3)
    hand.escape().expectTool('select')
  })
})
