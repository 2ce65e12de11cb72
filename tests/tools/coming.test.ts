import { describe, expect, it } from 'vitest'
import type { ToolName } from '../../src/store/types.ts'
import { toolBox } from '../../src/tools/toolbox.ts'
import type { ToolBox } from '../../src/tools/toolbox.ts'
import { toolHarness, type ToolHarness } from '../support/toolHarness.ts'

/** A box whose tools are on the way until `come`. */
function boxOnItsWay(): ToolBox & { come(): Promise<void>; fail(): Promise<void> } {
  const box = toolBox()
  let isHere = false
  let waiting: { readonly come: () => void; readonly fail: (why: Error) => void }[] = []
  const settle = async (): Promise<void> => {
    waiting = []
    for (let i = 0; i < 3; i++) await Promise.resolve()
  }
  return {
    now: (name) => (isHere ? box.now(name) : null),
    bring: () => new Promise<void>((come, fail) => waiting.push({ come, fail })),
    come() {
      isHere = true
      for (const { come } of waiting) come()
      return settle()
    },
    fail() {
      for (const { fail } of waiting) fail(new Error('no network'))
      return settle()
    },
  }
}

/** What a hand draws with a tool; `typed` opens the field stroke by stroke, as the canvas does. */
const drawn: { readonly [T in ToolName]?: (hand: ToolHarness) => unknown } = {
  track: (hand) => hand.click(0, 0).click(3000, 2).click(2997, 3000).enter(),
  benchwork: (hand) => hand.click(0, 0).click(1000, 0).click(1000, 500).enter(),
  guide: (hand) => hand.click(0, 0).click(700, 300),
}

describe('a tool that is still on its way', () => {
  it.each(Object.entries(drawn))('is given what was drawn with it meanwhile: %s', async (name, draw) => {
    const tool = name as ToolName
    const atOnce = toolHarness(undefined, tool)
    draw(atOnce)
    const box = boxOnItsWay()
    const hand = toolHarness(undefined, tool, 'imperial', box)
    const before = hand.plan()
    draw(hand)
    expect(hand.plan()).toBe(before)
    expect(hand.isComing()).toBe(true)
    await box.come()
    expect(hand.plan()).toEqual(atOnce.plan())
    expect(hand.plan()).not.toEqual(before)
    expect(hand.isComing()).toBe(false)
    expect(hand.tool()).toBe(atOnce.tool())
  })

  it('is given digits stroke by stroke as one measure', async () => {
    const box = boxOnItsWay()
    const hand = toolHarness(undefined, 'benchwork', 'metric', box)
    hand.click(0, 0).stroke('1').stroke('2').stroke('0')
    await box.come()
    expect(hand.entry()).toBe('120')
  })

  it('takes nothing that was meant for the one before', async () => {
    const box = boxOnItsWay()
    const hand = toolHarness(undefined, 'track', 'imperial', box)
    hand.click(0, 0).click(3000, 0).take('benchwork')
    await box.come()
    hand.enter()
    expect([hand.plan().tracks, hand.plan().benchworks]).toEqual([{}, {}])
  })

  it('is asked for again when it could not come', async () => {
    const box = boxOnItsWay()
    const hand = toolHarness(undefined, 'guide', 'imperial', box)
    hand.click(0, 0)
    await box.fail()
    hand.click(700, 300)
    await box.come()
    expect(Object.keys(hand.plan().guides)).toHaveLength(1)
  })
})
