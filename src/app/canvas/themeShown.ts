/*
 * What the style sheets colour the page by. A picture that is painted does not follow them by itself, and is painted anew when this
 * changes.
 */

const queries = ['(prefers-color-scheme: dark)', '(forced-colors: active)'] as const

let asked: readonly MediaQueryList[] | null = null

/** What is asked of the system, once: the answer stays right by itself, and it is read with every picture. */
function lists(): readonly MediaQueryList[] {
  return (asked ??= typeof matchMedia === 'undefined' ? [] : queries.map((query) => matchMedia(query)))
}

/** The looks of the page in one word: alike for alike looks. */
export function themeShown(): string {
  const { theme = 'system', contrast = 'usual' } = document.documentElement.dataset
  return [theme, contrast, ...lists().map(({ matches }) => matches)].join(' ')
}

/** Tells when it may have changed: the root has been marked otherwise, or the system has. */
export function themeWatch(changed: () => void): () => void {
  const observer = new MutationObserver(changed)
  observer.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme', 'data-contrast'] })
  for (const list of lists()) list.addEventListener('change', changed)
  return () => {
    observer.disconnect()
    for (const list of lists()) list.removeEventListener('change', changed)
  }
}
