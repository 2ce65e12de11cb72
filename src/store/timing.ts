/** Clock and timer, so that a test can hold them. `after` gives back what calls the job off. */
export interface Timing {
  now(): number
  after(ms: number, job: () => void): () => void
}

export const timingReal: Timing = {
  now: () => performance.now(),
  after(ms, job) {
    const timer = setTimeout(job, ms)
    return () => clearTimeout(timer)
  },
}
