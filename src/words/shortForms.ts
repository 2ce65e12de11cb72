/** Letters of the trade that stand for longer words, and what those mean. */
const longForms: { readonly [short: string]: string } = {
  PI: 'PI, point of intersection: a corner of the line, where two straights would meet',
  PC: 'PC, point of curve: where an arc without an easement begins',
  PT: 'PT, point of tangent: where an arc without an easement ends',
  TS: 'TS, tangent to spiral: where the easement begins',
  SC: 'SC, spiral to curve: where the arc begins',
  CS: 'CS, curve to spiral: where the arc ends',
  ST: 'ST, spiral to tangent: where the straight begins again',
  CC: 'CC, curve to curve: where an arc of another radius follows',
  PS: 'PS, point of switch: the tip of the points',
}

/** A text cut where letters stand for longer words; `long`: those words. */
export interface TextPart {
  readonly text: string
  readonly long?: string
}

export function shortFormsIn(text: string): readonly TextPart[] {
  return text
    .split(/\b([A-Z]{2})\b(?!-)/)
    .filter((part) => part !== '')
    .map((part) => {
      const long = longForms[part]
      return long === undefined ? { text: part } : { text: part, long }
    })
}
