import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { csvWrite } from '../../../src/formats/csv.ts'
import { csvRead } from '../../support/csvRead.ts'

const withoutMark = (text: string): string => {
  expect(text.startsWith('\uFEFF')).toBe(true)
  return text.slice(1)
}

describe('comma-separated values', () => {
  it('are read back by the grammar of RFC 4180 as they were written', () => {
    const field = fc.oneof(fc.string(), fc.stringMatching(/^[a-z",\r\n ]*$/)).filter((text) => !/^[=+\-@\t\r]/.test(text))
    fc.assert(
      fc.property(fc.array(fc.array(field, { minLength: 3, maxLength: 3 }), { minLength: 1 }), (rows) => {
        expect(csvRead(withoutMark(csvWrite(rows)))).toEqual(rows)
      }),
      { seed: 20261126 },
    )
  })

  it('let no text begin as a formula, and leave numbers alone', () => {
    const rows = [['=SUM(A1:A9)', '-4.5', '+cmd', '@here', '-quay']]
    expect(csvRead(withoutMark(csvWrite(rows)))).toEqual([["'=SUM(A1:A9)", '-4.5', "'+cmd", "'@here", "'-quay"]])
  })
})
