import type { Args, VerbSpec } from '../args.ts'
import { BadInput } from '../badInput.ts'
import { nearestHint } from '../nearest.ts'
import { benchOptions } from '../turnoutBench.ts'

export const turnoutSpec: VerbSpec = {
  name: 'turnout',
  about: 'a turnout or crossing from gauge and frog number: lead, radii, frogs, rails, ordinates, ties; with --svg its picture',
  options: {
    scale: { value: 'HO', about: 'a scale of the standards, or a ratio such as 1:50' },
    frog: { value: '6', about: 'frog number; 1:9 means the slope. A crossing takes this or --angle' },
    kind: {
      value: 'straight',
      about: 'straight, curved, wye, three-way, stub, diamond, single-slip, double-slip, gauntlet, dual-gauge; by its host when left out',
    },
    hand: { value: 'left', about: 'left or right; left when left out' },
    points: { value: 'straight', about: 'straight or curved points' },
    'point-length': { value: '1.515in', about: 'point of switch to heel, along the rail' },
    'point-thickness': { value: '0.005in', about: 'thickness of the tip' },
    'heel-spread': { value: '0.09in', about: 'gauge line to gauge line at the heel' },
    'entry-angle': { value: '2deg', about: 'angle of a curved point at its tip; tangent when left out' },
    'toe-length': { value: '0.75in', about: 'frog point back to the toe, along the gauge line' },
    'heel-length': { value: '1.2in', about: 'frog point on to the heel of the frog' },
    gauge: { value: '0.65in', about: 'between the rail heads; that of the scale when left out' },
    flangeway: { value: '0.048in', about: 'width of the flangeways' },
    'check-gauge': { value: '0.607in', about: 'guard rail face to frog gauge line' },
    'rail-code': { value: '83', about: 'height of the rail in thousandths of an inch' },
    'frog-definition': { value: 'isosceles', about: 'isosceles: 2 atan(1/2N), tangent: atan(1/N)' },
    'tie-spacing': { value: '0.23in', about: 'of the turnout ties' },
    'standard-tie': { value: '1.17in', about: 'length of a tie of plain track' },
    fouling: { value: '1.75in', about: 'separation of centrelines at the fouling point' },
    'host-radius': { value: '36in', about: 'radius of the track that it lies on, of a crossing the first; straight when left out' },
    'host-side': {
      value: 'inside',
      about: 'inside: the diverging route, or second track, leaves to the inside of that curve; outside; inside when left out',
    },
    'host-easement': { value: '15in', about: 'the host’s curve begins with an easement of this length, and PS at its start' },
    'host-station': { value: '4in', about: 'PS so far behind the start of that easement' },
    share: { value: '0.5', about: 'wye: part of the frog angle by which the route to the turnout’s hand turns; 0.5 when left out' },
    'second-frog': { value: '6', about: 'three-way: frog number of the second route; as the first when left out' },
    'second-after': { value: '4in', about: 'three-way: PS to PS of the second switch; 0, both at one place, when left out' },
    angle: { value: '30deg', about: 'crossing: angle between the tracks' },
    side: { value: 'left', about: 'single slip: side of the slip as seen along the first track; left when left out' },
    elbow: { value: 'fixed', about: 'crossing: obtuse frogs fixed, or movable with points; fixed when left out' },
    'second-radius': { value: '40in', about: 'crossing: radius of the second track; straight when left out' },
    'second-bends': { value: 'left', about: 'crossing: which way the second track bends; left when left out' },
    'narrow-gauge': { value: '10.5mm', about: 'dual gauge: the smaller gauge' },
    common: { value: 'right', about: 'dual gauge: the rail that both gauges share; right when left out' },
    diverging: { value: 'both', about: 'dual gauge: wide, narrow or both; both when left out' },
    ...benchOptions,
    widening: {
      value: '0.2mm',
      about: 'gauge wider by so much between the points and the frog of the diverging route; none when left out',
    },
    svg: { value: 'turnout.svg', about: 'also write a picture of true size' },
  },
  example: 'waybench turnout --scale HO --frog 6',
}

