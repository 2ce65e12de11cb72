import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { unzipSync } from 'fflate'
import { afterAll, describe, expect, it } from 'vitest'
import { waybench, waybenchJson } from '../support/waybench.ts'

const demo = 'public/demo/fennimore.json'
const folder = mkdtempSync(join(tmpdir(), 'waybench-jig-'))
const at = (name: string): string => join(folder, name)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('waybench jig', () => {
  it('takes what is left out from a line class, and writes one 3MF for all pieces', async () => {
    const said = await waybenchJson(
      'jig',
      demo,
      '--kind',
      'ties',
      '--class',
      'main',
      '--radius',
      '30in',
      '--to',
      '3mf',
      '--out',
      at('ties.3mf'),
    )
    expect(said).toMatchObject({ kind: 'tieSpacing', values: { radiusMm: 762 }, files: [at('ties.3mf')] })
    const model = new TextDecoder().decode(unzipSync(new Uint8Array(readFileSync(at('ties.3mf'))))['3D/3dmodel.model'])
    const pieces = said['pieces'] as readonly { readonly triangles: number }[]
    expect(model.match(/<object /g)).toHaveLength(pieces.length)
    expect(model.match(/<triangle /g)).toHaveLength(pieces.reduce((sum, { triangles }) => sum + triangles, 0))
  })

  it('writes an STL for each piece, and says which', async () => {
    const { out, code } = await waybench('jig', demo, '--kind', 'riser', '--height', '12in', '--to', 'stl', '--out', at('riser.stl'))
    expect(code).toBe(0)
    expect(existsSync(at('riser.stl'))).toBe(false)
    for (const name of ['riser-1.stl', 'riser-2.stl']) {
      expect(out).toContain(at(name))
      const bytes = readFileSync(at(name))
      // 80 bytes, the count, 50 for each triangle.
      expect(bytes.length).toBe(84 + 50 * bytes.readUInt32LE(80))
    }
    expect(out).toContain('Labels and local rules come first.')
  })

  it('planes points for the frog that is asked for', async () => {
    const angle = async (frog: string): Promise<number> => {
      const said = await waybenchJson('jig', demo, '--kind', 'filing', '--frog', frog, '--to', 'stl', '--out', at('filing.stl'))
      return (said['facts'] as { readonly pointFiling: number }).pointFiling
    }
    expect(await angle('8')).toBeLessThan(await angle('5'))
  })

  it.each([
    [['--kind', 'curve', '--radius', '5mm', '--to', '3mf', '--out', 'x.3mf'], /--radius: Radius is 5\.00 mm .* or more would do/],
    [['--kind', 'stick', '--frog', '6', '--to', '3mf', '--out', 'x.3mf'], /--frog: a jig of kind stick has no such number/],
    [['--kind', 'roadbed', '--to', 'svg', '--out', 'x.svg'], /not flat; --to stl or --to 3mf would do/],
    [['--kind', 'stick', '--to', 'svg', '--out', 'x.stl'], /end the name with it, such as jig\.svg/],
    [['--kind', 'sticks', '--to', 'svg', '--out', 'x.svg'], /--kind sticks: it must be .*stick/],
    [
      ['--kind', 'riser', '--width', '150mm', '--bed-width', '100mm', '--bed-depth', '100mm', '--to', 'stl', '--out', 'x.stl'],
      /A bed of that size would do/,
    ],
    [['--kind', 'ties', '--spacing', '2mm', '--to', 'stl', '--out', 'x.stl'], /--spacing: Tie spacing is 2\.00 mm .* no wall would stand/],
  ])('refuses %j and writes nothing', async (typed, message) => {
    const words = typed.map((word) => (word.startsWith('x.') ? at(word) : word))
    const { code, err } = await waybench('jig', demo, ...words)
    expect(code).toBe(2)
    expect(err).toMatch(message)
    expect(words.some((word) => existsSync(word))).toBe(false)
  })

  it('is where export sends who asks for a plan in plastic', async () => {
    const { code, err } = await waybench('export', demo, '--to', 'stl', '--out', at('plan.stl'))
    expect(code).toBe(2)
    expect(err).toContain('waybench jig PLAN')
  })
})
