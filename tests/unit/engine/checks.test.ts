import { expose } from 'comlink'
import { describe, expect, it } from 'vitest'
import { patchApply } from '../../../src/core/edit/index.ts'
import type { Plan } from '../../../src/core/plan/index.ts'
import { checksInline } from '../../../src/engine/checksInline.ts'
import { checksWorker } from '../../../src/engine/checksWorker.ts'
import { planChecks } from '../../../src/engine/planChecks.ts'
import type { ChecksNews, PlanChecks } from '../../../src/engine/planChecks.ts'
import type { ChecksAnswer, ChecksEngine, ChecksQuestion } from '../../../src/engine/protocol.ts'
import { planFindings } from '../../support/checks.ts'
import { checksContract, checksPlan, patchOf } from '../../support/checksContract.ts'
import { stagedWorker } from '../../support/stagedWorker.ts'

const served = () => stagedWorker((port) => expose(checksInline(), port)).worker

checksContract('inline', checksInline)
checksContract('worker, over a message channel', () => checksWorker(served))

/** Checks that answer when the test says so, one question after the other. */
function heldChecks() {
  const inner = checksInline()
  const asked: { readonly question: ChecksQuestion; readonly answer: () => Promise<void>; readonly lose: () => void }[] = []
  const engine: ChecksEngine = {
    ask: (question) =>
      new Promise<ChecksAnswer>((resolve, reject) => {
        asked.push({
          question,
          answer: async () => resolve(await inner.ask(question)),
          lose: () => reject(new Error('gone')),
        })
      }),
    dispose: () => inner.dispose(),
  }
  return { engine, asked, next: () => waitFor(() => asked.shift()) }
}

async function waitFor<T>(look: () => T | undefined): Promise<T> {
  for (;;) {
    const found = look()
    if (found !== undefined) return found
    await new Promise((resolve) => setTimeout(resolve))
  }
}

const noFallback = { fallback: () => Promise.reject(new Error('none here')), rest: () => Promise.resolve() }
const widened = (radius: number): Plan =>
  patchApply(checksPlan, patchOf(checksPlan, { kind: 'corner.set', track: 'track-1', corner: 'pi-1', change: { radius } }))
const through = (checks: PlanChecks, plan: Plan): Promise<ChecksNews> => new Promise((tell) => checks.follow(plan, tell))
const foundIn = (news: ChecksNews) => (news.ok ? news.findings : [])

describe('checks that follow a plan', () => {
  it('ask one question at a time, and of the plans that wait only the newest', async () => {
    const held = heldChecks()
    const checks = planChecks({ engine: held.engine, ...noFallback })
    const told: Plan[] = []
    const plans = [checksPlan, widened(210), widened(220), widened(900)] as const
    for (const plan of plans) checks.follow(plan, (news) => told.push(news.plan))
    const first = await held.next()
    expect([first.question.kind, held.asked.length]).toEqual(['whole', 0])
    await first.answer()
    const second = await held.next()
    expect(second.question).toMatchObject({ kind: 'change', patch: { railway: null, records: [{ table: 'tracks', id: 'track-1' }] } })
    await second.answer()
    await waitFor(() => (told.length === 2 ? true : undefined))
    expect(told).toEqual([plans[0], plans[3]])
  })

  it('rest between two steps of a drag, and not before a plan that stays', async () => {
    const held = heldChecks()
    let rests = 0
    let restEnd: () => void = () => undefined
    const rest = () => new Promise<void>((rested) => [rests++, (restEnd = rested)])
    const checks = planChecks({ engine: held.engine, ...noFallback, rest })
    const told: Plan[] = []
    const tell = (news: ChecksNews) => told.push(news.plan)
    const [first, second, third, last] = [checksPlan, widened(210), widened(220), widened(900)]
    checks.follow(first, tell, true)
    await (await held.next()).answer()
    checks.follow(second, tell, true)
    await new Promise((turn) => setTimeout(turn, 20))
    expect([rests, held.asked.length]).toEqual([1, 0])
    restEnd()
    await (await held.next()).answer()
    checks.follow(third, tell, true)
    await waitFor(() => (rests === 2 ? true : undefined))
    expect(held.asked).toHaveLength(0)
    checks.follow(last, tell)
    await (await held.next()).answer()
    await waitFor(() => (told.length === 3 ? true : undefined))
    expect(told).toEqual([first, second, last])
    expect(rests).toBe(2)
  })

  it('keep the findings that stayed as the objects that they were, also over a worker', async () => {
    const checks = planChecks({ engine: checksWorker(served), ...noFallback })
    const before = foundIn(await through(checks, checksPlan))
    const after = foundIn(await through(checks, widened(900)))
    expect(after).toEqual(planFindings(widened(900), []))
    const stayed = after.filter((finding) => before.includes(finding))
    expect(stayed.map(({ record }) => record)).toContain('track-2')
    expect(before.some(({ record }) => record === 'track-1')).toBe(true)
  })

  it('look through a plan as it might be, and go on with the one that is', async () => {
    const checks = planChecks({ engine: checksInline(), ...noFallback })
    await through(checks, checksPlan)
    expect(foundIn(await checks.lookThrough(widened(900)))).toEqual(planFindings(widened(900), []))
    expect(foundIn(await through(checks, checksPlan))).toEqual(planFindings(checksPlan, []))
  })

  it('try once more with the whole plan when their worker is lost', async () => {
    const crashing = stagedWorker()
    const workers = [crashing.worker, served()]
    const checks = planChecks({ engine: checksWorker(() => workers.shift() ?? served()), ...noFallback })
    const news = through(checks, checksPlan)
    crashing.crash()
    expect(foundIn(await news)).toEqual(planFindings(checksPlan, []))
  })

  it('work in the page when no worker can be had', async () => {
    const engine = checksWorker(() => {
      throw new Error('workers are off')
    })
    let rests = 0
    const checks = planChecks({ engine, fallback: () => Promise.resolve(checksInline()), rest: () => Promise.resolve(void rests++) })
    expect(foundIn(await through(checks, checksPlan))).toEqual(planFindings(checksPlan, []))
    expect(rests).toBe(0)
    expect(foundIn(await through(checks, widened(900)))).toEqual(planFindings(widened(900), []))
    expect(rests).toBe(1)
  })

  it('say what hinders them when they cannot be had at all, and try again with the next plan', async () => {
    const held = heldChecks()
    const checks = planChecks({ engine: held.engine, ...noFallback })
    const news = through(checks, checksPlan)
    ;(await held.next()).lose()
    ;(await held.next()).lose()
    expect(await news).toEqual({ ok: false, plan: checksPlan, trouble: 'none here' })
    const again = through(checks, widened(900))
    await (await held.next()).answer()
    expect((await again).ok).toBe(true)
  })
})
