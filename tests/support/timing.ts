import type { Timing } from '../../src/store/timing.ts'

/** A clock that stands still until the test lets time pass; jobs that fall due then run in their order. */
export function timingByHand(): Timing & { pass(ms: number): void } {
  let now = 0
  let jobs: { readonly at: number; readonly job: () => void }[] = []
  return {
    now: () => now,
    after(ms, job) {
      const entry = { at: now + ms, job }
      jobs.push(entry)
      return () => {
        jobs = jobs.filter((other) => other !== entry)
      }
    },
    pass(ms) {
      now += ms
      for (;;) {
        const due = jobs.filter((entry) => entry.at <= now).sort((a, b) => a.at - b.at)[0]
        if (due === undefined) return
        jobs = jobs.filter((other) => other !== due)
        due.job()
      }
    },
  }
}
