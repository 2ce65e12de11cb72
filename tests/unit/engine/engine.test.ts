import { expose } from 'comlink'
import { describe, expect, it } from 'vitest'
import { sheetFontsRead } from '../../../src/engine/fonts.node.ts'
import { inlineEngine } from '../../../src/engine/inline.ts'
import { cutSolverRead, linearSolverRead } from '../../../src/engine/lp.node.ts'
import { solidsRead } from '../../../src/engine/solids.node.ts'
import { workerEngine } from '../../../src/engine/worker.ts'
import { stagedWorker as stagedWorkerOf } from '../../support/stagedWorker.ts'
import { engineContract, enginePlan, engineSheetOptions } from '../../support/engineContract.ts'

const inline = () => inlineEngine({ fonts: sheetFontsRead, linear: linearSolverRead, cutting: cutSolverRead, solids: solidsRead })

engineContract('inline', inline)
engineContract('worker, over a message channel', () => workerEngine(() => stagedWorker().worker))

/** A worker that serves an inline engine, or nothing. */
const stagedWorker = (serves: 'engine' | 'nothing' = 'engine') =>
  stagedWorkerOf((port) => (serves === 'engine' ? expose(inline(), port) : undefined))

describe('the worker engine', () => {
  it('starts its worker with the first call, and one only', async () => {
    let started = 0
    const engine = workerEngine(() => {
      started++
      return stagedWorker().worker
    })
    expect(started).toBe(0)
    await Promise.all([engine.check(enginePlan), engine.check(enginePlan)])
    expect(started).toBe(1)
    engine.dispose()
  })

  it('rejects what is open when it is closed, and ends the worker', async () => {
    const staged = stagedWorker('nothing')
    const engine = workerEngine(() => staged.worker)
    const open = engine.sheets(enginePlan, { kind: 'all' }, engineSheetOptions)
    engine.dispose()
    await expect(open).rejects.toThrow('The engine has been closed.')
    expect(staged.state.isTerminated).toBe(true)
  })

  it('rejects what is open when the worker crashes, and works again with a new one', async () => {
    const silent = stagedWorker('nothing')
    const workers = [silent, stagedWorker()]
    const engine = workerEngine(() => workers.shift()?.worker ?? stagedWorker().worker)
    const open = [engine.check(enginePlan), engine.sheets(enginePlan, { kind: 'all' }, engineSheetOptions)]
    silent.crash()
    for (const call of open) await expect(call).rejects.toThrow(/^The engine stopped unexpectedly.*the plan is not touched/)
    expect(silent.state.isTerminated).toBe(true)
    expect((await engine.check(enginePlan)).length).toBeGreaterThan(0)
    engine.dispose()
  })
})

describe('the inline engine', () => {
  it('says that the fonts could not be loaded, and tries again with the next call', async () => {
    let tries = 0
    const engine = inlineEngine({
      linear: linearSolverRead,
      cutting: cutSolverRead,
      solids: solidsRead,
      fonts: () => (++tries === 1 ? Promise.reject(new Error('404 Not Found')) : sheetFontsRead()),
    })
    const ask = () => engine.sheets(enginePlan, { kind: 'turnout', id: 'turnout-1' }, engineSheetOptions)
    await expect(ask()).rejects.toThrow('The sheets could not be made: the fonts of the sheets could not be loaded (404 Not Found)')
    expect((await ask()).pdf.length).toBeGreaterThan(1000)
    expect(tries).toBe(2)
  })
})
