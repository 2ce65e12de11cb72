import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import type { FairProgress, TraceProgress } from '../../src/core/alignment/index.ts'
import { pathArc, pathPoseAt } from '../../src/core/geom/index.ts'
import type { Point } from '../../src/core/geom/index.ts'
import type { SheetOptions } from '../../src/core/deliver/index.ts'
import { jigSolve, printerUsual } from '../../src/core/jigs/index.ts'
import type { FairOptions } from '../../src/core/pipeline/index.ts'
import type { Plan } from '../../src/core/plan/index.ts'
import type { Engine } from '../../src/engine/protocol.ts'
import { aCorner, aTrack, aTurnout, planAfter, planWith } from './plans.ts'
import { aPaper } from './paper.ts'

export const engineSheetOptions: SheetOptions = {
  paper: aPaper('letter'),
  marginMm: 10,
  overlapMm: 12,
  calibrationX: 1,
  calibrationY: 1,
  units: 'imperial',
  date: '2026-11-25',
}

/** A straight with a turnout; then a curve far under the main's minimum radius. */
export const enginePlan: Plan = planWith({
  tracks: [
    aTrack({ corners: [aCorner({ x: 1500, y: 0, radius: 200, easementIn: 0, easementOut: 0 })], end: { kind: 'free', x: 1500, y: 900 } }),
  ],
  turnouts: [aTurnout()],
})

/** A reverse curve that has room to be three times as wide. */
export const easingPlan: Plan = planWith({
  tracks: [
    aTrack({
      corners: [
        aCorner({ id: 'pi-1', x: 800, y: 0, radius: 300, easementIn: 0, easementOut: 0 }),
        aCorner({ id: 'pi-2', x: 1200, y: 300, radius: 300, easementIn: 0, easementOut: 0 }),
      ],
      end: { kind: 'free', x: 2000, y: 300 },
    }),
  ],
})
export const easingOptions: FairOptions = { edgeMarginMm: null, centresMm: null, nearness: 'asGiven', roundsMost: 120 }

/** On a straight of 500 mm, a quarter circle of 500 mm to the left, and straight on. */
function quarterPoint(alongMm: number): Point {
  const arcMm = (500 * Math.PI) / 2
  if (alongMm < 500) return { x: alongMm, y: 0 }
  if (alongMm < 500 + arcMm) return pathPoseAt(pathArc({ x: 500, y: 0, headingRad: 0 }, 500, arcMm), alongMm - 500)
  return { x: 1000, y: alongMm - arcMm }
}

/**
 * What every engine does, wherever it works. Runs in node and in a real browser: nothing of either is used here. Each job has a fresh
 * engine; where that takes seconds to start, one does them all, as in the app, and `isOne` says so.
 */
