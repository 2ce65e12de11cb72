import { late } from './late.ts'
import type { Late } from './late.ts'
import type { ChecksEngine, Engine } from './protocol.ts'

/* What talks to a worker is fetched with the first question to it, behind the first picture of the page. */

export function engineLate(load: () => Promise<Engine>): Engine {
  const engine = late(load)
  return {
    check: async (...asked) => (await engine.bring()).check(...asked),
    report: async (...asked) => (await engine.bring()).report(...asked),
    sheets: async (...asked) => (await engine.bring()).sheets(...asked),
    lists: async (...asked) => (await engine.bring()).lists(...asked),
    fair: async (...asked) => (await engine.bring()).fair(...asked),
    trace: async (...asked) => (await engine.bring()).trace(...asked),
    cut: async (...asked) => (await engine.bring()).cut(...asked),
    laying: async (...asked) => (await engine.bring()).laying(...asked),
    solids: async (...asked) => (await engine.bring()).solids(...asked),
    dispose: () => disposed(engine),
  }
}

export function checksLate(load: () => Promise<ChecksEngine>): ChecksEngine {
  const engine = late(load)
  return { ask: async (question) => (await engine.bring()).ask(question), dispose: () => disposed(engine) }
}

/** Also when it is still on its way; who asked for it hears of a failure. */
function disposed(engine: Late<{ dispose(): void }>): void {
  engine.asked()?.then(
    (come) => come.dispose(),
    () => undefined,
  )
}
