import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'

const css = readFileSync(join(import.meta.dirname, '../../src/app/theme/tokens.css'), 'utf8')

/** Every `--name: light-dark(#light, #dark)` of a block of the file. */
function colours(block: string): ReadonlyMap<string, readonly [string, string]> {
  return new Map(
    [...block.matchAll(/--([\w-]+):\s*light-dark\((#[0-9a-f]{6}),\s*(#[0-9a-f]{6})\)/g)].map((match) => [
      match[1] ?? '',
      [match[2] ?? '', match[3] ?? ''],
    ]),
  )
}

/** Relative luminance and contrast ratio as WCAG 2.2 defines them (section "Terms", relative luminance and contrast ratio). */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * (r ?? 0) + 0.7152 * (g ?? 0) + 0.0722 * (b ?? 0)
}
function contrast(one: string, other: string): number {
  const [dark, light] = [luminance(one), luminance(other)].toSorted((a, b) => a - b)
  return ((light ?? 0) + 0.05) / ((dark ?? 0) + 0.05)
}

const usual = colours(css.slice(0, css.indexOf('[data-contrast')))
const strong = new Map([...usual, ...colours(css.slice(css.indexOf('[data-contrast'), css.indexOf('@media')))])

// Words and the grounds that they stand on.
const pairs = [
  ...['ink', 'soft', 'vermilion-ink'].flatMap((words) =>
    ['paper', 'panel', 'timber', 'sound-pale', 'fault-pale'].map((ground) => [words, ground] as const),
  ),
  ['sound', 'panel'],
  ['sound', 'sound-pale'],
  ['sound', 'timber'],
  ['on-vermilion', 'vermilion'],
] as const

describe('contrast', () => {
  it('is measured right: black on white is 21, and #777 on white just misses', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 9)
    expect(contrast('#777777', '#ffffff')).toBeLessThan(4.5)
    expect(contrast('#767676', '#ffffff')).toBeGreaterThan(4.5)
  })

  for (const [name, tokens] of [
    ['usual', usual],
    ['more contrast', strong],
  ] as const) {
    for (const [theme, index] of [
      ['light', 0],
      ['dark', 1],
    ] as const) {
      it.each(pairs)(`of %s on %s is at least 4.5:1 (${theme}, ${name})`, (words, ground) => {
        const [one, other] = [tokens.get(words)?.[index], tokens.get(ground)?.[index]]
        expect([one, other]).not.toContain(undefined)
        expect(contrast(one ?? '#000000', other ?? '#000000')).toBeGreaterThanOrEqual(4.5)
      })
    }
  }

  it('of lines that mean something is at least 3:1', () => {
    for (const line of ['tie', 'vermilion', 'sound'])
      for (const ground of ['paper', 'panel', 'timber'])
        for (const index of [0, 1] as const)
          expect(contrast(usual.get(line)?.[index] ?? '#000000', usual.get(ground)?.[index] ?? '#000000')).toBeGreaterThanOrEqual(3)
  })
})
