import type { Engine } from './protocol.ts'

/** An engine that is fetched with the first call: until then, what talks to its worker is no part of the page. */
export function engineLate(load: () => Promise<Engine>): Engine {
  let coming: Promise<Engine> | null = null
  async function come(): Promise<Engine> {
    coming ??= load()
    try {
      return await coming
    } catch (error) {
      // The next call asks again.
      coming = null
      throw error
    }
  }
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
    dispose: () => void coming?.then((engine) => engine.dispose()),
  }
}
