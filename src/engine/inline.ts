import { traceRounds } from '../core/alignment/index.ts'
import type { LinearSolve } from '../core/alignment/index.ts'
import { checksCreateRunner } from '../core/checks/index.ts'
import { benchCuts, listSheets, planReport, sheetPlanCorners, sheetsForSubject } from '../core/deliver/index.ts'
import type { Sheet, SheetSet } from '../core/deliver/types.ts'
import { boxOfPoints } from '../core/geom/index.ts'
import { pipelineCreate } from '../core/pipeline/index.ts'
import type { Derived } from '../core/pipeline/index.ts'
import { dataShared } from '../core/plan/index.ts'
import type { Plan } from '../core/plan/index.ts'
import { railsCreateDeriver } from '../core/rails/index.ts'
import { layingLists, shoppingOf } from '../core/shopping/index.ts'
import type { LayingLists } from '../core/shopping/index.ts'
import { cutRounds } from '../core/sticks/index.ts'
import type { CutRequest, CutResult, CutSolver } from '../core/sticks/index.ts'
import { pdfRounds, pdfSignsMissing, type SheetFonts } from '../formats/pdf.ts'
import { trackFairRounds } from './fair.ts'
import type { SolidsOf } from './solids.ts'
import type { CutListener, Engine, SheetsAnswer, SheetsListener, SheetSummary } from './protocol.ts'

export interface InlineEngineOptions {
  /** Loads the sheets' fonts; called when the first sheets are asked for, again only if that failed. */
  readonly fonts: () => Promise<SheetFonts>
  /** Loads the solver of linear programs; called when the first line is eased, again only if that failed. */
  readonly linear: () => Promise<LinearSolve>
  /** Loads the solver for cutting; called when the first list is cut, again only if that failed. */
  readonly cutting: () => Promise<CutSolver>
  /** Loads the solids kernel; called when the first jig is made, again only if that failed. */
  readonly solids: () => Promise<SolidsOf>
}

/** Rounds of easing or fitting between two words of progress: a round takes some ten milliseconds, and a word waits for the answer. */
const ROUNDS_PER_WORD = 4

/** Most time of the choice that ends a cutting and cannot be heard of meanwhile, seconds. */
const WHOLE_SECONDS = 2

/** So long the sheets of cuts look for fewer sticks: as long as the stages of laying do. */
const SHEET_CUT_SECONDS = 20

/**
 * The engine in the thread that calls it: for the command line, for tests, and inside the worker.
 * It remembers what it derived, so that the next call for a changed plan computes only what the change touched.
 */
