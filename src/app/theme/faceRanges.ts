/** First and last code point of a run of characters. */
type Run = readonly [number, number]

/**
 * The characters of the screen's face in two parts, each a file of its own. usual: what our words, lengths, angles and formulas are written
 * with, loaded at once. more: names in other Latin scripts and rare signs, loaded by the browser when one of them is shown.
 */
export const faceRanges: { readonly usual: readonly Run[]; readonly more: readonly Run[] } = {
  usual: [
    [0x20, 0x7e], // basic Latin
    [0xa0, 0xbf], // signs of Latin-1: degree, half, quarter, dot
    [0xd7, 0xd7], // times
    [0xf7, 0xf7], // by
    [0x2010, 0x2044], // dashes, quotes, primes, the slash of fractions
    [0x2070, 0x209f], // raised and lowered figures
    [0x20ac, 0x20ac], // euro
    [0x2150, 0x215f], // thirds and eighths
    [0x2190, 0x2195], // arrows
    [0x2211, 0x2212], // sum, minus
    [0x221a, 0x221e], // root, infinity
    [0x2248, 0x2265], // nearly, unequal, at most, at least
    [0x3c0, 0x3c0], // pi
    [0x394, 0x394], // delta
    [0x3b8, 0x3b8], // theta
  ],
  more: [
    [0xc0, 0xd6], // letters of Latin-1
    [0xd8, 0xf6],
    [0xf8, 0xff],
    [0x100, 0x17f], // Latin Extended-A
    [0x20a0, 0x20ab], // currency
    [0x20ad, 0x20bf],
    [0x2196, 0x2210], // arrows, operators
    [0x2213, 0x2219],
    [0x221f, 0x2247],
    [0x2266, 0x22ff],
  ],
}

/** A part as the unicode-range of a font face. */
export function unicodeRange(part: keyof typeof faceRanges): string {
  return faceRanges[part].map(([first, last]) => `U+${first.toString(16)}-${last.toString(16)}`).join(', ')
}
