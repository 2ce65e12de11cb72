/** Something that is not part of the first load: null until it has been brought once. */
export interface Late<T> {
  now(): T | null
  bring(): Promise<T>
}

/** What failed to come (no network, and not kept yet) is asked for again by the next `bring`. */
export function late<T>(load: () => Promise<T>): Late<T> {
  let come: T | null = null
  return {
    now: () => come,
    async bring() {
      come ??= await load()
      return come
    },
  }
}
