import { ANGLE_STEP_RAD, setoutEdges } from '../../core/deliver/index.ts'
import type { EdgeRef, RuleMarks, SetoutBy, SetoutMethod, SetoutRequest, SetoutSubject } from '../../core/deliver/index.ts'
import type { Prefs } from '../../store/types.ts'

/** What is chosen on the sheet. Stretch: all of the track, the curve at a corner, or two typed stations. */
export interface SetoutChoice {
  readonly method: SetoutMethod
  readonly stretch: string
  readonly fromMm: number
  readonly toMm: number
  readonly stepMm: number
  readonly marks: string
  readonly datum: 'TS' | 'PI'
  readonly instrument: 'curves' | 'start'
  readonly edge: string
  readonly stickMm: number
  readonly pinnedMm: number
}

export const methodChoices: readonly { readonly value: SetoutMethod; readonly text: string; readonly how: string }[] = [
  {
    value: 'offset',
    text: 'Offsets from the tangents',
    how: 'Snap a line along the tangent. At each distance along it, measure square to it to the centreline.',
  },
  {
    value: 'chord',
    text: 'Ordinates from a long chord',
    how: 'Stretch a string between the first point and the last, and measure square to it.',
  },
  {
    value: 'edge',
    text: 'From a wall or an edge',
    how: 'Step along the edge from the corner named. At each step hold a square to it and measure across to the centreline.',
  },
  {
    value: 'deflection',
    text: 'Deflection angles and chords',
    how: 'Stand over the point named and look along the tangent. Turn off the angle, and where the chord from the last point meets the sight is the next one.',
  },
  {
    value: 'trammel',
    text: 'Trammel',
    how: 'Pin the bar at the centre, set the radius, and swing the arc between its two directions. x and y count from the origin of the plan, directions anticlockwise from x.',
  },
  {
    value: 'tie-in',
    text: 'Two tapes from fixed corners',
    how: 'Hook tape A and tape B to their corners. Where both read as the table says is the point.',
  },
  {
    value: 'stick',
    text: 'Gauge stick along the line',
    how: 'Hold both ends of the stick to the line. At its middle the line stands off by the mid-ordinate.',
  },
  {
    value: 'lath',
    text: 'Bent lath for easements',
    how: 'Pin the lath at three places on the tangent and at three on the arc. Leave the length between them free: it bends to the easement.',
  },
]

const imperialMarks = { '1/64': 64, '1/32': 32, '1/16': 16 } as const
const metricMarks = { '0.1': 0.1, '0.5': 0.5, '1': 1 } as const

export function marksChoices(units: Prefs['units']): readonly { readonly value: string; readonly text: string }[] {
  return units === 'imperial'
    ? Object.keys(imperialMarks).map((value) => ({ value, text: `${value} in` }))
    : Object.keys(metricMarks).map((value) => ({ value, text: `${value} mm` }))
}

/** The marks chosen; those of the desk when the choice is of other units. */
export function marksOf(value: string, units: Prefs['units']): RuleMarks {
  if (units === 'imperial') return { units, perInch: value in imperialMarks ? imperialMarks[value as keyof typeof imperialMarks] : 64 }
  return { units, stepMm: value in metricMarks ? metricMarks[value as keyof typeof metricMarks] : 0.5 }
}

export function marksValue(marks: RuleMarks): string {
  return marks.units === 'imperial' ? `1/${marks.perInch}` : String(marks.stepMm)
}

/** Stretches by name: the whole track, each curve, or two stations. */
export function stretchChoices({ corners }: SetoutSubject): readonly { readonly value: string; readonly text: string }[] {
  return [
    ...corners.flatMap((place, i) => (place.stMm > place.tsMm ? [{ value: `corner ${i}`, text: `The curve at PI ${i + 1}` }] : [])),
    { value: 'all', text: 'All of the track' },
    { value: 'stations', text: 'Between two stations' },
  ]
}

function stretchOf(choice: SetoutChoice, { corners }: SetoutSubject): { readonly fromMm: number | null; readonly toMm: number | null } {
  if (choice.stretch === 'stations') return choice
  const place = corners.find((_, i) => choice.stretch === `corner ${i}`)
  return place ? { fromMm: place.tsMm, toMm: place.stMm } : { fromMm: null, toMm: null }
}

const edgeKey = ({ table, id, ring, edge }: EdgeRef): string => [table, id, ring, edge].join(' ')

export function edgeChoices(subject: SetoutSubject): readonly { readonly value: string; readonly text: string }[] {
  return [
    { value: 'nearest', text: 'The one that faces it' },
    ...setoutEdges(subject.room).map((edge) => ({ value: edgeKey(edge), text: edge.name })),
  ]
}

export function choiceFirst(subject: SetoutSubject, corner: number | null, prefs: Pick<Prefs, 'units' | 'fraction'>): SetoutChoice {
  const stretches = stretchChoices(subject)
  const asked = stretches.find(({ value }) => corner !== null && value === `corner ${corner}`)
  const isImperial = prefs.units === 'imperial'
  return {
    method: 'offset',
    stretch: (asked ?? stretches[0])?.value ?? 'all',
    fromMm: 0,
    toMm: subject.path.lengthMm,
    stepMm: isImperial ? 76.2 : 100,
    marks: isImperial ? `1/${prefs.fraction}` : '0.5',
    datum: 'TS',
    instrument: 'curves',
    edge: 'nearest',
    stickMm: isImperial ? 304.8 : 300,
    pinnedMm: isImperial ? 152.4 : 150,
  }
}

function byOf(choice: SetoutChoice, subject: SetoutSubject): SetoutBy {
  const kind = choice.method
  switch (kind) {
    case 'offset':
      return { kind, datum: choice.datum }
    case 'edge':
      return { kind, edge: setoutEdges(subject.room).find((edge) => edgeKey(edge) === choice.edge) ?? null }
    case 'deflection':
      return { kind, instrument: choice.instrument }
    case 'stick':
      return { kind, chordMm: choice.stickMm }
    case 'lath':
      return { kind, pinnedMm: choice.pinnedMm }
    case 'chord':
    case 'trammel':
    case 'tie-in':
      return { kind }
  }
}

export function requestOf(choice: SetoutChoice, subject: SetoutSubject, units: Prefs['units']): SetoutRequest {
  return {
    by: byOf(choice, subject),
    ...stretchOf(choice, subject),
    stepMm: choice.stepMm,
    marks: marksOf(choice.marks, units),
    angleStepRad: ANGLE_STEP_RAD,
  }
}
