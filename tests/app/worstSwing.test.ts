import { expect, it } from 'vitest'
import { worstSwing } from '../../src/app/running/worstSwing.ts'

const coupler = (car: number, aheadRad: number, behindRad: number) => ({
  car,
  aheadRad,
  behindRad,
  lateralMm: 0,
  aheadPin: { x: 0, y: 0 },
  behindPin: { x: 0, y: 0 },
})

it('the coupler nearest to its own most is told, though another swings farther', () => {
  const train = [{ swingRad: 0.1 }, { swingRad: 0.4 }, { swingRad: 0.4 }]
  expect(worstSwing([], train)).toBeNull()
  expect(worstSwing([coupler(0, 0.08, -0.2), coupler(1, 0.25, 0.2)], train)).toEqual({ rad: 0.08, mostRad: 0.1 })
  expect(worstSwing([coupler(0, 0.01, -0.2), coupler(1, 0.2, -0.5)], train)).toEqual({ rad: 0.5, mostRad: 0.4 })
})
