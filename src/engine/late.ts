/** Something that is not part of the first load: null until it has been brought once. */
export interface Late<T> {
  now(): T | null
  /** What is on its way is not asked for twice. */
  bring(): Promise<T>
  /** What was asked for, come or on its way; null: nothing was. */
  asked(): Promise<T> | null
}

/** What failed to come (no network, and not kept yet) is asked for again by the next `bring`. */
export function late<T>(load: () => Promise<T>): Late<T> {
  let come: T | null = null
  let coming: Promise<T> | null = null
  function begin(): Promise<T> {
    coming = load()
    coming.then(
      (here) => {
        come = here
      },
      () => {
        coming = null
      },
    )
    return coming
  }
  return { now: () => come, asked: () => coming, bring: () => coming ?? begin() }
}