export function inlineEngine(options: InlineEngineOptions): Engine {
  const pipeline = pipelineCreate()
  const check = checksCreateRunner()
  const fontsOnce = loadedOnce(options.fonts, 'the fonts of the sheets')
  const linearOnce = loadedOnce(options.linear, 'the solver of linear programs')
  const cuttingOnce = loadedOnce(options.cutting, 'the solver for cutting')
  const solidsOnce = loadedOnce(options.solids, 'the solids kernel')
  const railsOf = railsCreateDeriver()
  let kept: Plan | null = null
  let isDisposed = false

  /** A plan that came as a copy looks like a new one in every record: what says the same as before is the same object again. */
  function derive(asked: Plan): Derived {
    kept = dataShared(kept, asked)
    return pipeline.derive(kept)
  }

  /** Runs a piece of work; whatever goes wrong comes out as an Error that says what was being done. */
  async function doing<T>(what: string, work: () => T | Promise<T>): Promise<T> {
    if (isDisposed) throw new Error('The engine has been closed.')
    try {
      return await work()
    } catch (error) {
      throw new Error(`${what}: ${messageOf(error)}`, { cause: error })
    }
  }

  /** Runs work that goes round by round, and asks now and then whether it shall go on. */
  async function heard<P extends { readonly rounds: number }, A>(
    rounds: Generator<P, A, 'goOn' | 'stop'>,
    onProgress: (progress: P) => boolean | Promise<boolean>,
  ): Promise<A> {
    let next = rounds.next('goOn')
    while (next.done !== true) {
      const isWord = next.value.rounds % ROUNDS_PER_WORD === 1
      const goesOn = !isWord || (await onProgress(next.value))
      if (isDisposed) throw new Error('the engine has been closed.')
      next = rounds.next(goesOn ? 'goOn' : 'stop')
    }
    return next.value
  }

  async function cut(request: CutRequest, seconds: number, onProgress: CutListener): Promise<CutResult> {
    const solver = await cuttingOnce()
    const until = performance.now() + seconds * 1000
    const wholeSeconds = Math.min(WHOLE_SECONDS, seconds)
    return heard(
      cutRounds(request, solver, { wholeSeconds }),
      async (progress) => (await onProgress(progress)) && performance.now() < until,
    )
  }

  /** What a plan is cut into, the best found in a time; the search ends early when the listener says so. */
  async function listsOf(derived: Derived, seconds: number, onProgress: CutListener): Promise<LayingLists> {
    let goesOn = seconds > 0
    const until = performance.now() + seconds * 1000
    return layingLists(
      derived,
      (request) => {
        const left = goesOn ? Math.max(0, (until - performance.now()) / 1000) : 0
        return cut(request, left, async (progress) => (goesOn &&= await onProgress(progress)))
      },
      railsOf(derived),
    )
  }

  async function printed(set: SheetSet, onProgress: SheetsListener = () => true): Promise<SheetsAnswer> {
    const nothing = { pdf: new Uint8Array(0), sheets: [] }
    if (set.sheets.length === 0) return { ...nothing, problems: set.problems }
    const fonts = await fontsOnce()
    const missing = await pdfSignsMissing(set, fonts)
    if (missing.length > 0) return { ...nothing, problems: [...set.problems, signsMissingText(missing)] }
    const rounds = pdfRounds(set, fonts)
    let next = await rounds.next()
    while (next.done !== true) {
      const goesOn = await onProgress({ kind: 'page', ...next.value })
      if (isDisposed) throw new Error('the engine has been closed.')
      if (!goesOn) return { ...nothing, problems: [], isStopped: true }
      next = await rounds.next()
    }
    return { pdf: next.value, sheets: set.sheets.flatMap(summaryOf), problems: set.problems }
  }

  return {
    check: (plan) => doing('The plan could not be checked', () => check(derive(plan))),
    report: (plan, findings) => doing('The report could not be made', () => planReport(pipeline.derive(plan), findings)),
    sheets: (plan, subject, sheetOptions, onProgress = () => true) =>
      doing('The sheets could not be made', async () => {
        await onProgress({ kind: 'draw' })
        const derived = derive(plan)
        const lists = benchCuts(subject) ? await listsOf(derived, SHEET_CUT_SECONDS, () => onProgress({ kind: 'draw' })) : null
        return printed(sheetsForSubject(derived, subject, sheetOptions, lists), onProgress)
      }),
    lists: (request, sheetOptions) => doing('The pages could not be made', () => printed(listSheets(request, sheetOptions))),
    fair: (plan, track, fairOptions, onProgress) =>
      doing('The line could not be eased', async () => {
        return heard(trackFairRounds(derive(plan), track, fairOptions, await linearOnce()), onProgress)
      }),
    trace: (points, traceOptions, onProgress) =>
      doing('The points could not be fitted', () => heard(traceRounds(points, traceOptions), onProgress)),
    cut: (request, seconds, onProgress) => doing('The pieces could not be put on sticks', () => cut(request, seconds, onProgress)),
    laying: (plan, seconds, onProgress) =>
      doing('The lists could not be made', async () => {
        const goesOn = await onProgress({ kind: 'derive' })
        const derived = derive(plan)
        const lists = await listsOf(derived, goesOn ? seconds : 0, (progress) => onProgress({ kind: 'cut', progress }))
        return { lists, shopping: shoppingOf(plan, lists, derived.network) }
      }),
    solids: (jig) => doing('The jig could not be made', async () => (await solidsOnce())(jig)),
    dispose: () => {
      isDisposed = true
    },
  }
}

/** Loads something when it is first asked for; what failed is tried again with the next call. */
function loadedOnce<T>(load: () => Promise<T>, what: string): () => Promise<T> {
  let loading: Promise<T> | null = null
  return () => {
    loading ??= load().catch((error: unknown) => {
      loading = null
      throw new Error(`${what} could not be loaded (${messageOf(error)})`)
    })
    return loading
  }
}

/** Full-size sheets, and lists, which cover nothing; the index is no sheet to lay rail on. */
function summaryOf(sheet: Sheet): readonly SheetSummary[] {
  const { name, title, paper } = sheet
  if (sheet.kind === 'index') return []
  if (sheet.kind === 'list') return [{ name, title, paper, planBox: { minX: 0, minY: 0, maxX: 0, maxY: 0 }, planCorners: [] }]
  const planCorners = sheetPlanCorners(sheet)
  const planBox = boxOfPoints(planCorners)
  return planBox ? [{ name, title, paper, planBox, planCorners }] : []
}

function signsMissingText(signs: readonly string[]): string {
  const named = signs.map((sign) => `“${sign}”`).join(', ')
  return `The letters of the sheets have no ${named}: write the title and the names on them with Latin letters.`
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error)
}