export const turnoutKinds = ['straight', 'curved', 'wye', 'three-way', 'stub', 'gauntlet', 'dual-gauge'] as const
export const crossingKinds = ['diamond', 'single-slip', 'double-slip'] as const
const kindNames = [...turnoutKinds, ...crossingKinds] as const

export type TurnoutKindName = (typeof turnoutKinds)[number]
export type CrossingKindName = (typeof crossingKinds)[number]
type KindName = TurnoutKindName | CrossingKindName

/** Options that only some kinds have. What is not here goes with all of them. */
const onlyFor: Readonly<Record<string, { readonly kinds: readonly KindName[]; readonly because: string }>> = {
  share: { kinds: ['wye'], because: 'only a wye divides its frog angle' },
  'second-frog': { kinds: ['three-way'], because: 'only a three-way turnout has a second route with a frog of its own' },
  'second-after': { kinds: ['three-way'], because: 'only a three-way turnout has a second switch' },
  side: { kinds: ['single-slip'], because: 'only a single slip lies on one side' },
  'narrow-gauge': { kinds: ['dual-gauge'], because: 'only a dual-gauge turnout has a second gauge' },
  common: { kinds: ['dual-gauge'], because: 'only in a dual-gauge turnout two gauges share a rail' },
  diverging: { kinds: ['dual-gauge'], because: 'only in a dual-gauge turnout one gauge may go on alone' },
  ...forAll(
    ['widening'],
    ['straight', 'curved', 'wye', 'three-way', 'stub'],
    'the gauge is widened on a diverging route that has its rails to itself',
  ),
  ...forAll(['angle', 'elbow', 'second-radius', 'second-bends'], crossingKinds, 'it belongs to two tracks that cross'),
  ...forAll(
    ['hand', 'points', 'point-length', 'entry-angle', 'toe-length', 'heel-length', 'fouling', 'ties', 'tie-layout'],
    turnoutKinds,
    'a crossing has no switch of its own to shape: its frogs and slips follow from the tracks that meet',
  ),
  ...forAll(
    ['host-radius', 'host-side', 'host-easement', 'host-station'],
    kindNames.filter((kind) => kind !== 'straight' && kind !== 'wye'),
    'its host is straight',
  ),
}

function forAll(
  options: readonly string[],
  kinds: readonly KindName[],
  because: string,
): Readonly<Record<string, { readonly kinds: readonly KindName[]; readonly because: string }>> {
  return Object.fromEntries(options.map((option) => [option, { kinds, because }]))
}

/** The kind that is asked for, by its name or by its host. Options that do not go with it are refused. Throws BadInput. */
export function kindAsked(args: Args): KindName {
  const typed = args.values.get('kind')?.toLowerCase()
  const isBent = args.values.has('host-radius')
  const kind = typed === undefined || typed === 'plain' ? (isBent ? 'curved' : 'straight') : kindNames.find((name) => name === typed)
  if (kind === undefined)
    throw new BadInput(`--kind ${args.values.get('kind') ?? ''}: there is no such kind. ${nearestHint(typed ?? '', kindNames)}`)
  if (kind === 'curved' && !isBent)
    throw new BadInput(
      '--kind curved: it needs the curve that it lies on, such as --host-radius 36in. (Curved points are --points curved.)',
    )
  for (const option of ['host-side', 'host-easement', 'host-station']) {
    if (args.values.has(option) && !isBent)
      throw new BadInput(`--${option}: it needs the curve that it speaks of, such as --host-radius 36in.`)
  }
  for (const option of args.values.keys()) {
    const rule = Object.hasOwn(onlyFor, option) ? onlyFor[option] : undefined
    if (rule && !rule.kinds.includes(kind))
      throw new BadInput(`--${option} with --kind ${kind}: ${rule.because}. Leave it out, or say --kind ${rule.kinds.join(', ')}.`)
  }
  if (args.values.has('host-station') && !args.values.has('host-easement'))
    throw new BadInput('--host-station: it counts from the start of an easement, such as --host-easement 15in.')
  if (args.values.has('second-bends') && !args.values.has('second-radius'))
    throw new BadInput('--second-bends: it needs the radius of the second track, such as --second-radius 40in.')
  return kind
}

export const isCrossing = (kind: KindName): kind is CrossingKindName => crossingKinds.some((name) => name === kind)
