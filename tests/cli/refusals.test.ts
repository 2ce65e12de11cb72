import { existsSync, mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import type { VerbSpec } from '../../src/cli/args.ts'
import { checkSpec } from '../../src/cli/verbs/check.ts'
import { clearanceSpec } from '../../src/cli/verbs/clearance.ts'
import { crossoverSpec } from '../../src/cli/verbs/crossover.ts'
import { curveSpec } from '../../src/cli/verbs/curve.ts'
import { fairSpec } from '../../src/cli/verbs/fair.ts'
import { fitSpec } from '../../src/cli/verbs/fit.ts'
import { joinSpec } from '../../src/cli/verbs/join.ts'
import { ladderSpec } from '../../src/cli/verbs/ladder.ts'
import { lineSpec } from '../../src/cli/verbs/line.ts'
import { setoutSpec } from '../../src/cli/verbs/setout.ts'
import { sheetsSpec } from '../../src/cli/verbs/sheets.ts'
import { swingSpec } from '../../src/cli/verbs/swing.ts'
import { turnoutSpec } from '../../src/cli/turnout/options.ts'
import { planWrite } from '../../src/formats/planjson.ts'
import { aBenchwork, aBend, aTrack, aTurnout, planWith } from '../support/plans.ts'
import { waybench, words } from '../support/waybench.ts'

const folder = mkdtempSync(join(tmpdir(), 'waybench-'))
const file = (name: string): string => join(folder, name)

const plan = planWith({
  benchworks: [
    aBenchwork({
      name: 'Table',
      outline: [
        { x: -200, y: -800 },
        { x: 3400, y: -800 },
        { x: 3400, y: 2400 },
        { x: -200, y: 2400 },
      ],
    }),
  ],
  tracks: [aBend(), aTrack({ id: 'quay', name: 'Quay', start: { kind: 'free', x: 0, y: -500 }, end: { kind: 'free', x: 2000, y: -500 } })],
  turnouts: [aTurnout({ id: 't1', name: 'Icehouse', track: 'quay', stationMm: 600 })],
})
writeFileSync(file('plan.json'), planWrite(plan))
writeFileSync(
  file('points.csv'),
  ['x,y', ...Array.from({ length: 30 }, (_, i) => `${1000 * Math.sin(i / 20)},${1000 - 1000 * Math.cos(i / 20)}`)].join('\n'),
)
writeFileSync(file('broken.json'), planWrite(plan).replace('"lineClass": "main"', '"lineClass": "express"'))

/** Each verb as it is typed rightly; PLAN, POINTS and OUT stand for files. */
const right: readonly (readonly [spec: VerbSpec, typed: string])[] = [
  [checkSpec, 'check PLAN'],
  [clearanceSpec, 'clearance PLAN --vehicle boxcar-40 --track quay'],
  [crossoverSpec, 'crossover --frog 6 --centres 2in'],
  [curveSpec, 'curve --delta 60deg --radius 30in'],
  [fairSpec, 'fair PLAN --track bend --rounds 1'],
  [fitSpec, 'fit POINTS --tolerance 1mm'],
  [joinSpec, 'join PLAN --from Icehouse --to bend:start'],
  [ladderSpec, 'ladder --frog 6 --centres 2in'],
  [lineSpec, 'line PLAN --track bend'],
  [setoutSpec, 'setout PLAN --track bend --by offset'],
  [sheetsSpec, 'sheets PLAN --turnout t1 --paper a4 --out OUT'],
  [swingSpec, 'swing --radius 30in --length 11in --pivots 8in --width 1.4in'],
  [turnoutSpec, 'turnout --scale HO --frog 6'],
]
const named: Readonly<Record<string, string>> = { PLAN: file('plan.json'), POINTS: file('points.csv'), OUT: file('out.pdf') }
const filled = (typed: readonly string[]): readonly string[] => typed.map((word) => named[word] ?? word)

/** What nobody means, and what one could mean in another place. */
const odd = [
  '',
  ' ',
  'abc',
  '1e3',
  '-5',
  '-5in',
  '0mm',
  '1/0in',
  'NaN',
  'Infinity',
  '9'.repeat(40),
  '12',
  '3 lightyears',
  '0,,1',
  '__proto__',
]

/** What is wrong and where, in words: no key of ours, no code, no trace of the program. */
function isPlain(err: string, about: string): void {
  expect(err, about).toMatch(/^\S.*[.?]\n$/s)
  expect(err, about).not.toMatch(/undefined|\bnull\b|\[object|[{}]|\bat .*\.m?[jt]s:\d+|\b[a-z]+(?:Mm|Rad)\b|\b[a-z]+[A-Z][a-z]+\b/)
}

describe('whatever stands in an option', () => {
  for (const [spec, typed] of right) {
    it(`waybench ${spec.name} answers or says what would be right`, async () => {
      const base = filled(words(typed))
      expect((await waybench(...base)).code).not.toBe(2)
      for (const [name, option] of Object.entries(spec.options)) {
        if (option.value === undefined || name === 'out' || name === 'svg' || name === 'figure') continue
        const at = base.indexOf(`--${name}`)
        const others = at < 0 ? base : base.toSpliced(at, 2)
        for (const value of odd) {
          const about = `${spec.name} --${name} “${value}”`
          // An equals sign holds even what begins with a dash.
          const { code, out, err } = await waybench(...others, `--${name}=${value}`)
          if (code !== 2) continue
          expect(out, about).toBe('')
          isPlain(err.replaceAll(value === '' ? '\u0000' : value, '').replaceAll(folder, ''), about)
          expect(err, about).toMatch(/--|waybench/)
        }
      }
    })

    it(`waybench ${spec.name} without what it needs says so with a sample`, async () => {
      const base = filled(words(typed))
      for (const [name, option] of Object.entries(spec.options)) {
        const at = base.indexOf(`--${name}`)
        if (at < 0 || option.isRequired !== true) continue
        const { code, err } = await waybench(...base.toSpliced(at, 2))
        expect(code).toBe(2)
        expect(err).toContain(`needs --${name}, such as --${name} ${option.value ?? ''}`)
      }
      if (spec.operand === undefined) {
        expect((await waybench(...base, 'stray')).err).toContain('“stray” stands alone')
        return
      }
      expect((await waybench(spec.name, ...base.slice(2))).err).toContain(`needs a ${spec.operand}, such as`)
      expect((await waybench(spec.name, file('none'), ...base.slice(2))).err).toContain('there is no such file')
      expect((await waybench(spec.name, folder, ...base.slice(2))).err).toContain('this is a folder')
    })

    if (spec.operand === 'PLAN') {
      it(`waybench ${spec.name} names the place of a reference that leads nowhere`, async () => {
        const { code, out, err } = await waybench(...filled(words(typed)).with(1, file('broken.json')))
        expect({ code, out }).toEqual({ code: 2, out: '' })
        expect(err).toBe(`${file('broken.json')}: At tracks.bend.lineClass stands the line class “express”, which is not in the file.\n`)
      })
    }
  }

  it('nothing is written where something is wrong', async () => {
    const run = await waybench(...filled(words('sheets PLAN --turnout t1 --paper a4 --out')), file('x.pdf'), '--overlap', '1e3mm')
    expect(run.err).toBe('--overlap 1e3mm: “1e3” is a number with a power of ten; write it out. Right would be: 1000.\n')
    expect(existsSync(file('x.pdf'))).toBe(false)
  })
})

describe('each kind of slip', () => {
  const slips: readonly (readonly [typed: string, says: string])[] = [
    ['curve --delta 60deg --radius 30in --easement 1e2in', 'Right would be: 100.'],
    [
      'curve --delta 20deg --radius 30in --easement 15in',
      '--easement: The easements alone turn 8.65° more than --delta; 115.01 mm (4 17/32 in) of arc is missing.',
    ],
    [
      'swing --radius 30in --length 5in --pivots 6in --width 1in',
      '--pivots: The truck centres lie 152.40 mm (6 in) apart, more than the body is long: 127.00 mm (5 in).',
    ],
    [
      'swing --radius 1in --length 11in --pivots 8in --width 1.4in',
      '--radius: This car cannot stand on a radius of 25.40 mm (1 in); it needs more than',
    ],
    ['turnout --scale HO --frog 60', '--frog: Frog No. 60 is outside of 2 to 30.'],
    ['crossover --frog 6 --centres 1.5in', 'or more would do.'],
    ['ladder --frog 6 --centres 2in --tracks 99', '--tracks 99: it must be a whole number of 1 to 30.'],
    ['fair PLAN --track quay', 'Quay: Nothing turns here: a straight cannot be eased. Choose a track with a curve.'],
    [
      'fair PLAN --track bend --margin 2m',
      'Bend: The benchwork is nowhere as wide as twice the margin of 2000.00 mm (78 47/64 in). A smaller margin would do.',
    ],
    ['line PLAN --track bnd', '--track bnd: the plan has no such track. Did you mean Bend?'],
    ['setout PLAN --track quay --by trammel', 'There is no arc in this stretch'],
    ['join PLAN --from bend --to quay:end', 'say which end of the track, bend:start or bend:end.'],
    ['sheets PLAN --turnout t1 --paper a44 --out OUT', '--paper a44: no such paper. Did you mean a4?'],
  ]
  it.each(slips)('%s', async (typed, says) => {
    const { code, out, err } = await waybench(...filled(words(typed)))
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(err).toContain(says)
  })
})
