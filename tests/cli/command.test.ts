import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { nearestWord } from '../../src/cli/nearest.ts'
import { waybench, waybenchSpawn, words } from '../support/waybench.ts'

const folder = mkdtempSync(join(tmpdir(), 'waybench-'))

describe('the command as a whole', () => {
  it('tells its verbs, and each verb its options', async () => {
    const all = await waybench('--help')
    expect(all.code).toBe(0)
    for (const verb of ['curve', 'turnout', 'swing', 'line', 'check', 'sheets']) {
      expect(all.out).toContain(`  ${verb} `)
      const one = await waybench(verb, '--help')
      expect(one.code).toBe(0)
      expect(one.out).toContain(`Example: waybench ${verb}`)
    }
  })

  const wrong: readonly (readonly [typed: readonly string[], says: string])[] = [
    [[], 'needs a verb'],
    [['curv'], 'Did you mean curve?'],
    [['frobnicate'], 'Known are: curve'],
    [['curve', '--radus', '30in'], 'Did you mean radius?'],
    [['curve', '--radius', '30in', '--radius', '3in'], 'given twice'],
    [['curve', '--radius'], 'needs a value'],
    [['curve', '--radius', '--json'], 'needs a value'],
    [['curve', '--json=yes'], 'takes no value'],
    [['curve', 'plan.json'], 'stands alone'],
    [['curve', '--radius', '30in'], 'needs --delta'],
    [['curve', '--delta', '60deg', '--radius', '30'], '30in or 30mm'],
    [['curve', '--delta', '60deg', '--radius', '0in'], 'above zero'],
    [['curve', '--delta', '60deg', '--radius', 'NaN'], 'not a number'],
    [['curve', '--delta', 'Infinity', '--radius', '30in'], 'not a number'],
    [['curve', '--delta', '180deg', '--radius', '30in'], 'less than 180'],
    [['curve', '--delta', '-10deg', '--radius', '30in'], 'more than 0'],
    [['curve', '--constructor', '1'], 'no option --constructor'],
    [['line', '--track', 'main'], 'needs a PLAN'],
    [['line', 'a.json', 'b.json', '--track', 'main'], 'second PLAN'],
    [['line', 'nowhere.json', '--track', 'main'], 'no such file'],
    [['line', '.', '--track', 'main'], 'this is a folder'],
  ]
  for (const [typed, says] of wrong) {
    it(`“${typed.join(' ')}” ends with 2 and says: ${says}`, async () => {
      const { code, out, err } = await waybench(...typed)
      expect(code).toBe(2)
      expect(out).toBe('')
      expect(err).toContain(says)
      expect(err).not.toMatch(/\bat .*\.m?[jt]s:\d+/)
    })
  }

  const files: readonly (readonly [name: string, text: string, says: string])[] = [
    ['empty.json', '', 'empty'],
    ['cut.json', '{"format":"waybench-plan","version":1,"rail', 'breaks off in line 1'],
    ['damaged.json', '{"format":"waybench-plan",,}', 'damaged in line 1, column'],
    ['foreign.json', '{"hello":1}', 'not a Waybench plan'],
    ['newer.json', '{"format":"waybench-plan","version":999}', 'version 999'],
    ['bytes.json', '\u0000\u001b[31m', 'it begins with “U+0000”'],
    ['list.json', '[1,2,3]', 'not a Waybench plan'],
    ['short.json', '{"format":"waybench-plan","version":1}', 'railway'],
  ]
  for (const [name, text, says] of files) {
    it(`${name} is refused: ${says}`, async () => {
      const path = join(folder, name)
      writeFileSync(path, text)
      for (const verb of [
        ['line', path, '--track', 'main'],
        ['check', path],
      ]) {
        const { code, out, err } = await waybench(...verb)
        expect(code).toBe(2)
        expect(out).toBe('')
        expect(err).toContain(says)
      }
    })
  }
})

describe('the command as a process of its own', () => {
  it('prints one JSON object on standard output and nothing else, and ends with 0', () => {
    const { code, out, err } = waybenchSpawn(...words('curve --delta 60deg --radius 30in --easement 15in --json'))
    expect(err).toBe('')
    expect(out.trim().split('\n')).toHaveLength(1)
    expect(JSON.parse(out)).toMatchObject({ radiusMm: 762 })
    expect(code).toBe(0)
  })

  it('ends with 2 and complains on standard error, where nothing else was asked', () => {
    expect(waybenchSpawn('curve', '--radius', '30')).toMatchObject({ code: 2, out: '' })
    expect(waybenchSpawn('tunrout').err).toBe('waybench has no verb “tunrout”. Did you mean turnout?\n')
  })
})

describe('the nearest word', () => {
  it('forgives a slip, a swap and capitals, and guesses nothing far off', async () => {
    const words = ['curve', 'turnout', 'swing', 'line', 'check', 'sheets']
    expect(nearestWord('tunrout', words)).toBe('turnout')
    expect(nearestWord('CHEK', words)).toBe('check')
    expect(nearestWord('crossover', words)).toBeNull()
  })

  it('takes a short word for another one only when half of its letters are in it', () => {
    expect(nearestWord('XX', ['Z', 'N', 'HO'])).toBeNull()
    expect(nearestWord('-5', ['Z', 'N', 'HO'])).toBeNull()
    expect(nearestWord('', ['a4', 'a3'])).toBeNull()
    expect(nearestWord('a44', ['letter', 'a4'])).toBe('a4')
    expect(nearestWord('H', ['Z', 'N', 'HO'])).toBeNull()
  })
})
