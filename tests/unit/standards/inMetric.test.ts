import { describe, expect, it } from 'vitest'
import { planEmpty } from '../../../src/core/plan/index.ts'
import { gaugeList } from '../../../src/core/standards/index.ts'

const isRound = (mm: number, stepMm: number): boolean => Math.abs(mm / stepMm - Math.round(mm / stepMm)) < 1e-9

describe('a new room in millimetres', () => {
  for (const { key } of gaugeList()) {
    it(`${key}: has round limits, none looser than in inches by more than it takes to be round`, () => {
      const [inches, metric] = [planEmpty(key), planEmpty(key, 'metric')]
      if (inches === null || metric === null) throw new Error(key)
      expect(planEmpty(key, 'imperial')).toEqual(inches)
      const { reachMm, aisleMm, hatchMm, edgeMarginMm, runningClearanceMm, foulingMm } = metric.railway
      expect([reachMm, aisleMm, hatchMm]).toEqual([750, 600, 500])
      for (const [mm, before, step] of [
        [edgeMarginMm, inches.railway.edgeMarginMm, 1],
        [runningClearanceMm, inches.railway.runningClearanceMm, 0.5],
        [foulingMm, inches.railway.foulingMm, 1],
        ...Object.values(metric.lineClasses).flatMap((lineClass) => {
          const printed = inches.lineClasses[lineClass.id]
          if (printed === undefined) throw new Error(lineClass.id)
          return [
            [lineClass.minRadiusMm, printed.minRadiusMm, 10],
            [lineClass.usualRadiusMm, printed.usualRadiusMm, 10],
            [lineClass.trackCentresMm, printed.trackCentresMm, 1],
          ] as const
        }),
      ] as const) {
        expect(isRound(mm, step)).toBe(true)
        expect(mm).toBeGreaterThanOrEqual(before - 1e-9)
        expect(mm - before).toBeLessThan(step)
      }
      // Lengths of stock are those that are asked for, and the names say them.
      for (const { name, of } of Object.values(metric.stocks)) {
        expect(name).not.toMatch(/ in$/)
        if ('lengthMm' in of) expect(isRound(of.lengthMm, 100)).toBe(true)
        const [, figure, unit] = / (\d+) (mm|m)$/.exec(name) ?? []
        if (figure !== undefined && 'lengthMm' in of) expect(of.lengthMm).toBe(Number(figure) * (unit === 'm' ? 1000 : 1))
      }
      expect(Object.values(inches.stocks).map(({ name }) => name)).toContain('Tie strip, 24 in')
      // What is measured on rail and wheels is as it was.
      for (const size of ['gaugeMm', 'flangewayMm', 'railHeadMm', 'tieLengthMm', 'tieWidthMm'] as const)
        expect(metric.railway[size]).toBe(inches.railway[size])
    })
  }
})
