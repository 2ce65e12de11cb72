import type { ChecksEngine, Engine } from './protocol.ts'

/* What talks to a worker is fetched with the first question to it, behind the first picture of the page. */

interface Coming<E> {
  come(): Promise<E>
  dispose(): void
}

function coming<E extends { dispose(): void }>(load: () => Promise<E>): Coming<E> {
  let engine: Promise<E> | null = null
  return {
    async come() {
      engine ??= load()
      try {
        return await engine
      } catch (error) {
        // The next question asks for it again.
        engine = null
        throw error
      }
    },
    dispose: () => void engine?.then((one) => one.dispose()),
  }
}

export function engineLate(load: () => Promise<Engine>): Engine {
  const { come, dispose } = coming(load)
  return {
    check: async (...asked) => (await come()).check(...asked),
    report: async (...asked) => (await come()).report(...asked),
    sheets: async (...asked) => (await come()).sheets(...asked),
    lists: async (...asked) => (await come()).lists(...asked),
    fair: async (...asked) => (await come()).fair(...asked),
    trace: async (...asked) => (await come()).trace(...asked),
    cut: async (...asked) => (await come()).cut(...asked),
    laying: async (...asked) => (await come()).laying(...asked),
    solids: async (...asked) => (await come()).solids(...asked),
    dispose,
  }
}

export function checksLate(load: () => Promise<ChecksEngine>): ChecksEngine {
  const { come, dispose } = coming(load)
  return { ask: async (question) => (await come()).ask(question), dispose }
}