export function engineContract(name: string, make: () => Engine, { isOne = false } = {}): void {
  describe(`engine contract: ${name}`, () => {
    let engine: Engine
    const [begin, end] = isOne ? [beforeAll, afterAll] : [beforeEach, afterEach]
    begin(() => {
      engine = make()
    })
    end(() => engine.dispose())

    it('checks a plan and gives what breaks its limits', async () => {
      const findings = await engine.check(enginePlan)
      const sharp = findings.find((finding) => finding.rule === 'minimum-radius')
      expect(sharp).toMatchObject({ table: 'tracks', record: 'track-1', corner: 'pi-1' })
      expect(sharp?.measured).toBeCloseTo(200, 6)
    })

    it('gives the same findings again for the same plan, and others for a changed one', async () => {
      const first = await engine.check(enginePlan)
      expect(await engine.check(enginePlan)).toEqual(first)
      const mended = planWith({ tracks: [aTrack()], turnouts: [aTurnout()] })
      expect((await engine.check(mended)).some((finding) => finding.rule === 'minimum-radius')).toBe(false)
    })

    it('reports what every track came to, with the findings that it is given', async () => {
      const open = await engine.check(enginePlan)
      const { findings, tracks } = await engine.report(enginePlan, { open, silenced: [] })
      expect(findings).toEqual(open)
      expect(tracks.map(({ track }) => track)).toEqual(['track-1'])
    })

    it('makes sheets: a PDF, and what each sheet covers', async () => {
      const answer = await engine.sheets(enginePlan, { kind: 'turnout', id: 'turnout-1' }, engineSheetOptions)
      expect(answer.problems).toEqual([])
      expect(String.fromCharCode(...answer.pdf.slice(0, 5))).toBe('%PDF-')
      expect(answer.sheets.map(({ name, paper }) => [name, paper.widthMm, paper.heightMm])).toEqual([['A1', 279.4, 215.9]])
      // Points at station 500 of a track along +x, the frog's heel 189 mm behind them.
      const [only] = answer.sheets
      expect(only?.planBox.minX).toBeLessThan(500)
      expect(only?.planBox.maxX).toBeGreaterThan(690)
    })

    it('tells of sheets page by page, and leaves no file where it is stopped', async () => {
      const heard: string[] = []
      const answer = await engine.sheets(enginePlan, { kind: 'all' }, engineSheetOptions, (at) => {
        heard.push(at.kind === 'draw' ? at.kind : `${at.page} of ${at.pages}`)
        return true
      })
      const pages = heard.length - 1
      expect(pages).toBeGreaterThan(1)
      expect(heard).toEqual(['draw', ...Array.from({ length: pages }, (_, i) => `${i + 1} of ${pages}`)])
      // One page more than there are full-size sheets: the index.
      expect(answer.sheets.length).toBe(pages - 1)
      expect(answer).not.toHaveProperty('isStopped')
      let told = 0
      const stopped = await engine.sheets(enginePlan, { kind: 'all' }, engineSheetOptions, () => (told += 1) < 3)
      expect(stopped).toEqual({ pdf: new Uint8Array(0), sheets: [], problems: [], isStopped: true })
      expect(told).toBe(3)
    })

    it('names the signs that the letters of the sheets lack, and makes no file with boxes in it', async () => {
      const titled = { ...enginePlan, railway: { ...enginePlan.railway, title: 'Quay 軌 & été' } }
      const answer = await engine.sheets(titled, { kind: 'turnout', id: 'turnout-1' }, engineSheetOptions)
      expect(answer.pdf).toHaveLength(0)
      expect(answer.problems).toEqual([expect.stringContaining('no “軌”: write the title')])
    })

    it('makes the same bytes for the same plan', async () => {
      const [a, b] = await Promise.all(
        [1, 2].map(() => engine.sheets(enginePlan, { kind: 'turnout', id: 'turnout-1' }, engineSheetOptions)),
      )
      expect(a?.pdf).toEqual(b?.pdf)
    })

    it('prints tables on pages of their own', async () => {
      const table = { title: 'Limits', notes: [], columns: [{ head: 'Limit', align: 'left' }], rows: [['Least radius']] } as const
      const answer = await engine.lists({ title: 'Report', railway: 'Quay', tables: [table] }, engineSheetOptions)
      expect(answer.problems).toEqual([])
      expect(String.fromCharCode(...answer.pdf.slice(0, 5))).toBe('%PDF-')
      expect(answer.sheets.map(({ name, planCorners }) => [name, planCorners])).toEqual([['P1', []]])
    })

    it('answers with a problem and no PDF when the subject is not there', async () => {
      const answer = await engine.sheets(enginePlan, { kind: 'track', id: 'nowhere' }, engineSheetOptions)
      expect(answer.pdf).toHaveLength(0)
      expect(answer.sheets).toEqual([])
      expect(answer.problems).toEqual(['There is no track "nowhere" in the plan.'])
    })

    it('eases a track, tells how far it is, and gives the change as one step', async () => {
      const heard: FairProgress[] = []
      const answer = await engine.fair(easingPlan, 'track-1', easingOptions, (progress) => {
        heard.push(progress)
        return true
      })
      if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
      expect(answer.before.minRadiusMm).toBeCloseTo(300, 6)
      expect(answer.after.minRadiusMm).toBeGreaterThan(900)
      expect(heard.length).toBeGreaterThan(0)
      const eased = planAfter(easingPlan, answer.command)
      const sharp = (await engine.check(eased)).filter((finding) => finding.rule === 'minimum-radius')
      expect(sharp).toEqual([])
    })

    it('stops easing when it is told to, with a line that is no worse', async () => {
      const answer = await engine.fair(easingPlan, 'track-1', easingOptions, () => false)
      if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
      expect(answer.ended).toBe('stopped')
      expect(answer.rounds).toBeLessThan(5)
      expect(answer.after.minRadiusMm).toBeGreaterThanOrEqual(300 - 1e-6)
    })

    it('says why a track cannot be eased', async () => {
      expect(await engine.fair(easingPlan, 'nowhere', easingOptions, () => true)).toEqual({
        ok: false,
        problem: { kind: 'trackMissing', track: 'nowhere' },
      })
    })

    it('fits a line to measured points, tells how far it is, and knows the verdicts on them', async () => {
      const heard: TraceProgress[] = []
      // A quarter circle of 500 mm between two straights, and one point beside it.
      const points = Array.from({ length: 60 }, (_, i) => quarterPoint(i * 31)).with(30, { x: 1500, y: 900 })
      const options = { toleranceMm: 0.5, isClosed: false, verdicts: new Map([[10, 'leftOut'] as const]) }
      const answer = await engine.trace(points, options, (progress) => {
        heard.push(progress)
        return true
      })
      if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
      expect(answer.trace.traverse.corners.map(({ radiusMm }) => Number(radiusMm))).toEqual([expect.closeTo(500, 3)])
      expect(answer.trace.outliers).toEqual([30])
      expect(answer.trace.ended).toBe('settled')
      expect(heard.length).toBeGreaterThan(0)
    })

    it('stops fitting when it is told to, with the best so far', async () => {
      const points = Array.from({ length: 60 }, (_, i) => quarterPoint(i * 31))
      const answer = await engine.trace(points, { toleranceMm: 0.5, isClosed: false }, () => false)
      if (!answer.ok) throw new Error(JSON.stringify(answer.problem))
      expect(answer.trace).toMatchObject({ ended: 'stopped', rounds: 1 })
      expect(answer.trace.residuals).toHaveLength(60)
    })

    it('cuts pieces from sticks, tells how far it is, and stops when told to', async () => {
      const request = {
        pieces: Array.from({ length: 40 }, (_, i) => ({ id: `p${i}`, lengthMm: 200 + ((i * 137) % 430) })),
        stocks: [{ id: 'rail', lengthMm: 900, count: null, isBought: true }],
        kerfMm: 1,
        leastOffcutMm: 50,
      }
      const heard: number[] = []
      const whole = await engine.cut(request, 10, ({ boundMm }) => heard.push(boundMm) > 0)
      const stopped = await engine.cut(request, 10, () => false)
      if (!whole.ok || !stopped.ok) throw new Error(JSON.stringify([whole, stopped]))
      expect(whole.plan).toMatchObject({ isProven: true, gap: 0, ended: 'done' })
      expect(heard.length).toBeGreaterThan(0)
      expect(stopped.plan.ended).toBe('stopped')
      expect(stopped.plan.sticks.flatMap(({ pieces }) => pieces)).toHaveLength(40)
      expect(stopped.plan.boughtMm).toBeGreaterThanOrEqual(whole.plan.boughtMm)
    })

    it('makes the lists of what to cut, tells how far it is, and keeps the best so far when stopped', async () => {
      const heard: string[] = []
      const { lists, shopping } = await engine.laying(enginePlan, 10, ({ kind }) => heard.push(kind) > 0)
      const stopped = await engine.laying(enginePlan, 10, () => false)
      expect(heard[0]).toBe('derive')
      expect(heard.slice(1)).toContain('cut')
      expect(lists.rails.pieces.length).toBeGreaterThan(0)
      expect(shopping.lines.length).toBeGreaterThan(0)
      expect(stopped.lists.rails.pieces).toEqual(lists.rails.pieces)
      for (const { result } of stopped.lists.railCuts) expect(result).toMatchObject({ ok: true })
    })

    it('makes a jig into solids, piece by piece, each a closed surface', async () => {
      const block = { kind: 'riser', values: { heightMm: 100, widthMm: 20, thicknessMm: 10 } } as const
      const whole = jigSolve(block, printerUsual)
      const cut = jigSolve(block, { ...printerUsual, bedXMm: 70, bedYMm: 70, jointAllowanceMm: 0 })
      if (!whole.ok || !cut.ok) throw new Error('a block of that size is made')
      const [one] = await engine.solids(whole.jig)
      const [left, right] = await engine.solids(cut.jig)
      expect(one?.volumeMm3).toBeCloseTo(100 * 20 * 10, 3)
      expect(one?.mesh.triangles).toHaveLength(3 * 12)
      expect((left?.volumeMm3 ?? 0) + (right?.volumeMm3 ?? 0)).toBeCloseTo(100 * 20 * 10, 3)
    })

    it('rejects what is no plan with an error that a person can read', async () => {
      const broken = { ...enginePlan, tracks: null } as unknown as Plan
      await expect(engine.check(broken)).rejects.toThrow(/^The plan could not be checked: /)
      await expect(engine.sheets(broken, { kind: 'all' }, engineSheetOptions)).rejects.toThrow(/^The sheets could not be made: /)
      // And goes on working.
      expect((await engine.check(enginePlan)).length).toBeGreaterThan(0)
    })

    it('answers no more once it has been closed', async () => {
      engine.dispose()
      await expect(engine.check(enginePlan)).rejects.toThrow('The engine has been closed.')
      await expect(engine.sheets(enginePlan, { kind: 'all' }, engineSheetOptions)).rejects.toThrow('The engine has been closed.')
      engine.dispose()
    })
  })
}
