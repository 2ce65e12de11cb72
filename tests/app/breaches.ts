import axe from 'axe-core'

// axe-core asks for a canvas to measure icons with; jsdom has none and would say so each time.
HTMLCanvasElement.prototype.getContext = () => null

/** Breaches of WCAG 2.1 A and AA as axe-core finds them. Contrast needs a real page: contrast.test.tsx computes it instead. */
export async function breaches(): Promise<readonly string[]> {
  const result = await axe.run(document.body, {
    runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'best-practice'],
    // jsdom lays nothing out.
    rules: { 'color-contrast': { enabled: false }, region: { enabled: false } },
  })
  return result.violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html.slice(0, 120)}`))
}
