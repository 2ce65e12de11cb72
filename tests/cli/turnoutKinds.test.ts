import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { numberOf, waybench, waybenchJson, words } from '../support/waybench.ts'

const inch = 25.4
const folder = mkdtempSync(join(tmpdir(), 'waybench-turnouts-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const answer = (typed: string): Promise<Readonly<Record<string, unknown>>> => waybenchJson(...words(`turnout --scale HO ${typed}`))
const frogNumbers = (of: Readonly<Record<string, unknown>>): readonly string[] =>
  (of['frogs'] as readonly { readonly kind: string; readonly number: number }[]).map(({ kind, number }) => `${kind} ${number.toFixed(3)}`)
const routeNames = (of: Readonly<Record<string, unknown>>): readonly string[] =>
  (of['routes'] as readonly { readonly route: string }[]).map(({ route }) => route)

interface Point {
  readonly xMm: number
  readonly yMm: number
}

/** Every kind as it is typed, with the routes and frogs that it must have. */
const kinds: readonly (readonly [typed: string, kind: string, routes: readonly string[], frogs: number])[] = [
  ['--frog 6', 'straight', ['straight', 'curved'], 1],
  ['--kind plain --frog 6', 'straight', ['straight', 'curved'], 1],
  ['--kind curved --frog 6 --host-radius 36in', 'curved', ['straight', 'curved'], 1],
  ['--kind wye --frog 6', 'wye', ['curved', 'other'], 1],
  ['--kind three-way --frog 6', 'three-way', ['straight', 'curved', 'other'], 3],
  ['--kind three-way --frog 6 --second-frog 7 --second-after 50mm', 'three-way', ['straight', 'curved', 'other'], 3],
  ['--kind stub --frog 6', 'stub', ['straight', 'curved'], 1],
  ['--kind gauntlet --frog 6', 'gauntlet', ['straight', 'curved'], 1],
  ['--kind dual-gauge --frog 6 --narrow-gauge 10.5mm', 'dual-gauge', ['straight', 'curved', 'narrow-straight', 'narrow-curved'], 2],
  ['--kind diamond --angle 30deg', 'diamond', ['straight', 'other'], 4],
  ['--kind single-slip --frog 6 --side right', 'single-slip', ['straight', 'other', 'slip-right'], 4],
  ['--kind double-slip --frog 7', 'double-slip', ['straight', 'other', 'slip-left', 'slip-right'], 4],
]

describe('waybench turnout: every kind', () => {
  it.each(kinds)('%s', async (typed, kind, routes, frogs) => {
    const told = await answer(typed)
    expect(told['kind']).toBe(kind)
    expect([...routeNames(told)].sort()).toEqual([...routes].sort())
    expect(frogNumbers(told).length).toBeGreaterThanOrEqual(frogs)
    expect(JSON.stringify(told)).not.toContain('null,"lengthMm"')
    for (const list of ['rails', 'guardRails', 'ties', 'gaps', 'cutList'])
      expect((told[list] as readonly unknown[]).length, list).toBeGreaterThan(0)
  })

  it.each(kinds)('%s: a picture of true size', async (typed, kind) => {
    const file = join(folder, `${kind}.svg`)
    const run = await waybench(...words(`turnout --scale HO ${typed}`), '--svg', file)
    expect(run.err).toBe('')
    const svg = readFileSync(file, 'utf8')
    const [, width, height] = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 \1 \2"/.exec(svg) ?? []
    // Longer than the rails on their own and no wider than a sheet of paper is long.
    expect(Number(width)).toBeGreaterThan(30)
    expect(Number(height)).toBeLessThan(200)
    expect(svg).not.toContain('NaN')
  })
})

describe('waybench turnout: what the kinds come to', () => {
  it('on a curve the curvatures of host and turnout add, and the closure takes the share of the straight frog as well', async () => {
    // The rule by which section men bend turnouts: degrees of curve are added or taken off. Common practice, no source. It holds
    // where all of the turnout bends; our frog does not, and in a No. 6 that is a quarter of the lead.
    const straight = 1 / numberOf(await answer('--frog 6 --points curved'), 'closureRadiusMm')
    for (const [side, sign] of [
      ['inside', 1],
      ['outside', -1],
    ] as const) {
      const bent = 1 / numberOf(await answer(`--frog 6 --points curved --host-radius 48in --host-side ${side}`), 'closureRadiusMm')
      const share = (bent - straight) * sign * 48 * inch
      expect(share).toBeGreaterThan(1)
      expect(share).toBeLessThan(1.5)
    }
  })

  it('a host that hardly bends gives the straight turnout, and so does one far ahead of its easement', async () => {
    const straight = numberOf(await answer('--frog 6'), 'leadMm')
    expect(numberOf(await answer('--frog 6 --host-radius 100000in'), 'leadMm')).toBeCloseTo(straight, 2)
    const eased = numberOf(await answer('--frog 6 --host-radius 30in --host-easement 12in'), 'leadMm')
    const curved = numberOf(await answer('--frog 6 --host-radius 30in'), 'leadMm')
    expect(eased).toBeLessThan(straight)
    expect(eased).toBeGreaterThan(curved)
    // Behind the easement the host is the arc: what is left ahead of PS is the bend of the stock rail.
    const behind = numberOf(await answer('--frog 6 --host-radius 30in --host-easement 12in --host-station 20in'), 'leadMm')
    expect(behind).toBeCloseTo(curved, 3)
  })

  it('an equal wye is the same on both sides and about twice as easy', async () => {
    const wye = await answer('--kind wye --frog 6')
    const radii = [0, 1].map((i) => numberOf(wye, 'divergences', i, 'radiusMm'))
    expect(radii[0]).toBeCloseTo(radii[1] ?? 0, 6)
    const plain = numberOf(await answer('--frog 6'), 'divergingRadiusMm')
    expect((radii[0] ?? 0) / plain).toBeGreaterThan(1.9)
    expect((radii[0] ?? 0) / plain).toBeLessThan(2.1)
    expect(numberOf(wye, 'legs', 0, 'yMm')).toBeCloseTo(-numberOf(wye, 'legs', 1, 'yMm'), 9)
  })

  it('a diamond of 30° has end frogs of 1/(2 tan 15°) and is told by its number as well', async () => {
    const number = 1 / (2 * Math.tan(Math.PI / 12))
    const byAngle = await answer('--kind diamond --angle 30deg')
    expect(frogNumbers(byAngle).filter((frog) => frog === `vee ${number.toFixed(3)}`)).toHaveLength(2)
    expect(frogNumbers(byAngle).filter((frog) => frog.startsWith('elbow'))).toHaveLength(2)
    const byNumber = await answer(`--kind diamond --frog ${number}`)
    expect(numberOf(byNumber, 'unguardedMm')).toBeCloseTo(numberOf(byAngle, 'unguardedMm'), 6)
    expect(byNumber['isGuided']).toBe(true)
    expect((await answer('--kind diamond --frog 8'))['isGuided']).toBe(false)
    expect(numberOf(await answer('--kind diamond --frog 8 --elbow movable'), 'unguardedMm')).toBe(0)
  })

  it('a square crossing has its few ties askew, none square to either track', async () => {
    const ties = (await answer('--kind diamond --angle 90deg'))['ties'] as readonly { readonly from: Point; readonly to: Point }[]
    expect(ties.length).toBeGreaterThan(3)
    expect(ties.length).toBeLessThan(20)
    for (const { from, to } of ties) expect(Math.abs(to.yMm - from.yMm)).toBeCloseTo(Math.abs(to.xMm - from.xMm), 6)
  })

  it('hands and sides are mirrors of each other', async () => {
    const [left, right] = [await answer('--frog 6 --host-radius 40in'), await answer('--frog 6 --host-radius 40in --hand right')]
    expect(numberOf(right, 'leadMm')).toBeCloseTo(numberOf(left, 'leadMm'), 9)
    expect(numberOf(right, 'leg', 'yMm')).toBeCloseTo(-numberOf(left, 'leg', 'yMm'), 9)
  })

  it('in words it names frogs of a kind with several, and warns of an obtuse frog that guides no wheel', async () => {
    const threeWay = await waybench(...words('turnout --scale HO --kind three-way --frog 6'))
    expect(threeWay.out.match(/^vee /gm)).toHaveLength(3)
    expect(threeWay.out).toContain('Route other')
    const diamond = await waybench(...words('turnout --scale HO --kind diamond --frog 8'))
    expect(diamond.out).toContain('--elbow movable')
  })
})

describe('waybench turnout: options that do not go together', () => {
  const wrong: readonly (readonly [typed: string, says: readonly string[]])[] = [
    ['--kind curved --frog 6', ['--kind curved', '--host-radius 36in', '--points curved']],
    ['--kind straight --frog 6 --host-radius 36in', ['--host-radius with --kind straight', 'curved']],
    ['--kind wye --frog 6 --host-radius 36in', ['its host is straight', 'curved']],
    ['--frog 6 --host-side inside', ['--host-side', '--host-radius']],
    ['--frog 6 --host-radius 36in --host-station 2in', ['--host-station', '--host-easement']],
    ['--frog 6 --host-radius 36in --host-side left', ['--host-side left', 'inside or outside']],
    ['--frog 6 --host-radius 5in', ['--host-radius', 'too sharp', 'would do']],
    ['--frog 6 --share 0.5', ['--share with --kind straight', '--kind wye']],
    ['--kind wye --frog 6 --share 0.95', ['--share', '0.1 and 0.9']],
    ['--frog 6 --second-frog 7', ['--second-frog', '--kind three-way']],
    ['--kind three-way --frog 6 --second-after 80mm', ['--second-after', 'between']],
    ['--kind three-way', ['needs --frog']],
    ['--frog 6 --angle 30deg', ['--angle', 'diamond, single-slip, double-slip']],
    ['--kind diamond', ['--angle 30deg', '--frog 6']],
    ['--kind diamond --frog 6 --angle 30deg', ['give one']],
    ['--kind diamond --angle 120deg', ['--angle 120deg', 'at most 90°']],
    ['--kind diamond --angle 0.5deg', ['--angle', 'at least']],
    ['--kind diamond --frog 6 --points curved', ['--points with --kind diamond', 'Leave it out']],
    ['--kind diamond --frog 6 --second-bends left', ['--second-bends', '--second-radius']],
    ['--kind double-slip --frog 7 --side left', ['--side', '--kind single-slip']],
    ['--kind single-slip --angle 60deg', ['--angle', 'flatter']],
    ['--kind dual-gauge --frog 6', ['--narrow-gauge 10.5mm']],
    ['--frog 6 --narrow-gauge 10.5mm', ['--narrow-gauge', '--kind dual-gauge']],
    ['--kind gantlet --frog 6', ['Did you mean gauntlet?']],
    ['--frog 6 --svg=', ['--svg', 'file name']],
  ]
  it.each(wrong)('%s', async (typed, says) => {
    const { code, out, err } = await waybench(...words(`turnout --scale HO ${typed}`))
    expect(code).toBe(2)
    expect(out).toBe('')
    for (const part of says) expect(err).toContain(part)
  })

  it('a picture that cannot be written leaves nothing behind', async () => {
    const file = join(folder, 'no', 'such', 'folder.svg')
    const { code, err } = await waybench(...words('turnout --scale HO --frog 6'), '--svg', file)
    expect(code).toBe(2)
    expect(err).toContain('cannot be written')
    expect(existsSync(file)).toBe(false)
  })
})
